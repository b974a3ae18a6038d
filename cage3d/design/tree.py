"""YAML as a tree that knows where everything stands.

Built from the event stream, so that depth, size and aliases are limits met while
reading and not accidents afterwards. Scalars stay as they were written: `41 1/2`,
`1:30` and `no` mean what the maker meant, whatever YAML would make of them.
"""

from __future__ import annotations

from typing import Any, Literal

from ruamel.yaml import YAML
from ruamel.yaml.error import MarkedYAMLError, YAMLError
from ruamel.yaml.reader import ReaderError

from cage3d.design.node import Node
from cage3d.design.sayings import SHORTER, as_problem
from cage3d.design.scanner import (
    LONGEST_VALUE,
    BoundedScanner,
)
from cage3d.errors import DesignError, Problem

DEEPEST = 20  # levels; a design has 5
LARGEST = 20_000  # values with aliases written out; 40 hoops on 60 tapes have 2,400 drops
MOST_IN_ONE = 1_000  # values of one list, or keys of one group
MOST_SIGNS = 400_000  # of all values together, as written
MOST_LINES = 100_000
LONGEST_KEY = 200  # signs
NOTHING = ("", "~", "null", "Null", "NULL")  # values that count as not written, unless they stand in quotes


def parse(text: str, where: str) -> Node:
    """The tree of a YAML text; `where` names the file in a Problem. Raises DesignError."""
    refuse_endless(text, where)
    builder, yaml = Builder(where), YAML(typ="safe", pure=True)
    yaml.Scanner = BoundedScanner
    try:
        for event in yaml.parse(text):
            builder.take(event)
    except ReaderError as fault:
        line = text.count("\n", 0, fault.position) + 1
        column = fault.position - text.rfind("\n", 0, fault.position)
        raise DesignError(
            Problem(
                where,
                "",
                "there is a control character that no text holds",
                "Save the file as plain text (UTF-8)",
                line,
                column,
            )
        ) from None
    except MarkedYAMLError as fault:
        raise DesignError(as_problem(fault, where, text)) from None
    except YAMLError:
        raise DesignError(Problem(where, "", "this is not YAML", "Look at one of the samples")) from None
    if builder.root is None or (builder.root.kind == "value" and builder.root.text is None):
        raise DesignError(
            Problem(where, "", "the file holds no design", "Begin one with: cage3d new FILE", 1, 1)
        )
    return builder.root


def refuse_endless(text: str, where: str) -> None:
    """Raises DesignError for more lines than a design has: blank ones take their time too."""
    lines = sum(text.count(sign) for sign in "\n\r\x85\u2028\u2029") - text.count("\r\n")
    if lines > MOST_LINES:
        why = f"the file has {lines} lines, and a design has fewer than {MOST_LINES}"
        raise DesignError(Problem(where, "", why, "Look at one of the samples", 1, 1))


class Builder:
    """Puts events together into nodes."""

    def __init__(self, where: str) -> None:
        self.where = where
        self.root: Node | None = None
        self.stack: list[Node] = []
        self.anchors: dict[str, Node] = {}
        self.documents = 0
        self.signs = 0

    def take(self, event: Any) -> None:
        name = type(event).__name__
        if name == "DocumentStartEvent":
            self.documents += 1
            if self.documents > 1:
                self.refuse(
                    event, "---", "a file holds one design", "Put the second design in a file of its own"
                )
        elif name == "AliasEvent":
            self.put(event, self.aliased(event))
        elif name in ("MappingEndEvent", "SequenceEndEvent"):
            self.close(event)
        elif name in ("ScalarEvent", "MappingStartEvent", "SequenceStartEvent"):
            self.start(event, name)

    def start(self, event: Any, name: str) -> None:
        if event.tag is not None:
            self.refuse(
                event, str(event.tag), "tags have no meaning in a design", "Leave the word with ! out"
            )
        mark = event.start_mark
        kind: Literal["value", "list", "mapping"]
        kind = {"ScalarEvent": "value", "SequenceStartEvent": "list", "MappingStartEvent": "mapping"}[name]  # type: ignore[assignment]
        node = Node(kind, mark.line + 1, mark.column + 1)
        if kind == "value":
            nothing = event.style is None and event.value in NOTHING
            node.text, node.open = (None if nothing else event.value), False
        if event.anchor:
            self.anchors[event.anchor] = node
        self.bound(event, node)
        self.put(event, node)
        if kind != "value":
            self.stack.append(node)
            self.refuse_deeper(event, len(self.stack))

    def bound(self, event: Any, node: Node) -> None:
        """No value, and all values together, longer than a design needs."""
        self.signs += event.end_mark.index - event.start_mark.index if node.kind == "value" else 0
        if node.text is not None and len(node.text) > LONGEST_VALUE:
            self.refuse(event, node.text[:60], f"the value is longer than {LONGEST_VALUE} signs", SHORTER)
        if self.signs > MOST_SIGNS:
            self.refuse(event, "", f"the values hold more than {MOST_SIGNS} signs together", SHORTER)

    def refuse_deeper(self, event: Any, depth: int) -> None:
        if depth > DEEPEST:
            self.refuse(
                event,
                "",
                f"lists stand inside lists more than {DEEPEST} deep",
                "A design needs five levels: look at one of the samples",
            )

    def put(self, event: Any, node: Node) -> None:
        """Hang a node under what is open: as a key, as a key's value, or in a list."""
        if not self.stack:
            self.root = node
            return
        parent = self.stack[-1]
        if parent.kind == "mapping" and len(parent.keys) == len(parent.items):
            if node.kind != "value":
                self.refuse(event, "", "a list or a group cannot be a key", "Write key: value")
            if len(node.text or "") > LONGEST_KEY:
                said = (node.text or "")[:60]
                self.refuse(event, said, f"the key is longer than {LONGEST_KEY} signs", "Write key: value")
            parent.keys.append(node)
        else:
            parent.items.append(node)
            if len(parent.items) > MOST_IN_ONE:
                what = "keys stand in one group" if parent.keys else "values stand in one list"
                self.refuse(event, "", f"more than {MOST_IN_ONE} {what}", "Look at one of the samples")
        self.grow(event, parent, 1 if node.open else node.size)

    def grow(self, event: Any, parent: Node, by: int) -> None:
        parent.size += by
        if sum(node.size for node in self.stack) > LARGEST:
            self.refuse(
                event,
                "",
                f"there are more than {LARGEST} values in the file, aliases counted in full",
                "A design is far smaller: look at one of the samples",
            )

    def close(self, event: Any) -> None:
        node = self.stack.pop()
        node.open = False
        node.depth = 1 + max((item.depth for item in node.items), default=0)
        if self.stack:
            self.grow(event, self.stack[-1], node.size - 1)

    def aliased(self, event: Any) -> Node:
        node = self.anchors.get(event.anchor)
        if node is None:
            self.refuse(
                event,
                f"*{event.anchor}",
                "nothing of that name stands above",
                "Put the value in quotes if * is part of it",
            )
        elif node.open:
            self.refuse(event, f"*{event.anchor}", "the alias holds itself", "Write the values out")
        assert node is not None
        self.refuse_deeper(event, len(self.stack) + node.depth)
        return node

    def refuse(self, event: Any, said: str, why: str, try_this: str) -> None:
        mark = event.start_mark
        raise DesignError(Problem(self.where, said, why, try_this, mark.line + 1, mark.column + 1))

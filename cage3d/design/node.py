"""A value, a list or a mapping of YAML, which knows where it stands."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any, Literal

from cage3d.errors import Problem

Place = tuple[str | int, ...]


@dataclass
class Node:
    """A value, a list or a mapping. line, column: from 1.

    size: values in it, aliases written out; depth: levels of lists and mappings in it.
    """

    kind: Literal["value", "list", "mapping"]
    line: int
    column: int
    text: str | None = None
    items: list[Node] = field(default_factory=list)
    keys: list[Node] = field(default_factory=list)  # of a mapping, beside items
    size: int = 1
    depth: int = 0
    open: bool = True

    def key(self, name: str | int) -> Node | None:
        """The node of a key itself, the first of that name."""
        return next((key for key in self.keys if key.text == name), None)

    def child(self, step: str | int) -> Node | None:
        if self.kind == "list" and isinstance(step, int) and 0 <= step < len(self.items):
            return self.items[step]
        if self.kind == "mapping":
            return next(
                (item for key, item in zip(self.keys, self.items, strict=True) if key.text == step), None
            )
        return None

    def data(self) -> Any:
        """Plain lists, dicts and texts; keys without a value are left out, the first of equal keys wins."""
        if self.kind == "value":
            return self.text
        if self.kind == "list":
            return [item.data() for item in self.items]
        pairs = zip(reversed(self.keys), reversed(self.items), strict=True)
        found = {
            key.text: item.data() for key, item in pairs if item.kind != "value" or item.text is not None
        }
        return dict(reversed(found.items()))


def repeated_keys(root: Node, where: str) -> Iterator[Problem]:
    """A Problem for every key that stands twice in one mapping."""
    todo, done = deque([root]), set()
    while todo:
        node = todo.popleft()
        if id(node) in done:
            continue
        done.add(id(node))
        first: dict[str | None, Node] = {}
        for key in node.keys:
            if key.text in first:
                line = first[key.text].line
                yield Problem(
                    where,
                    str(key.text),
                    f"this key stands twice; it is in line {line} already",
                    "Leave one of the two out",
                    key.line,
                    key.column,
                )
            first.setdefault(key.text, key)
        todo.extend(node.items)

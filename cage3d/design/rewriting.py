"""Some values of a written design changed in its text, and nothing else: comments, order and quotes stay."""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import chain
from typing import Any

from cage3d.design.flow_text import flow_text, scalar_text
from cage3d.design.spans import Span, spans_of
from cage3d.design.tree import parse
from cage3d.errors import CageError, DesignError, Problem

Edit = tuple[int, int, str]  # from, to, what stands there then


def rewritten(text: str, data: dict[str, Any], name: str = "design") -> str:
    """The text of a design that reads as `data`, changed only where it reads otherwise now.

    data: plain dicts, lists and values, as the reader gives them. A value that stands behind an alias is written out
    where it becomes another than the one it is named after. Raises DesignError where the text is no YAML, CageError
    where it is laid out in a way that could not be kept.
    """
    parse(text, name)
    result = edited(text, sorted(Rewriter(text).edits(spans_of(text), data)))
    try:
        kept = same(parse(result, name).data(), data)
    except DesignError:
        kept = False
    if not kept:
        why = "the changed values could not be put into the text as it is laid out"
        raise CageError(Problem(name, "", why, "Write them by hand, or lay the file out as the samples are"))
    return result


def edited(text: str, edits: list[Edit]) -> str:
    """The text with all edits, which are in order and do not overlap."""
    pieces, at = [], 0
    for start, end, new in edits:
        pieces += [text[at:start], new]
        at = end
    return "".join([*pieces, text[at:]])


def same(old: Any, new: Any) -> bool:
    """Whether a tree of texts says what plain data says; keys without a value count for nothing."""
    if isinstance(new, dict):
        told = {key: value for key, value in new.items() if value is not None}
        return (
            isinstance(old, dict)
            and old.keys() == told.keys()
            and all(same(old[key], value) for key, value in told.items())
        )
    if isinstance(new, list):
        return isinstance(old, list) and len(old) == len(new) and all(map(same, old, new))
    return old is None if new is None else isinstance(old, str) and old == str(new)


class Rewriter:
    """Finds the edits between a text and the data it should hold."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.named: dict[
            str, Any
        ] = {}  # what an anchor's value is after the edits; anchors that go are not in it

    def edits(self, span: Span, new: Any) -> Iterator[Edit]:
        """What changes where `span` stands, so that it reads as `new`."""
        if span.alias:
            if span.anchor not in self.named or not equal(self.named[span.anchor], new):
                yield span.start, span.end, flow_text(new, span.column)
            return
        if span.kind == "list" and isinstance(new, list):
            yield from self.list_edits(span, new)
        elif span.kind == "mapping" and isinstance(new, dict):
            yield from self.mapping_edits(span, new)
        elif span.kind != "value" or not same(span.text, new):
            yield self.replaced(span, new)
        if span.anchor:
            self.named[span.anchor] = new

    def replaced(self, span: Span, new: Any) -> Edit:
        """Other signs for the whole of it; its own name stays, and those inside go."""
        for anchor in anchors_in(span):
            self.named.pop(anchor, None)
        written = self.text[span.start : span.end]
        end = span.start + len(written.rstrip("\r\n"))  # a text in lines of its own holds their ends
        own = re.match(r"&\S+\s*", written)
        start = span.start + (own.end() if own else 0)
        before = self.text[start - 1 : start]
        blank = "" if not before or before in " \t\n[{," else " "
        if span.kind == "value" and not isinstance(new, (list, dict)):
            return start, end, blank + scalar_text(new, self.text[start : start + 1])
        return start, end, blank + flow_text(new, span.column)

    def list_edits(self, span: Span, new: list[Any]) -> Iterator[Edit]:
        kept, more = span.items[: len(new)], new[len(span.items) :]
        other_kind = any(
            (item.kind == "value") == isinstance(value, (list, dict))
            for item, value in zip(kept, new, strict=False)
        )
        if (not kept and (span.items or more)) or other_kind:
            yield self.replaced(span, new)
            return
        for item, value in zip(kept, new, strict=False):
            yield from self.edits(item, value)
        if len(kept) < len(span.items):
            for item in span.items[len(kept) :]:
                self.forget(item)
            ends = kept[-1].end, span.items[-1].end
            yield (*ends, "") if span.flow else (self.line_end(ends[0]), self.line_end(ends[1]), "")
        elif more and span.flow:
            yield kept[-1].end, kept[-1].end, "".join(f", {flow_text(value, span.column)}" for value in more)
        elif more:
            yield self.below(span, kept[-1], [f"- {flow_text(value, span.column + 2)}" for value in more])

    def mapping_edits(self, span: Span, new: dict[str, Any]) -> Iterator[Edit]:
        pairs = list(zip(span.keys, span.items, strict=True))
        kept = [(key, item) for key, item in pairs if new.get(str(key.text)) is not None]
        gone = [
            pair
            for pair in pairs
            if pair not in kept and (pair[1].kind != "value" or pair[1].text is not None)
        ]
        old = {key.text for key in span.keys}
        more = {key: value for key, value in new.items() if key not in old and value is not None}
        if not kept and not (gone or more):
            return
        if not kept or (gone and (span.flow or any(not self.begins_line(key) for key, _ in gone))):
            yield self.replaced(span, {key: value for key, value in new.items() if value is not None})
            return
        for key, item in kept:
            yield from self.edits(item, new[str(key.text)])
        for key, item in gone:
            self.forget(item)
            yield self.text.rfind("\n", 0, key.start) + 1, self.line_end(item.end) + 1, ""
        lines = [f"{scalar_text(key)}: {flow_text(value, span.column + 2)}" for key, value in more.items()]
        if lines and span.flow:
            yield kept[-1][1].end, kept[-1][1].end, "".join(f", {line}" for line in lines)
        elif lines:
            yield self.below(span, kept[-1][1], lines)

    def below(self, span: Span, last: Span, lines: list[str]) -> Edit:
        """Lines put below the last of a block's items."""
        at = self.line_end(last.end)
        return at, at, "".join(f"\n{' ' * span.column}{line}" for line in lines)

    def line_end(self, at: int) -> int:
        """Where the line ends in which the sign before `at` stands."""
        found = self.text.find("\n", max(at - 1, 0))
        return len(self.text) if found < 0 else found

    def begins_line(self, span: Span) -> bool:
        return not self.text[self.text.rfind("\n", 0, span.start) + 1 : span.start].strip()

    def forget(self, span: Span) -> None:
        """Names of what goes away name nothing any more."""
        for anchor in chain(anchors_in(span), [span.anchor] if span.anchor and not span.alias else []):
            self.named.pop(anchor, None)


def equal(one: Any, other: Any) -> bool:
    """Whether two plain data say the same, numbers as they are written."""
    return flow_text(one) == flow_text(other)


def anchors_in(span: Span) -> Iterator[str]:
    """Names given inside a list or mapping."""
    for inner in chain(span.keys, () if span.alias else span.items):
        if inner.anchor and not inner.alias:
            yield inner.anchor
        yield from anchors_in(inner)

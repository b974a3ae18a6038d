"""Where every value of a YAML text stands, sign by sign, so that one can be changed and all else stays.

For texts that `design.tree` has read: limits and faults are its concern.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from typing import Any, Literal

from ruamel.yaml import YAML

from cage3d.design.tree import NOTHING


@dataclass
class Span:
    """A value, a list or a mapping with the place of its signs in the text.

    start, end: offsets of what stands there; of a block, from its first item to the end of its last.
    """

    kind: Literal["value", "list", "mapping"]
    start: int
    end: int
    column: int  # of its first sign, from 0
    text: str | None = None
    flow: bool = True  # a list or mapping in brackets
    items: list[Span] = field(default_factory=list)
    keys: list[Span] = field(default_factory=list)  # of a mapping, beside items
    anchor: str | None = None
    alias: bool = False  # what stands there is *name; items are those of the value it names

    def item(self, key: str) -> Span | None:
        """The value of a key of this mapping, the first of that name."""
        return next(
            (item for name, item in zip(self.keys, self.items, strict=True) if name.text == key), None
        )


def spans_of(text: str) -> Span:
    """The whole of a text that holds one list or mapping."""
    events = YAML(typ="safe", pure=True).parse(text)
    named: dict[str, Span] = {}
    return next(span for event in events if (span := span_from(event, events, named)) is not None)


def span_from(event: Any, events: Iterator[Any], named: dict[str, Span]) -> Span | None:
    """What begins with this event; None for an event that begins nothing."""
    name, mark = type(event).__name__, event.start_mark
    if name == "AliasEvent":
        return replace(named[event.anchor], start=mark.index, end=event.end_mark.index, alias=True)
    if name == "ScalarEvent":
        nothing = event.style is None and event.value in NOTHING
        span = Span("value", mark.index, event.end_mark.index, mark.column, None if nothing else event.value)
    elif name in ("MappingStartEvent", "SequenceStartEvent"):
        kind: Literal["list", "mapping"] = "mapping" if name == "MappingStartEvent" else "list"
        span = Span(kind, mark.index, mark.index, mark.column, flow=bool(event.flow_style))
        fill(span, events, named)
    else:
        return None
    span.anchor = event.anchor
    if event.anchor:
        named[event.anchor] = span
    return span


def fill(span: Span, events: Iterator[Any], named: dict[str, Span]) -> None:
    """All up to the end of a list or mapping that has just begun."""
    for event in events:
        inner = span_from(event, events, named)
        if inner is None:  # its end; a block's own end mark lies past the comments that follow it
            span.end = (
                event.end_mark.index if span.flow else max(one.end for one in (*span.keys, *span.items))
            )
            return
        is_key = span.kind == "mapping" and len(span.keys) == len(span.items)
        if not is_key and span.keys and inner.kind == "value" and inner.start == inner.end:
            # The reader puts a value that is not written where the next thing begins.
            inner.start = inner.end = span.keys[-1].end + 1
        (span.keys if is_key else span.items).append(inner)

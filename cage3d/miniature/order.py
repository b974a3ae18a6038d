"""A miniature as it is ordered: scale, process, parts, bed, and in which kind."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from cage3d.miniature.process import Bed, Process, Scale, parse_parts, parse_scale, process_of


@dataclass(frozen=True)
class Order:
    """What a maker asks for, as she writes it; what is asked of it raises CommandError where it cannot be.

    scale: '1:6'; process: 'filament', 'resin' or 'powder'; parts: names out of PARTS, all but the
    form where none are given; bed: '220x220x250' in mm, None for the usual one of the process;
    split: cut it where it is too large for the bed, with pins; flat: None leaves it to the process.
    """

    scale: str
    process: str
    parts: Sequence[str] | None = None
    bed: str | None = None
    split: bool = False
    flat: bool | None = None

    @property
    def at(self) -> Scale:
        return parse_scale(self.scale)

    @property
    def way(self) -> Process:
        return process_of(self.process)

    @property
    def asked(self) -> tuple[str, ...]:
        return parse_parts(self.parts)

    @property
    def room(self) -> Bed:
        return self.way.room(self.bed)

"""The way back for people who write Python: from the shape that is wanted to the cage that has it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from cage3d.design.faults import printable
from cage3d.design.putting import plain
from cage3d.door.hung import HungCage
from cage3d.door.written import WrittenCage, read_data
from cage3d.errors import CageError, Problem
from cage3d.steady import fixed
from cage3d.study.aiming.way_back import Asked, off_by, sought, usual_step, wanted_outlines, why_unmet
from cage3d.study.aiming.writing import data_with
from cage3d.units import UnitError, length, show_mm


@dataclass(frozen=True, repr=False, eq=False)
class AimedCage:
    """The cage that has the wanted shape, or comes nearest: ask `reached`."""

    hung: HungCage  # settled anew with the numbers that are written
    off: Mapping[str, float]  # m by figure ("hoop 4 height front"), settled less wanted
    within: float  # m
    reasons: tuple[str, ...]  # why what is not reached is not
    settlings: int = field(default=0)

    @property
    def cage(self) -> WrittenCage:
        """The cage as it is to be cut and marked."""
        return self.hung.cage

    @property
    def reached(self) -> bool:
        """Whether it is an answer, and every wanted figure within what was asked."""
        return self.hung.trusted and max(map(abs, self.off.values())) <= self.within

    def __repr__(self) -> str:
        farthest = max(self.off, key=lambda name: float(fixed(abs(self.off[name]), 6)))
        told = "reached" if self.reached else "not reached"
        return (
            f"<AimedCage '{self.cage.name}': {told}, farthest off is {farthest} by "
            f"{show_mm(abs(self.off[farthest]))} mm>"
        )


def aimed(
    cage: WrittenCage,
    wanted: Sequence[Mapping[str, Any]] | None,
    keep: Sequence[str],
    free: Sequence[str],
    each_tape: bool,
    within: Any,
    outline: str | Path | None,
    scale: float | None,
) -> AimedCage:
    """See `WrittenCage.aim`."""
    asking = cage if wanted is None else cage.with_values({"wanted": [dict(one) for one in wanted]})
    asked = Asked(
        keep,
        free,
        each_tape,
        usual_step(asking.design),
        metres(within, asking.design.units),
        None if outline is None else Path(outline),
        scale,
    )
    exact, found = sought(asking.design, wanted_outlines(asking.design, asked), asked, cage.name)
    data = data_with(plain(asking.written), asking.design, found.design, asked.step)
    hung = read_data(data).settle()
    figures = off_by(hung.settled, found.wishes)
    off = {wish.figure.name: float(one) for wish, one in zip(found.wishes, figures, strict=True)}
    return AimedCage(hung, off, asked.within, why_unmet(exact, asked), found.settlings + 1)


def metres(within: Any, units: str | None) -> float:
    """m of a length as written. Raises CageError."""
    try:
        return length(within, units)
    except UnitError as fault:
        raise CageError(Problem("within", printable(str(within)), fault.why, fault.try_this)) from None

"""A fitting weighed: what is likely wrong with a hung cage, and what to mend."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from cage3d import backward
from cage3d.design.faults import printable
from cage3d.errors import CageError, Problem
from cage3d.report.view import as_text
from cage3d.study.truing.answer import TrueAnswer
from cage3d.study.truing.answer_json import answer_json
from cage3d.study.truing.told import answer_view
from cage3d.study.truing.truing import Limits
from cage3d.units import UnitError, length


@dataclass(frozen=True, repr=False, eq=False)
class TruedCage:
    """What a fitting record tells of a cage; `causes` and `corrections` are as `cage3d true --json` has them, in m."""

    answer: TrueAnswer

    def __repr__(self) -> str:
        lines = [f"{self.answer.design.name}: {'explained' if self.explained else 'not explained'}"]
        return "\n".join([*lines, *(cause["text"] for cause in self.causes[:1])])

    @property
    def explained(self) -> bool:
        """Whether some error, or ordinary sewing, fits what was measured."""
        return self.answer.explained

    @property
    def causes(self) -> list[dict[str, Any]]:
        """What may be wrong, likeliest first: what, tape, hoop, change_m, probability, text."""
        return list(self.data["causes"])

    @property
    def corrections(self) -> list[dict[str, Any]]:
        """The fewest that level the hem: what, tape, hoop, move_m, text; none where none is needed or explained."""
        mending = self.data["mending"]
        return list(mending["corrections"]) if mending else []

    @property
    def data(self) -> dict[str, Any]:
        """What `cage3d true --json` prints, `written` and `problems` apart."""
        return answer_json(self.answer)

    @property
    def text(self) -> str:
        """What `cage3d true` prints."""
        return as_text(answer_view(self.answer), "utf-8")


def true(
    path: str | Path,
    measured: str | Path,
    keep: Sequence[str] = (),
    level: str = "1/4 in",
    bare: bool = False,
) -> TruedCage:
    """What is likely wrong with the cage of a design, from its fitting record (CSV) filled in.

    keep: names of what cannot be moved any more, such as "hoop 2 tape 5"; level: how far the hem may lie out of its
    line; bare: measured without the skirt. What errors would do is kept beside the design. Raises CageError.
    """
    try:
        limit = length(level)
    except UnitError as fault:
        raise CageError(Problem("level", printable(str(level)), fault.why, fault.try_this)) from None
    names = [keep] if isinstance(keep, str) else list(keep)
    return TruedCage(backward.true_of(Path(path), Path(measured), Limits(names, limit), bare))

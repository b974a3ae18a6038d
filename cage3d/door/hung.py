"""A cage as it hangs: its figures, its files, and how it shows itself."""

from __future__ import annotations

import math
import textwrap
from collections.abc import Collection
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import Any

import numpy as np

from cage3d import flow
from cage3d.design.faults import printable
from cage3d.door.written import WrittenCage
from cage3d.errors import CageError, Problem
from cage3d.report import CertaintyReport, Report, measure, report_json, report_text, why_not
from cage3d.report.summary import summary
from cage3d.report.view import proof_line
from cage3d.results import RESULTS, Result
from cage3d.settle import SettledCage
from cage3d.shape.arrays import Floats
from cage3d.units import length, unit_name
from cage3d.write.folder import Folder

WIDTH = 100  # signs of a line in which a cage shows itself
FINEST = 6  # decimals of a metre that figures are rounded to: what the last bits of a machine do stays hidden


@dataclass(frozen=True, repr=False, eq=False)
class HungCage:
    """How a written cage hangs. Figures are there only where it is `trusted`: settled and stable.

    Hoops count from the top, tapes from centre front round by the wearer's left; x to her left, y to her back, z up
    from the floor.
    """

    cage: WrittenCage
    settled: SettledCage  # the whole state, for mechanics of one's own

    def __repr__(self) -> str:
        lines = [f"{self.cage.name}: {len(self.cage.design.hoops)} hoops on {self.cage.carriers}"]
        if self.trusted:
            lines[0] += ", settled and stable."
            return "\n".join([*lines, *summary(self.report)[:3], self._warnings_line()])
        return "\n".join([*lines, proof_line(self._measured), *map(str, self.why_not)])

    def _repr_html_(self) -> str:
        from cage3d.door.notebook import cage_html

        return cage_html(self)

    @property
    def trusted(self) -> bool:
        """Whether this is an answer: all forces balance, and the cage stays in this shape."""
        return self.settled.trusted

    @property
    def why_not(self) -> tuple[Problem, ...]:
        """What was tried and where it failed; empty where the cage is trusted."""
        return () if self.trusted else (why_not(self.settled, self.cage.name),)

    def heights(self, unit: str = "m") -> Floats:
        """(hoops, 4) above the floor: front, her left, back, her right, of the middle of the steel.

        Raises NotSettledError for a cage that is no answer, CageError for a unit that is none.
        """
        hoops = self._proved().hoops
        return in_unit(
            [[h.height_front_m, h.height_left_m, h.height_back_m, h.height_right_m] for h in hoops], unit
        )

    def widths(self, unit: str = "m") -> Floats:
        """(hoops, 2): side to side, front to back. Raises as `heights`."""
        return in_unit([[h.width_side_side_m, h.width_front_back_m] for h in self._proved().hoops], unit)

    def heights_within(self, unit: str = "m") -> Floats:
        """(hoops, 4): what `heights` come out within, up or down, nine times in ten. Raises as `heights`."""
        return in_unit([hoop.heights for hoop in self._sure().hoops], unit)

    def widths_within(self, unit: str = "m") -> Floats:
        """(hoops, 2): the same of `widths`. Raises as `heights`."""
        return in_unit([hoop.widths for hoop in self._sure().hoops], unit)

    @property
    def tilt(self) -> Floats:
        """(hoops,) degrees from level. Raises NotSettledError."""
        return rounded([hoop.tilt_deg for hoop in self._proved().hoops], FINEST - 2)

    @property
    def crossings(self) -> Floats:
        """(hoops, tapes, 3) m, where tapes cross hoops; nan where they do not. Raises NotSettledError."""
        flow.proved(self.settled, self.cage.name)
        joined = self.settled.cage.connectivity
        places = self.settled.positions[joined.crossing]
        return np.asarray(np.where(joined.passed[:, :, None], places, np.nan))

    @property
    def warnings(self) -> tuple[str, ...]:
        """What the maker should mind, as `cage3d check` says it."""
        return tuple(warning.text for warning in self.report.warnings)

    @cached_property
    def report(self) -> Report:
        """Every figure by name, and every warning with its code."""
        return flow.foretold(self.settled)

    @property
    def text(self) -> str:
        """What `cage3d check` prints. Raises NotSettledError."""
        flow.proved(self.settled, self.cage.name)
        return report_text(flow.vouched(self.report, self.cage.name))

    @property
    def data(self) -> dict[str, Any]:
        """What `cage3d check --json` prints, `problems` apart: m, N, kg. Raises NotSettledError."""
        flow.proved(self.settled, self.cage.name)
        return report_json(flow.vouched(self.report, self.cage.name))

    def write(self, into: str | Path, parts: Collection[str] | None = None, force: bool = False) -> flow.Made:
        """Everything that follows from the cage, into a folder: what was `written`, and what `failed`.

        parts: names of RESULTS, such as ["report", "page"]; None: all. force: also over files that are not ours or
        were changed. Raises NotSettledError, OutputError.
        """
        return flow.make_of(self.settled, Folder(Path(into), force), results_named(parts))

    @cached_property
    def _measured(self) -> Report:
        return measure(self.settled)

    def _proved(self) -> Report:
        flow.proved(self.settled, self.cage.name)
        return self._measured

    def _sure(self) -> CertaintyReport:
        self._proved()
        found = self.report.certainty
        if found is None:
            raise ValueError("a report that is foretold tells how sure its figures are")
        return found

    def _warnings_line(self) -> str:
        if not self.warnings:
            return "No warnings."
        first, more = self.warnings[0], len(self.warnings) - 1
        tail = f" And {more} more." if more else ""
        return textwrap.shorten(f"Warning 1: {first}", WIDTH - len(tail), placeholder=" ...") + tail


def make(
    path: str | Path, into: str | Path, parts: Collection[str] | None = None, force: bool = False
) -> flow.Made:
    """Everything that follows from the design in a file, into a folder. See `HungCage.write`. Raises CageError."""
    return flow.make(Path(path), Folder(Path(into), force), results_named(parts))


def results_named(names: Collection[str] | None) -> tuple[Result, ...]:
    """The results of these names, in the order they are made. Raises CageError for a name that is none."""
    known = {result.name: result for result in RESULTS}
    wanted = known if names is None else [names] if isinstance(names, str) else list(names)
    wrong = [str(name) for name in wanted if name not in known]
    if wrong:
        raise CageError(
            [
                Problem("parts", printable(name), "there is no such part", f"Write {', '.join(known)}")
                for name in wrong
            ]
        )
    return tuple(result for name, result in known.items() if name in wanted)


def in_unit(metres: Any, unit: str) -> Floats:
    """The same lengths in a unit, rounded to some microns. Raises CageError for what is no unit of length."""
    name = unit_name(str(unit))
    if name is None:
        said = printable(str(unit))
        raise CageError(Problem("unit", said, "this is no unit of length", "Write in, ft, yd, mm, cm or m"))
    one = length(f"1 {name}")
    return rounded(np.asarray(metres) / one, FINEST + round(math.log10(one)))


def rounded(values: Any, digits: int) -> Floats:
    """To so many decimals, and never -0."""
    return np.asarray(np.round(values, digits) + 0.0, dtype=np.float64)

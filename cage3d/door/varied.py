"""Variants of a written cage, settled: `vary`, and what came of it."""

from __future__ import annotations

from collections.abc import Iterator
from concurrent.futures import Executor
from dataclasses import dataclass
from functools import cached_property
from numbers import Integral
from pathlib import Path
from typing import Any

import numpy as np

from cage3d.design.faults import printable
from cage3d.door.hung import HungCage, in_unit, rounded
from cage3d.door.written import WrittenCage, refuse_nodes
from cage3d.errors import CageError, Problem
from cage3d.results.varied import Swept, write_varied
from cage3d.shape.arrays import Floats
from cage3d.study.processes import processes
from cage3d.study.sweeping.ranges import steps_of
from cage3d.study.sweeping.sweep import Sweep
from cage3d.study.sweeping.told import Told
from cage3d.study.sweeping.varied_json import varied_json
from cage3d.study.sweeping.varied_view import title_lines
from cage3d.study.sweeping.vary import Varied
from cage3d.study.sweeping.vary import vary as vary_sweep
from cage3d.wording import nearest
from cage3d.write.folder import Folder

DIGITS = 6


@dataclass(frozen=True, repr=False, eq=False)
class VariantCage:
    """One variant. Its figures are there only where it is an answer: ask `hangs`."""

    name: str  # '66 in', of two figures '66 in, 20 in'
    values: tuple[float, ...]  # of the figures that vary, in SI
    varied: Varied
    number: int  # from 0, in the order of all

    def __repr__(self) -> str:
        return f"<VariantCage {self.name}: {'hangs' if self.hangs else f'no answer, {self.why}'}>"

    @property
    def told(self) -> Told:
        return self.varied.told[self.number]

    @property
    def hangs(self) -> bool:
        return bool(self.told.figures)

    @property
    def why(self) -> str:
        """Why it is no answer; empty where it is one."""
        return self.told.why

    @property
    def figures(self) -> dict[str, float | None]:
        """By name, in SI; empty where it is no answer."""
        return dict(self.told.figures)

    @property
    def warnings(self) -> tuple[str, ...]:
        return tuple(text for _, text in self.told.warnings)

    @cached_property
    def cage(self) -> WrittenCage:
        """The design as written. Raises DesignError where the rules refuse it."""
        from cage3d.door.written import read_data

        return read_data(self.varied.sweep.data_of(self.number))

    @cached_property
    def hung(self) -> HungCage:
        """The cage as it hangs. Raises DesignError where the rules refuse the design."""
        return HungCage(self.cage, self.varied.settled(self.number))


@dataclass(frozen=True, repr=False, eq=False)
class VariedCages:
    """All variants, counted along the first figure and then along the second."""

    varied: Varied

    def __repr__(self) -> str:
        said = " ".join(title_lines(self.varied))
        return f"<VariedCages of '{self.varied.sweep.design.name}'. {said}>"

    def __len__(self) -> int:
        return self.varied.sweep.count

    def __getitem__(self, number: int) -> VariantCage:
        place = range(len(self))[number]
        sweep = self.varied.sweep
        pairs = zip(sweep.steps, sweep.places(place), strict=True)
        return VariantCage(
            sweep.name(place), tuple(steps.value(at) for steps, at in pairs), self.varied, place
        )

    def __iter__(self) -> Iterator[VariantCage]:
        return (self[number] for number in range(len(self)))

    @property
    def shape(self) -> tuple[int, ...]:
        """How many values each figure takes."""
        return tuple(steps.count for steps in self.varied.sweep.steps)

    def figure(self, name: str, unit: str = "m") -> Floats:
        """One figure of all variants, in `shape`; nan where there is no answer.

        unit: for lengths, whose names end in _m; others are in SI. Raises CageError for a name or unit that is none.
        """
        known = [one for told in self.varied.told for one in told.figures]
        if name not in known:
            like = nearest(name, dict.fromkeys(known))
            try_this = (
                f"Did you mean {like}?" if like else "Write hem_lowest_m or hoop_2_tilt_deg, for instance"
            )
            raise CageError(Problem("figure", printable(name), "no variant has such a figure", try_this))
        values = [told.figures.get(name) for told in self.varied.told]
        flat = np.array([np.nan if value is None else value for value in values])
        flat = in_unit(flat, unit) if name.endswith("_m") else rounded(flat, DIGITS)
        return flat.reshape(self.shape[::-1]).T

    @property
    def data(self) -> dict[str, Any]:
        """What `cage3d vary --json` prints, `sure`, `written` and `problems` apart: m, N, kg."""
        told = varied_json(self.varied, None)
        del told["sure"]
        return told

    def write(self, into: str | Path, force: bool = False) -> Swept:
        """Table, curves, contact sheet and page into a folder: what was `written`, and `notes`. Raises CageError."""
        return write_varied(self.varied, Folder(Path(into), force))


def vary(
    cage: WrittenCage,
    *figures: str,
    executor: Executor | None = None,
    jobs: int = 1,
    nodes: int | None = None,
) -> VariedCages:
    """The cage while one figure, or two, go through a range; each variant hangs as it would settled alone.

    figures: as on the command line, "hoop 4 length 66..78 by 2". executor: any of `concurrent.futures`, or one that
    behaves so, such as a cluster's; jobs: processes of its own instead. nodes: as `WrittenCage.settle` has them. The
    answers are the same to the last bit whoever works them out. Raises CageError for figures and ranges that are none.
    """
    refuse_nodes(nodes)
    if not isinstance(jobs, Integral) or isinstance(jobs, bool) or jobs < 1:
        why = "this is no number of processes"
        raise CageError(Problem("jobs", printable(str(jobs)), why, "Write 2, for instance"))
    sweep = Sweep(cage.design, cage.written, steps_of(cage.design, figures))
    if executor is not None:
        return VariedCages(vary_sweep(sweep, executor, nodes=nodes))
    with processes(min(int(jobs), sweep.stretch_count)) as own:
        return VariedCages(vary_sweep(sweep, own, nodes=nodes))

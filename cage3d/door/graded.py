"""One design for many wearers: their cages as they hang, and the order for all of them."""

from __future__ import annotations

import csv
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from io import StringIO
from pathlib import Path
from typing import Any

from cage3d.design.faults import printable
from cage3d.design.read import read, text_as_written
from cage3d.door.hung import HungCage
from cage3d.door.written import WrittenCage
from cage3d.errors import CageError, Problem
from cage3d.orders.run import Ask, Done, cages_for, checked, make_all, rows_for
from cage3d.orders.telling import order_json, order_view
from cage3d.report.view import as_text
from cage3d.results import RESULTS
from cage3d.sheets.order import Order, Refused, order_of, ordered
from cage3d.study.grading.grade import Graded, How, Pattern, pattern_of
from cage3d.study.grading.wearers import Entry, wearers_of
from cage3d.units import UnitError, length
from cage3d.write.folder import Folder


@dataclass(frozen=True, repr=False, eq=False)
class GradedCages:
    """The cages of all wearers who could be served, by code; the others with their problems."""

    pattern: Pattern
    how: How
    rows: tuple[Entry, ...]
    graded: tuple[Graded, ...]
    left_out: tuple[Refused, ...]

    def __repr__(self) -> str:
        said = f"<GradedCages of '{self.pattern.design.name}': {', '.join(self.cages)}"
        return f"{said}; none for {', '.join(self.refused)}>" if self.refused else f"{said}>"

    def __getitem__(self, code: str) -> HungCage:
        return self.cages[code]

    @cached_property
    def cages(self) -> dict[str, HungCage]:
        """By code, in the order of the list."""
        return {
            one.row.code: HungCage(WrittenCage(*text_as_written(one.text, one.row.code)), one.settled)
            for one in self.graded
        }

    @property
    def texts(self) -> dict[str, str]:
        """Her design as text, with the remarks of the design it was graded from."""
        return {one.row.code: one.text for one in self.graded}

    @property
    def refused(self) -> dict[str, tuple[Problem, ...]]:
        """Why somebody could not be served."""
        return {one.row.code: one.problems for one in self.left_out}

    @cached_property
    def order(self) -> Order:
        """Cutting, materials and quote of all cages. Raises CageError where they cannot be cut, or there are none."""
        if not self.graded:
            raise CageError([problem for one in self.left_out for problem in one.problems])
        cages = [ordered(one, checked(one)) for one in self.graded]
        return order_of(self.pattern.design, cages, self.left_out)

    @property
    def text(self) -> str:
        """What `cage3d grade` prints."""
        return as_text(order_view(self.order))

    @property
    def data(self) -> dict[str, Any]:
        """What `cage3d grade --json` prints, `written` and `problems` apart: m, and the design's currency."""
        return order_json(self.order)

    def write(self, into: str | Path, designs_only: bool = False, force: bool = False) -> Done:
        """A folder for each wearer and the order for all: what was `written`, and what `failed`.

        Raises OutputError where something is in the way; nothing is then written.
        """
        ask = Ask(self.how, () if designs_only else RESULTS)
        return make_all(self.pattern, self.rows, Folder(Path(into), force), ask, lambda _what: None)


def grade(
    path: str | Path,
    wearers: str | Path | Sequence[Mapping[str, Any]] | None = None,
    waists: str | None = None,
    *,
    refit: bool = False,
    share: bool = False,
    to: str | None = None,
) -> GradedCages:
    """One design for many wearers, as `cage3d grade`.

    path: of the design. wearers: a table (CSV), or one dict a wearer with the table's columns as keys; or waists, a
    range such as "24..36 by 2". refit: every silhouette aimed anew; share: her height goes into all drops; to: what
    drops are rounded to. Raises CageError where the design or the list is at fault; who cannot be served is `refused`.
    """
    design = read(path)
    if wearers is None or isinstance(wearers, (str, Path)):
        rows = rows_for(design, None if wearers is None else Path(wearers), waists)
    else:
        rows = wearers_of(as_table(wearers), "wearers", design.units)
    how, pattern = How(refit, share, step_of(to, design.units)), pattern_of(path)
    graded, left_out = cages_for(pattern, rows, how, lambda _what: None)
    return GradedCages(pattern, how, rows, tuple(graded), tuple(left_out))


def as_table(wearers: Sequence[Mapping[str, Any]]) -> str:
    """Dicts as a table (CSV), so that they are read like one."""
    heads = list(dict.fromkeys(str(key) for one in wearers for key in one))
    text = StringIO()
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow(heads or ["code", "waist"])
    writer.writerows(["" if one.get(head) is None else one[head] for head in heads] for one in wearers)
    return text.getvalue()


def step_of(text: str | None, units: str | None) -> float | None:
    """m. Raises CageError for what is no length."""
    if text is None:
        return None
    try:
        return length(text, units)
    except UnitError as fault:
        raise CageError(Problem("to", printable(text), fault.why, fault.try_this)) from None

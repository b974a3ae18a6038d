"""Many cages made at once: one order of cutting, one list to buy from, one quote."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from cage3d.design.models import Design
from cage3d.errors import Problem
from cage3d.report.record import Report
from cage3d.sheets.cloth_layout import ClothLayout, laid_on_cloth
from cage3d.sheets.cutting import CuttingPlan, plan_cutting
from cage3d.sheets.gores import gore_sets
from cage3d.sheets.material import Material, counted, measured
from cage3d.sheets.materials import materials
from cage3d.sheets.quote import Quote, quote_of
from cage3d.sheets.steel import SteelCut, cutting_list
from cage3d.sheets.steel_materials import steel_row
from cage3d.sheets.tapes import TapeSet, tape_sets
from cage3d.sheets.waistband import BandCut, band_cut
from cage3d.sheets.writing import Writing, plural
from cage3d.study.grading.grade import Graded
from cage3d.study.grading.wearers import Entry

SAME = 1e-6  # m, two hoops that are one length
WHOLE = "buckle"  # the one thing of which none is spare
BY_CAGE = ("tie", "lacing", "cloth")  # whose words count what one cage has


@dataclass(frozen=True)
class Ordered:
    """One wearer's cage in an order."""

    graded: Graded
    report: Report
    cuts: tuple[SteelCut, ...]
    tapes: tuple[TapeSet, ...]  # of cloth its seams
    layout: ClothLayout | None  # how its gores lie on the cloth; None on tapes
    band: BandCut

    @property
    def code(self) -> str:
        return self.graded.row.code

    @property
    def design(self) -> Design:
        return self.graded.design


@dataclass(frozen=True)
class Refused:
    """A wearer for whom no cage could be made, and why."""

    row: Entry
    problems: tuple[Problem, ...]


@dataclass(frozen=True)
class Order:
    """All that is made by one design at once."""

    design: Design  # as written for its own wearer
    cages: tuple[Ordered, ...]
    refused: tuple[Refused, ...]
    writing: Writing
    plans: tuple[CuttingPlan, ...]  # hoops are numbered through all cages, see `called`
    materials: tuple[Material, ...]
    quote: Quote

    @property
    def steel_cut(self) -> float:
        """m"""
        return sum(plan.cut for plan in self.plans)

    def piece(self, number: int) -> tuple[Ordered, SteelCut]:
        """Whose hoop it is that has this number (from 1) in the plans."""
        cage, hoop = divmod(number - 1, len(self.design.hoops))
        return self.cages[cage], self.cages[cage].cuts[hoop]

    def called(self, number: int) -> str:
        """'W-11 hoop 2'"""
        cage, cut = self.piece(number)
        return f"{cage.code} hoop {cut.hoop}"


def ordered(graded: Graded, report: Report) -> Ordered:
    """One wearer's cage, cut and sewn. Raises DesignError where it cannot be made as written."""
    cage = graded.settled.cage
    cloth = cage.design.cloth
    layout = None if cloth is None else laid_on_cloth(gore_sets(cage), cloth.width)
    band = band_cut(cage.design, cage.stations)
    return Ordered(graded, report, cutting_list(cage), tape_sets(cage), layout, band)


def order_of(design: Design, cages: Sequence[Ordered], refused: Sequence[Refused] = ()) -> Order:
    """The order for these cages of one design. Raises DesignError where the steel that is listed does not do."""
    writing = Writing.of(design.units)
    hoops = len(design.hoops)
    pieces = [
        replace(cut, hoop=place * hoops + cut.hoop, label=f"{cage.code}'s hoop {cut.hoop}")
        for place, cage in enumerate(cages)
        for cut in cage.cuts
    ]
    plans = plan_cutting(pieces, design.buying.steel, design.buying.spare, writing)
    rows = together(design, cages, plans)
    quote = quote_of([cage.design for cage in cages], design.buying, rows)
    return Order(design, tuple(cages), tuple(refused), writing, plans, rows, quote)


def together(design: Design, cages: Sequence[Ordered], plans: Sequence[CuttingPlan]) -> tuple[Material, ...]:
    """One list for all cages: amounts added first, then what is spare and whole rolls."""
    found: dict[str, list[Material]] = {}
    for cage in cages:
        for row in materials(cage.design, cage.cuts, (), cage.tapes, cage.layout):
            found.setdefault(row.name, []).append(row)
    steel = [steel_row(plan, plural(len(plan.hoops), "hoop"), Writing.of(design.units)) for plan in plans]
    return (*steel, *(added(design, rows) for rows in found.values()))


def added(design: Design, rows: Sequence[Material]) -> Material:
    """The same material of several cages as one line."""
    first, amount, weight = rows[0], sum(row.amount for row in rows), sum(row.weight for row in rows)
    detail = first.detail if all(row.detail == first.detail for row in rows) else ""
    if first.key in BY_CAGE and len(rows) > 1:
        detail = f"for each cage {detail}"
    if first.counted:
        spare = first.key != WHOLE
        return counted(design, first.name, first.key, detail, round(amount), weight, spare)
    return measured(design, first.name, first.key, detail, amount, weight)


def first_word(design: Design) -> str:
    """What of the first hoop is worked out for each wearer: its drop on tapes, its level on cloth."""
    return "drop" if design.cloth is None else "level"


def alike(order: Order) -> list[list[tuple[float, list[str]]]]:
    """For each hoop its finished lengths (m), each with the codes of those who have it, in the order of wearers."""
    found: list[list[tuple[float, list[str]]]] = []
    for hoop in range(len(order.design.hoops)):
        lengths: list[tuple[float, list[str]]] = []
        for cage in order.cages:
            own = cage.design.hoops[hoop].length
            codes = next((codes for length, codes in lengths if abs(length - own) < SAME), None)
            if codes is None:
                lengths.append((own, [cage.code]))
            else:
                codes.append(cage.code)
        found.append(lengths)
    return found

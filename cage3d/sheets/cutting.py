"""Which hoop is cut from which coil or length, so that the least steel is bought."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import ceil, isclose

from cage3d.design import trade
from cage3d.design.hoop_materials import FLAT_STEEL
from cage3d.design.models import Steel, Stock
from cage3d.errors import DesignError, Problem
from cage3d.shape.section import Section
from cage3d.sheets.least_steel import ROOM, Bar, Offer, bar_of, least_steel, longest_first
from cage3d.sheets.steel import SteelCut
from cage3d.sheets.writing import Writing, plural

MOST_PIECES = 20  # of a joined hoop that is offered


@dataclass(frozen=True)
class CuttingPlan:
    """All hoops of one size of steel."""

    section: Section
    cuts: tuple[SteelCut, ...]  # a hoop of several bare strips once for each of them
    bars: tuple[Bar, ...]
    written: bool  # the lengths are the design's; otherwise one coil as long as needed is assumed
    best: bool  # proved to need the least steel
    spare: bool  # what is left over holds the maker's spare share

    @property
    def bought(self) -> float:
        return sum(bar.length for bar in self.bars)

    @property
    def cut(self) -> float:
        return sum(cut.cut for cut in self.cuts)

    @property
    def hoops(self) -> tuple[int, ...]:
        """Each once, from 1."""
        return tuple(dict.fromkeys(cut.hoop for cut in self.cuts))

    @property
    def left(self) -> float:
        return sum(bar.left for bar in self.bars)


def plan_cutting(
    cuts: Sequence[SteelCut], stock: Sequence[Stock], spare: float, writing: Writing
) -> tuple[CuttingPlan, ...]:
    """One plan for each size of steel, in the order in which the hoops first use it.

    stock: lengths that may be bought, of the size they name or of every size; without any, one coil is
    assumed that holds all and the spare share. spare: share of the steel to be left over.
    Raises DesignError where a hoop is longer than every length, or the lengths do not suffice.
    """
    sizes: dict[Section, list[SteelCut]] = {}
    for cut in cuts:
        one = replace(cut, section=cut.section.piece)
        sizes.setdefault(one.section, []).extend([one] * cut.section.pieces)
    problems = [
        problem for section, own in sizes.items() for problem in missing_stock(section, own, stock, writing)
    ]
    if problems:
        raise DesignError(problems)
    return tuple(
        plan(section, own, of_size(section.steel, stock), spare, writing) for section, own in sizes.items()
    )


def of_size(steel: Steel, stock: Sequence[Stock]) -> tuple[Stock, ...]:
    """The lengths on offer in one size of one material; one that does not name them is to be had in every one."""

    def fits(own: float | None, wanted: float | None) -> bool:
        return own is None or (wanted is not None and isclose(own, wanted, rel_tol=1e-6))

    return tuple(
        one
        for one in stock
        if (one.material is None or one.material == (steel.material or FLAT_STEEL))
        and fits(one.width, steel.width)
        and fits(one.thickness, steel.thickness)
        and fits(one.diameter, steel.diameter)
    )


def missing_stock(
    section: Section, cuts: Sequence[SteelCut], stock: Sequence[Stock], writing: Writing
) -> list[Problem]:
    """A fault for a size that is not on offer, or for every hoop that no length on offer can hold."""
    if not stock:
        return []
    offered = of_size(section.steel, stock)
    if not offered:
        return [
            Problem(
                "buying.steel",
                "",
                f"no length of {section.words} is listed, and {cuts[0].named} is made of it",
                "List a length with that diameter, or one without for every size"
                if section.round
                else "List a length with that width and thickness, or one without either for every size",
            )
        ]
    longest = max(one.length for one in offered)
    each = {cut.hoop: cut for cut in cuts}.values()
    return [short_stock(cut, longest, writing) for cut in each if cut.cut > longest + ROOM]


def short_stock(cut: SteelCut, longest: float, writing: Writing) -> Problem:
    """The fault, and the hoop made of several pieces as a way out."""
    lap, pieces = cut.overlap or trade.LAP, 2
    while (length := piece(cut, pieces, lap)) > longest and pieces < MOST_PIECES:
        pieces += 1
    more = pieces - 1 if cut.overlap or not cut.closed else pieces
    joins = f"{plural(more, 'more join')} lapped {writing.full(lap)}"
    return Problem(
        "buying.steel",
        writing.full(longest),
        f"the longest {cut.section.steel.made_of.stuff} to be bought is shorter than {cut.named}, which is cut"
        f" {writing.full(cut.cut)} long",
        f"Write a coil or length of at least {writing.full(cut.cut)}; or join {cut.named} from"
        f" {pieces} pieces of {writing.full(length)} ({joins}),"
        f" and write {writing.full(cut.cut)} as a length you have",
    )


def piece(cut: SteelCut, pieces: int, lap: float) -> float:
    """m of each of several equal pieces that are lapped into one hoop."""
    laps = pieces if cut.closed else pieces - 1
    return (cut.finished + laps * lap) / pieces


def plan(
    section: Section, cuts: list[SteelCut], stock: Sequence[Stock], spare: float, writing: Writing
) -> CuttingPlan:
    need = sum(cut.cut for cut in cuts)
    if not stock:
        coil = ceil(need * (1.0 + spare) / writing.step - 1e-6) * writing.step
        whole = bar_of(Offer(coil, None, 0), sorted(cuts, key=longest_first))
        return CuttingPlan(section, tuple(cuts), (whole,), written=False, best=True, spare=True)
    for share in dict.fromkeys((spare, 0.0)):
        found = least_steel(cuts, stock, need * (1.0 + share), writing)
        if found is not None:
            bars, best = found
            return CuttingPlan(section, tuple(cuts), bars, written=True, best=best, spare=share == spare)
    raise DesignError(
        Problem(
            "buying.steel",
            "",
            f"the hoops of {section.words} take {writing.full(need)} of {section.steel.made_of.stuff}, more than can be"
            " cut from as many lengths as are listed",
            "Write a higher count, or leave count out where more can be bought",
        )
    )

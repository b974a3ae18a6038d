"""The tapes to make: equal tapes in one set, casing lines from one zero, ribbon to cut."""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import pairwise
from string import ascii_uppercase

import numpy as np

from cage3d.errors import DesignError, Problem
from cage3d.shape.cage import Cage
from cage3d.shape.marks import drops_of
from cage3d.sheets.writing import Writing, hoops_named, ranges

SAME_LENGTH = 1e-5  # m, tapes whose marks differ by less are one set
NOT_PASSED = -100.0  # m, in place of a mark that a tape does not have


@dataclass(frozen=True)
class Casing:
    """One casing on a tape; m from its zero, down the tape."""

    hoop: int  # from 1, the highest of those that meet in it
    upper: float
    steel: float
    lower: float
    meeting: tuple[int, ...] = ()  # hoops from 1 that meet this one in it

    @property
    def hoops(self) -> tuple[int, ...]:
        """All whose steel lies in it."""
        return (self.hoop, *self.meeting)

    @property
    def named(self) -> str:
        """'hoop 3', 'hoops 1, 2', 'hoops 1–5': short, as it stands across a strip."""
        return hoops_named(self.hoops)


@dataclass(frozen=True)
class TapeSet:
    """Equal tapes."""

    letter: str
    tapes: tuple[int, ...]  # from 1
    sides: tuple[str, ...]  # of each: L, R, CF, CB
    casings: tuple[Casing, ...]
    finished: float  # m, from the zero to the lowest steel's centre line: the sum of the drops
    top: float  # m, allowance above the zero, sewn into the waistband or folded at the casing of a hoop
    bottom: float  # m, allowance below the finished length
    layers: int
    cut: float  # m, one layer, as written on the list
    from_band: bool = True  # its zero is the waistband's lower edge; else the steel of its first casing

    @property
    def ribbon(self) -> float:
        """m of ribbon in one tape."""
        return self.layers * self.cut

    @property
    def fold(self) -> float:
        """m from the zero to the lowest line of stitches, where the tape is folded or ends."""
        return self.casings[-1].lower

    @property
    def drops(self) -> tuple[float, ...]:
        """m between steels, from where it begins."""
        steels = [*([0.0] if self.from_band else []), *(casing.steel for casing in self.casings)]
        return tuple(low - high for high, low in pairwise(steels))

    @property
    def begins(self) -> str:
        """'waistband', or 'hoop 2'."""
        return "waistband" if self.from_band else self.casings[0].named

    def casing_of(self, hoop: int) -> Casing | None:
        """The casing in which a hoop (from 1) lies; None where the tape does not pass it."""
        return next((casing for casing in self.casings if hoop in casing.hoops), None)

    @property
    def names(self) -> str:
        """'1–4 L, 9 R': the tapes by the wearer's side."""
        sides = list(dict.fromkeys(self.sides))
        own = {
            side: tuple(t for t, s in zip(self.tapes, self.sides, strict=True) if s == side) for side in sides
        }
        return ", ".join(f"{ranges(tapes)} {side}" for side, tapes in own.items())


def side_of(fraction: float) -> str:
    """L or R of the wearer, CF or CB: where a share of the girth from centre front lies."""
    if min(fraction, 1.0 - fraction) < 1e-9:
        return "CF"
    if abs(fraction - 0.5) < 1e-9:
        return "CB"
    return "L" if fraction < 0.5 else "R"


def tape_sets(cage: Cage) -> tuple[TapeSet, ...]:
    """Equal tapes together, in the order of their lowest number.

    Raises DesignError where a tape cannot be sewn: casings that overlap, a casing above the
    waistband's edge, or too little ribbon for the lowest casing.
    """
    marks, own, joined = cage.marks, cage.design.tapes, cage.connectivity
    writing, drops = Writing.of(cage.design.units), drops_of(cage.design)
    told = np.nan_to_num(np.hstack([marks.upper, marks.steel, marks.lower]), nan=NOT_PASSED)
    keys = np.round(told / SAME_LENGTH).astype(np.int64)
    groups: dict[bytes, list[int]] = {}
    for tape in range(own.count):
        groups.setdefault(keys[tape].tobytes(), []).append(tape)
    layers = 2 if own.doubled else 1
    sets = []
    for number, tapes in enumerate(groups.values()):
        first, finished = tapes[0], float(np.nansum(drops[tapes[0]]))
        from_band = bool(joined.anchors[first] >= 0)
        # A tape that begins at a hoop ends there as it does below.
        top = own.allowance.top if from_band else own.allowance.bottom
        sets.append(
            TapeSet(
                letter=letter_of(number),
                tapes=tuple(tape + 1 for tape in tapes),
                sides=tuple(side_of(float(cage.stations[tape])) for tape in tapes),
                casings=casings_of(cage, first),
                finished=finished,
                top=top,
                bottom=own.allowance.bottom,
                layers=layers,
                cut=writing.rounded(finished + top + own.allowance.bottom),
                from_band=from_band,
            )
        )
    refuse_unsewable(sets, writing)
    return tuple(sets)


def casings_of(cage: Cage, tape: int) -> tuple[Casing, ...]:
    """The casings of one tape (from 0), from the top; hoops that meet lie in one."""
    marks, found = cage.marks, list[Casing]()
    meet = cage.connectivity.segments[cage.connectivity.meeting].tolist()
    for hoop in map(int, cage.connectivity.hoops_of(tape)):
        if [hoop, tape] in meet and not found:
            continue  # its end is sewn to the waistband
        if [hoop, tape] in meet:
            found[-1] = replace(found[-1], meeting=(*found[-1].meeting, hoop + 1))
            continue
        upper, steel, lower = (float(row[tape, hoop]) for row in (marks.upper, marks.steel, marks.lower))
        found.append(Casing(hoop + 1, upper, steel, lower))
    return tuple(found)


def letter_of(number: int) -> str:
    """0 -> A, 25 -> Z, 26 -> AA."""
    before, own = divmod(number, len(ascii_uppercase))
    return (letter_of(before - 1) if before else "") + ascii_uppercase[own]


def refuse_unsewable(sets: list[TapeSet], writing: Writing) -> None:
    """Raises DesignError with every tape that cannot be sewn as it is written."""
    problems = [problem for one in sets for problem in unsewable(one, writing)]
    if problems:
        raise DesignError(problems)


def unsewable(one: TapeSet, writing: Writing) -> list[Problem]:
    """Why a tape of this set cannot be sewn; empty where it can."""
    problems, tape = [], one.tapes[0]
    above, what = (0.0, "the waistband's edge") if one.from_band else (-one.top, "its cut end")
    for casing in one.casings:
        if casing.upper < above - SAME_LENGTH:
            problems.append(
                Problem(
                    f"tapes.drops (tape {tape}, hoop {casing.hoop})",
                    "",
                    f"the casing of {casing.named} would begin {writing.full(above - casing.upper)} above"
                    f" {what}",
                    "Write a lower tapes.casing, or a longer drop",
                )
            )
        above, what = casing.lower, f"the end of the casing of {casing.named}"
    short = one.fold - (one.finished + one.bottom)
    if short > SAME_LENGTH:
        problems.append(
            Problem(
                "tapes.allowance.bottom",
                writing.full(one.bottom),
                f"tape {tape} would end {writing.full(short)} above the lowest line of its last casing",
                f"Write at least {writing.full(one.bottom + short + writing.step)}",
            )
        )
    return problems

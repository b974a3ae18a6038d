"""The tapes to make: equal tapes in one set, casing lines from one zero, ribbon to cut."""

from __future__ import annotations

from dataclasses import dataclass
from string import ascii_uppercase

import numpy as np

from cage3d.errors import DesignError, Problem
from cage3d.shape.cage import Cage
from cage3d.shape.marks import drops_of
from cage3d.sheets.writing import Writing, ranges

SAME_LENGTH = 1e-5  # m, tapes whose marks differ by less are one set


@dataclass(frozen=True)
class Casing:
    """One casing on a tape; m from the waistband's lower edge, down the tape."""

    hoop: int  # from 1
    upper: float
    steel: float
    lower: float


@dataclass(frozen=True)
class TapeSet:
    """Equal tapes."""

    letter: str
    tapes: tuple[int, ...]  # from 1
    sides: tuple[str, ...]  # of each: L, R, CF, CB
    casings: tuple[Casing, ...]
    finished: float  # m, waistband edge to the lowest steel's centre line: the sum of the drops
    top: float  # m, allowance above the zero, sewn into the waistband
    bottom: float  # m, allowance below the finished length
    layers: int
    cut: float  # m, one layer, as written on the list

    @property
    def ribbon(self) -> float:
        """m of ribbon in one tape."""
        return self.layers * self.cut

    @property
    def fold(self) -> float:
        """m from the zero to the lowest line of stitches, where the tape is folded or ends."""
        return self.casings[-1].lower

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
    marks, own = cage.marks, cage.design.tapes
    writing, drops = Writing.of(cage.design.units), drops_of(cage.design)
    keys = np.round(np.hstack([marks.upper, marks.steel, marks.lower]) / SAME_LENGTH).astype(np.int64)
    groups: dict[bytes, list[int]] = {}
    for tape in range(own.count):
        groups.setdefault(keys[tape].tobytes(), []).append(tape)
    layers = 2 if own.doubled else 1
    sets = []
    for number, tapes in enumerate(groups.values()):
        first, finished = tapes[0], float(drops[tapes[0]].sum())
        rows = zip(marks.upper[first], marks.steel[first], marks.lower[first], strict=True)
        sets.append(
            TapeSet(
                letter=letter_of(number),
                tapes=tuple(tape + 1 for tape in tapes),
                sides=tuple(side_of(float(cage.stations[tape])) for tape in tapes),
                casings=tuple(
                    Casing(h + 1, float(u), float(s), float(w)) for h, (u, s, w) in enumerate(rows)
                ),
                finished=finished,
                top=own.allowance.top,
                bottom=own.allowance.bottom,
                layers=layers,
                cut=writing.rounded(finished + own.allowance.top + own.allowance.bottom),
            )
        )
    refuse_unsewable(sets, writing)
    return tuple(sets)


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
    problems, above, tape = [], 0.0, one.tapes[0]
    for casing in one.casings:
        if casing.upper < above - SAME_LENGTH:
            what = (
                "the waistband's edge"
                if casing.hoop == 1
                else f"the end of the casing of hoop {casing.hoop - 1}"
            )
            problems.append(
                Problem(
                    f"tapes.drops (tape {tape}, hoop {casing.hoop})",
                    "",
                    f"the casing of hoop {casing.hoop} would begin {writing.full(above - casing.upper)} above"
                    f" {what}",
                    "Write a lower tapes.casing, or a longer drop",
                )
            )
        above = casing.lower
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

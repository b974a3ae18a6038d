"""Readings that were written otherwise than they were read: exchanged, in another unit, counted the other way round.

Each way of having slipped is undone, and the readings are weighed again: where they then fit so much better that the
slip is much the likelier story, it is said, and the readings are taken as they must have been.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np
from scipy.special import logsumexp

from cage3d.design.models import Design
from cage3d.shape.arrays import Ints
from cage3d.steady import falling
from cage3d.study.truing.hanging import WIDTHS
from cage3d.study.truing.judging import ODDS, Weighing
from cage3d.study.truing.readings import Readings, step_of
from cage3d.study.truing.states import States
from cage3d.study.truing.words import place_in_words
from cage3d.units import IN_WORDS, show_length
from cage3d.units.kinds import INCH
from cage3d.wording import of_seams

# Log of the odds of any one such slip, before the readings are looked at, and of what is enough to say it.
RARE, OFTEN, CLEAR = np.log(1e-3), np.log(1e-2), np.log(20.0)
UNITS = {"in": INCH, "cm": 0.01, "mm": 0.001}
ANYWHERE = 1.0  # m, within which a reading may stand that was misread
SUSPECTS = 4  # readings that stand out most, each of which may be misread


@dataclass(frozen=True)
class Doubt:
    """A slip of the pen: what it is in words, and the readings without it."""

    kind: str  # "unit", "mirrored", "exchanged", "misread"
    text: str
    readings: Readings


@dataclass(frozen=True)
class Grid:
    """Where the readings stand."""

    hoops: int
    tapes: int

    def heights(self, readings: Readings) -> np.ndarray[tuple[int], np.dtype[np.bool_]]:
        return np.asarray(readings.places < self.hoops * self.tapes)


def undoubted(weighing: Weighing, states: States, design: Design) -> tuple[Weighing, list[Doubt]]:
    """The readings as they must have been taken, and every slip that was found, one after another."""
    found: list[Doubt] = []
    for _ in range(3):
        doubt = likeliest_slip(weighing, states, design)
        if doubt is None:
            break
        found.append(doubt if design.cloth is None else replace(doubt, text=of_seams(doubt.text)))
        weighing = Weighing(weighing.base, weighing.sewing, doubt.readings)
    return weighing, found


def likeliest_slip(weighing: Weighing, states: States, design: Design) -> Doubt | None:
    """The slip that makes the readings much likelier; None where none does."""
    grid = Grid(len(design.hoops), design.tapes.count)
    now, best = evidence(weighing, states), None
    least = now + CLEAR
    others = [*slips(weighing.readings, grid, design.units or "mm"), *misread(weighing, design)]
    for doubt in others:
        told = evidence(Weighing(weighing.base, weighing.sewing, doubt.readings), states)
        # A reading that is left out may stand anywhere.
        told += OFTEN - np.log(ANYWHERE) if doubt.kind == "misread" else RARE
        if told > least + 1e-9:
            least, best = told, doubt
    return best


def evidence(weighing: Weighing, states: States) -> float:
    """Log likelihood of the readings, over no error and every single one."""
    some = states.only(states.every(2))
    white = weighing.white(some)
    misfit = ((weighing.off - white) ** 2).sum(axis=1)
    felt = weighing.by_feel(some.hangs.pulls, some.hangs.slack)
    prior = np.log(ODDS / len(states.causes)) + np.log(some.density)
    calm = weighing.by_feel(np.zeros(weighing.base.pulls.shape), np.zeros(weighing.base.slack.shape))
    none = -float(weighing.off @ weighing.off) / 2.0 + float(calm)
    # The density of so many Gaussian readings: also where one more or less is compared.
    size = float(np.log(np.diag(weighing.root)).sum()) + len(weighing.off) * np.log(2.0 * np.pi) / 2.0
    return float(logsumexp(np.append(-misfit / 2.0 + felt + prior, none)) - size)


def slips(readings: Readings, grid: Grid, units: str) -> Iterator[Doubt]:
    """Every slip that is thought of, undone."""
    yield from other_units(readings, grid, units)
    yield from other_way_round(readings, grid)
    yield from exchanged_hoops(readings, grid)
    yield from exchanged_tapes(readings, grid)
    yield from exchanged_widths(readings, grid)


def other_units(readings: Readings, grid: Grid, units: str) -> Iterator[Doubt]:
    """Figures of another unit in a column of this one: all, the heights or the widths alone, or a single one."""
    own = "in" if units in ("in", "ft") else units if units in UNITS else "mm"
    heights = grid.heights(readings)
    groups = [("all readings", np.ones(len(heights), dtype=bool))]
    groups += (
        [("the heights", heights), ("the widths", ~heights)] if heights.any() and not heights.all() else []
    )
    for unit, size in UNITS.items():
        share = size / UNITS[own]
        if unit == own:
            continue
        for words, which in groups:
            values = np.where(which, readings.values * share, readings.values)
            text = f"{words} are in {IN_WORDS[unit]}, and {IN_WORDS[own]} are asked for: taken as {IN_WORDS[unit]}"
            taken = readings.at(readings.places, values)
            finer = step_of(values, unit == "in") if which.all() else readings.step
            yield Doubt("unit", text, replace(taken, step=finer))


def other_way_round(readings: Readings, grid: Grid) -> Iterator[Doubt]:
    """Tapes counted round by her right: from the tape right of centre front, or from tape 1."""
    tapes = np.arange(grid.tapes)
    ways = [
        (tapes[::-1], "left and right are exchanged: tapes count from centre front round by her left"),
        (-tapes % grid.tapes, "tapes are counted round by her right from tape 1, and they count by her left"),
    ]
    for order, text in ways:
        turned = moved_tapes(readings, grid, order)
        yield Doubt("mirrored", text, turned)
    for hoop in range(grid.hoops):
        of = grid.heights(readings) & (readings.places // grid.tapes == hoop)
        if 0 < of.sum() < grid.heights(readings).sum():
            text = f"the heights of hoop {hoop + 1} are written left for right"
            yield Doubt("mirrored", text, moved_tapes(readings, grid, tapes[::-1], of))


def moved_tapes(
    readings: Readings, grid: Grid, order: Ints, of: np.ndarray[tuple[int], np.dtype[np.bool_]] | None = None
) -> Readings:
    """The readings of each tape at the tape `order` (T,) says; of: which readings, None: all, felt ones too."""
    which = grid.heights(readings) if of is None else of
    hoop, tape = np.divmod(readings.places, grid.tapes)
    places = np.where(which, hoop * grid.tapes + order[tape], readings.places)
    felt = readings.felt
    if of is None:
        felt = felt // grid.tapes * grid.tapes + order[felt % grid.tapes]
    return sorted_readings(readings, places, felt)


def sorted_readings(readings: Readings, places: Ints, felt: Ints) -> Readings:
    order, of_felt = np.argsort(places), np.argsort(felt)
    return Readings(
        places[order], readings.values[order], readings.step, felt[of_felt], readings.loose[of_felt]
    )


def exchanged_hoops(readings: Readings, grid: Grid) -> Iterator[Doubt]:
    heights = grid.heights(readings)
    hoops = readings.places // grid.tapes
    for one in range(grid.hoops):
        for other in range(one + 1, grid.hoops):
            swap = np.where(hoops == one, other, np.where(hoops == other, one, hoops))
            if not np.any(heights & (hoops == one)) or not np.any(heights & (hoops == other)):
                continue
            places = np.where(heights, swap * grid.tapes + readings.places % grid.tapes, readings.places)
            text = f"the heights of hoops {one + 1} and {other + 1} are exchanged"
            yield Doubt("exchanged", text, sorted_readings(readings, places, readings.felt))


def exchanged_tapes(readings: Readings, grid: Grid) -> Iterator[Doubt]:
    for one in range(grid.tapes):
        for other in range(one + 1, grid.tapes):
            order = np.arange(grid.tapes)
            order[[one, other]] = other, one
            text = f"the heights of tapes {one + 1} and {other + 1} are exchanged"
            yield Doubt("exchanged", text, moved_tapes(readings, grid, order, grid.heights(readings)))


def exchanged_widths(readings: Readings, grid: Grid) -> Iterator[Doubt]:
    """From side to side written for front to back: of all hoops."""
    heights = grid.heights(readings)
    if heights.all():
        return
    first = grid.hoops * grid.tapes
    across = readings.places - first
    places = np.where(heights, readings.places, first + across // len(WIDTHS) * len(WIDTHS) + 1 - across % 2)
    text = "the widths from side to side and from front to back are exchanged"
    yield Doubt("exchanged", text, sorted_readings(readings, places, readings.felt))


def misread(weighing: Weighing, design: Design) -> Iterator[Doubt]:
    """One reading that stands out from what all others foretell, left out: a figure misread or written wrong."""
    readings = weighing.readings
    inverse = np.linalg.inv(weighing.covariance)
    left = readings.values - weighing.base.figures[readings.places]
    out = np.abs(inverse @ left) / np.sqrt(np.diag(inverse))  # in the sigmas that each has, the others known
    for place in falling(out)[:SUSPECTS] if len(readings.places) > SUSPECTS else []:
        kept = np.arange(len(out)) != place
        said = show_length(float(readings.values[place]), design.units, 1 / 16)
        what = place_in_words(design, int(readings.places[place]))
        text = f"{what}, {said}, fits nothing near it and is left out: look whether it was misread"
        yield Doubt("misread", text, readings.at(readings.places[kept], readings.values[kept]))

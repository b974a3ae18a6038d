"""One design graded for one wearer: hoops kept where her hip allows, drops by which the hem hangs where it should."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

import numpy as np

from cage3d.design import rules
from cage3d.design.faults import place_of, printable
from cage3d.design.models import Design
from cage3d.design.read import text_as_written, validated
from cage3d.design.rewriting import rewritten
from cage3d.design.rules import body
from cage3d.design.rules.hem import OF_HEIGHTS
from cage3d.design.text_files import text_of
from cage3d.errors import DesignError, NotSettledError, Problem
from cage3d.report import why_not
from cage3d.settle import SettledCage, settle
from cage3d.shape.arrays import Floats
from cage3d.shape.lay_out import lay_out
from cage3d.steady import steady
from cage3d.study.aiming.aim import WITHIN
from cage3d.study.aiming.way_back import usual_step
from cage3d.study.aiming.writing import length_text, text_with
from cage3d.study.budget import Budget
from cage3d.study.down import with_lengths
from cage3d.study.grading.drops import Hung, as_it_hung, hem_of, hung_at, stretched
from cage3d.study.grading.hoops import HAIR, heights_at_tapes, lacking_room, lengthened, lengths_for, rooms_in
from cage3d.study.grading.measures import Taken, leans, with_measures
from cage3d.study.grading.refit import refitted
from cage3d.study.grading.wearers import Entry
from cage3d.study.numbers import numbers_of, with_numbers
from cage3d.units import show_length

TRIES = 2  # of making hoops longer that lie too near to her as they hang
LEVEL = WITHIN  # m: a hem whose four sides differ by no more is level


@dataclass(frozen=True)
class How:
    """How wearers are graded. step: to which drops are rounded (m), None: an eighth of an inch or a millimetre."""

    refit: bool = False  # every silhouette is aimed anew
    shared: bool = False  # her height goes into all drops in their proportions, and not into the first alone
    step: float | None = None


@dataclass(frozen=True)
class Pattern:
    """The design that is graded, as it hangs on its own wearer."""

    path: str
    text: str
    data: Mapping[str, Any]
    base: SettledCage
    rooms: Floats  # (H,) m that each hoop must leave all round

    @property
    def design(self) -> Design:
        return self.base.cage.design

    @property
    def heights(self) -> Floats:
        """(H,) m, each hoop above the floor in the mean of its tapes."""
        return heights_at_tapes(self.base)


@dataclass(frozen=True)
class Graded:
    """The cage of one wearer."""

    row: Entry
    text: str  # of her design
    settled: SettledCage
    off: Floats  # (4,) m, the hem less what is wanted: front, left, back, right
    taken: tuple[Taken, ...]  # measures by proportion from the design's wearer
    longer: tuple[int, ...]  # hoops (from 1) that are longer than the design's

    @property
    def design(self) -> Design:
        return self.settled.cage.design

    @property
    def hem(self) -> Floats:
        """(4,) m, the lowest hoop above the floor: front, left, back, right."""
        return hem_of(self.settled)

    @property
    def most_off(self) -> float:
        """m, the most that the hem is off on any side."""
        return float(np.abs(self.off).max())

    @property
    def reached(self) -> bool:
        return self.most_off <= WITHIN


def pattern_of(path: str | Path) -> Pattern:
    """The design in a file, settled. Raises DesignError, and NotSettledError where it finds no rest itself."""
    text = text_of(Path(path))
    design, data = text_as_written(text, str(path))
    base = settle(lay_out(design))
    if not base.trusted:
        raise NotSettledError(why_not(base, str(path)))
    return Pattern(str(path), text, data, base, rooms_in(design, heights_at_tapes(base)))


def graded(pattern: Pattern, row: Entry, how: How) -> Graded:
    """The design for one wearer.

    Raises DesignError, its place in her line of the table, where the rules refuse her cage; NotSettledError where it
    finds no rest.
    """
    design, step = pattern.design, how.step or usual_step(pattern.design)
    wanted = hem_wanted(pattern, row)
    rise = float(np.mean(wanted - hem_of(pattern.base)))
    data, taken = with_measures(pattern.data, design, row, usual_step(design))
    move_clearance(data, design, rise, usual_step(design))
    hers = measured(data, row)
    hers = with_lengths(hers, lengths_for(hers, pattern.heights + rise, pattern.rooms))
    budget = Budget()
    found = hung_for(pattern, hers, row, wanted, how, budget)
    for _ in range(TRIES):
        lacking = lacking_room(pattern.base, found.settled)
        if not lacking.any():
            break
        hers = with_lengths(hers, lengthened(found.settled.cage.design, lacking))
        better = hung_for(pattern, hers, row, wanted, how, budget)
        if (
            not better.settled.trusted
            or lacking_room(pattern.base, better.settled).max() > lacking.max() - HAIR
        ):
            break
        found = better
    return as_written(pattern, row, data, taken, found, step)


def hung_for(pattern: Pattern, hers: Design, row: Entry, wanted: Floats, how: How, budget: Budget) -> Hung:
    """The design with her measures and hoops, hung so that its hem is at `wanted` (n,) m. Raises DesignError."""
    step = how.step or usual_step(pattern.design)
    start = as_it_hung(pattern.base, hers, wanted)
    if how.shared or how.refit:
        hers, start = stretched(pattern.base, hers, wanted, step)
    refuse(rules.problems(with_numbers(hers, start)), row)
    if how.refit:
        hers = refitted(pattern.base, with_numbers(hers, start), wanted, step, budget)
        start = numbers_of(hers)
    return hung_at(hers, start, wanted, step, WITHIN, budget, leans(hers.wearer))


def measured(data: dict[str, Any], row: Entry) -> Design:
    """The design with her measures, which alone are asked whether they can be. Raises DesignError."""
    design, faults = validated(data)
    if design is None:
        refuse(faults, row)
    assert design is not None
    refuse((problem for rule in body.RULES for problem in rule(design)), row)
    refuse(slips(design), row)
    return design


def slips(design: Design) -> Iterator[Problem]:
    """A hip that is smaller than the waist: two columns exchanged, mostly."""
    hip, waist = design.wearer.hip, design.wearer.waist
    if hip is not None and hip < waist:
        said, size = show_length(hip, design.units), show_length(waist, design.units)
        why = f"her hip is smaller than her waist ({size})"
        yield Problem("wearer.hip", said, why, "Check that the two are not exchanged")


def refuse(problems: Iterable[Problem], row: Entry) -> None:
    """Raises DesignError with these as faults of her line, where there are any."""
    if found := [of_her(problem, row) for problem in problems]:
        raise DesignError(list(dict.fromkeys(found)))


def as_written(
    pattern: Pattern, row: Entry, data: dict[str, Any], taken: tuple[Taken, ...], found: Hung, step: float
) -> Graded:
    """Her design as text with the maker's remarks, read and settled as `check` would: what that says is the answer."""
    if not found.settled.trusted:
        raise NotSettledError(of_her(why_not(found.settled, row.code), row))
    design, name = pattern.design, f"{pattern.path} for {row.code}"
    before = measured(data, row)  # her measures, the design's hoops and drops
    text = rewritten(pattern.text, data, name)
    text = remark(pattern, row) + text_with(text, data, before, found.settled.cage.design, step, name)
    try:
        final, _ = text_as_written(text, name)
    except DesignError as fault:
        raise DesignError([of_her(problem, row) for problem in fault.problems]) from None
    settled = settle(lay_out(final))
    if not settled.trusted:
        raise NotSettledError(of_her(why_not(settled, row.code), row))
    pairs = zip(design.hoops, final.hoops, strict=True)
    longer = tuple(n for n, (old, new) in enumerate(pairs, start=1) if new.length > old.length + 1e-6)
    return Graded(row, text, settled, hem_of(settled) - hem_wanted(pattern, row), taken, longer)


def remark(pattern: Pattern, row: Entry) -> str:
    """The first line of her design."""
    return f"# Graded for {printable(row.code)} from {printable(Path(pattern.path).name)}.\n"


def hem_wanted(pattern: Pattern, row: Entry) -> Floats:
    """(n,) m: as the design hangs, or as her line says: level, or dipping as the design's where that is not level."""
    own = hem_of(pattern.base)
    if row.hem is None:
        return own
    dips = own - own.mean() if float(np.ptp(own)) > LEVEL else np.zeros_like(own)
    return np.asarray(row.hem + dips)


def move_clearance(data: dict[str, Any], design: Design, rise: float, step: float) -> None:
    """What is wanted of the hem's heights goes up or down with it."""
    if abs(rise) < 1e-6:
        return
    for key in OF_HEIGHTS:
        wish = getattr(design.hem, key)
        if wish is not None:
            marks = [max(steady((height + rise) / step, 0) * step, 0.0) for height in wish]
            data["hem"][key] = [length_text(height, "", design.units, step) for height in marks]


def of_her(problem: Problem, row: Entry) -> Problem:
    """A fault of her design as one of her line in the table: 'wearers.csv:3: W-11, waist height 9: ...'."""
    steps = place_of(problem.where)
    key = str(steps[1]).replace("_", " ") if len(steps) > 1 and steps[0] == "wearer" else ""
    words = ", ".join(
        word for word in (row.code, " ".join(part for part in (key, problem.said) if part)) if word
    )
    return replace(problem, where=row.where or row.code, said=words, line=row.line, column=None)

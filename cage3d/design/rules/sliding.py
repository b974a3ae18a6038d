"""Rules for joins that slide: a range of lengths on one hoop."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace

from cage3d.design.models import Design, Hoop, Join
from cage3d.design.rules import panels, reach, ties
from cage3d.errors import Problem
from cage3d.units import show_length

LEAST_LAP = 0.010  # m, by which a slide must differ at its ends to be worth a word
MOST_LAP = 0.5  # of the least length, that may lie double
AT_THE_ENDS: tuple[Callable[[Design], Iterator[Problem]], ...] = (*reach.RULES, *ties.RULES, *panels.RULES)


def joins_that_slide(design: Design) -> Iterator[Problem]:
    for number, hoop in enumerate(design.hoops):
        if isinstance(hoop.join, Join) and hoop.join.slides:
            yield from slide(design, number, hoop, hoop.join)


def slide(design: Design, number: int, hoop: Hoop, join: Join) -> Iterator[Problem]:
    where, which = f"hoops[{number}].join", f"hoop {number + 1}"

    def say(metres: float) -> str:
        return show_length(metres, design.units)

    if join.least is None or join.most is None:
        missing, other = ("least", "most") if join.least is None else ("most", "least")
        yield Problem(
            f"{where}.{other}", "", f"a join that slides has two ends, and {missing} is not written",
            f"Write {missing} too, or leave {other} out",
        )  # fmt: skip
    elif join.overlap is None or join.tube is not None:
        yield Problem(
            where, "join", "only ends that overlap can slide past each other",
            "Write how far they overlap when the hoop is longest: overlap: 2 in, and no tube",
        )  # fmt: skip
    elif join.least > join.most:
        yield Problem(
            f"{where}.least", say(join.least), f"that is more than the most, {say(join.most)}",
            "Write the shorter length as least and the longer one as most",
        )  # fmt: skip
    elif join.most - join.least < LEAST_LAP:
        yield Problem(
            f"{where}.most", say(join.most), f"{which} would slide by less than {say(LEAST_LAP)}",
            "Leave least and most out for a join that is fixed",
        )  # fmt: skip
    elif not join.least <= hoop.length <= join.most:
        yield Problem(
            f"hoops[{number}].length", say(hoop.length),
            f"{which} slides from {say(join.least)} to {say(join.most)}, and this is not between",
            "Write the length at which it is to be worn, or other ends",
        )  # fmt: skip
    elif (lap := join.overlap + join.most - join.least) > MOST_LAP * join.least:
        yield Problem(
            f"{where}.least", say(join.least), f"so short, {say(lap)} of {which} lie double, more than half of it",
            "Write a longer least, or a shorter most",
        )  # fmt: skip


def can_be_at_both_ends(design: Design) -> Iterator[Problem]:
    """What holds of every hoop must hold of one that is slid; what is wrong as written too is told there."""
    if not design.slides or any(joins_that_slide(design)):
        return
    known = {problem.where for rule in AT_THE_ENDS for problem in rule(design)}
    for key, longest in (("least", False), ("most", True)):
        end = design.slid(longest)
        for rule in AT_THE_ENDS:
            for problem in rule(end):
                if problem.where not in known:
                    called = "shortest" if key == "least" else "longest"
                    yield replace(
                        problem, where=f"hoops[{design.slides[0]}].join.{key}",
                        why=f"with hoops slid to their {called}, {problem.why}",
                    )  # fmt: skip
                    return


RULES = (joins_that_slide, can_be_at_both_ends)

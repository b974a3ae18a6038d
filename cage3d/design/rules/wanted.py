"""Rules for the wanted shape: is the hoop there, and do its figures go together?"""

from __future__ import annotations

from collections.abc import Iterator

from cage3d.design.models import Design, WantedHoop
from cage3d.design.models.wanted import HEIGHTS, WIDTHS
from cage3d.errors import Problem
from cage3d.units import show_length
from cage3d.wording import listed


def hoops_that_exist(design: Design) -> Iterator[Problem]:
    first: dict[int, int] = {}
    for number, wanted in enumerate(design.wanted):
        where, said = f"wanted[{number}].hoop", str(wanted.hoop)
        if wanted.hoop > len(design.hoops):
            why = f"there is no hoop {wanted.hoop}: the design has {len(design.hoops)}"
            yield Problem(where, said, why, "Count hoops from the top, from 1")
        if wanted.hoop in first:
            why = f"this hoop is asked for twice: first in entry {first[wanted.hoop] + 1} of the list"
            yield Problem(where, said, why, "Write all its figures in one entry")
        first.setdefault(wanted.hoop, number)


def something_is_asked(design: Design) -> Iterator[Problem]:
    for number, wanted in enumerate(design.wanted):
        if not list(wanted.asked()):
            why = "no figure of this hoop is asked for"
            yield Problem(
                f"wanted[{number}]", f"hoop {wanted.hoop}", why, "Add a height or a width: height: 17 in"
            )


def said_once(design: Design) -> Iterator[Problem]:
    """`height` beside all of its sides, `width` beside both of its ways: nothing is left for the whole."""
    for number, wanted in enumerate(design.wanted):
        for whole, parts in (("height", HEIGHTS), ("width", WIDTHS)):
            if getattr(wanted, whole) is not None and all(
                getattr(wanted, part) is not None for part in parts
            ):
                why = f"{listed(parts)} are all written, so that {whole} says nothing"
                yield Problem(f"wanted[{number}].{whole}", whole, why, "Leave one of them out")


def below_the_waist(design: Design) -> Iterator[Problem]:
    height = design.wearer.waist_height
    waist = height if isinstance(height, float) else max(height.front, height.left, height.back, height.right)
    for number, wanted in enumerate(design.wanted):
        for key, value in wanted.asked():
            if key in HEIGHTS and value >= waist:
                shown = show_length(waist, design.units)
                why = f"a hoop hangs below the waist, which is {shown} above the floor"
                where = f"wanted[{number}].{key if getattr(wanted, key) is not None else 'height'}"
                yield Problem(where, show_length(value, design.units), why, f"Write less than {shown}")
                break


def one_under_another(design: Design) -> Iterator[Problem]:
    """Hoops in their order: a lower one may not be wanted above a higher one on the same side."""
    last: dict[str, tuple[int, float]] = {}
    for wanted in sorted(design.wanted, key=lambda one: one.hoop):
        for key, value in wanted.asked():
            if key not in HEIGHTS:
                continue
            if key in last and value > last[key][1]:
                yield higher_than(design, wanted, key, value, last[key])
                break
            last[key] = (wanted.hoop, value)


def higher_than(
    design: Design, wanted: WantedHoop, key: str, value: float, above: tuple[int, float]
) -> Problem:
    number = design.wanted.index(wanted)
    shown = show_length(above[1], design.units)
    why = f"hoop {wanted.hoop} would hang above hoop {above[0]}, which is to be {shown} high there"
    where = f"wanted[{number}].{key if getattr(wanted, key) is not None else 'height'}"
    return Problem(where, show_length(value, design.units), why, f"Write {shown} or less")


RULES = (hoops_that_exist, something_is_asked, said_once, below_the_waist, one_under_another)

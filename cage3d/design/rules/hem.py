"""Rules for what is wished of the hem: ranges in order, that can be, and that agree with what `wanted` says."""

from __future__ import annotations

from collections.abc import Iterator

from cage3d.design.models import Design
from cage3d.design.models.wanted import HEIGHTS
from cage3d.design.rules.body import waist_heights
from cage3d.errors import Problem
from cage3d.units import show_length

OF_HEIGHTS = ("clearance", "front", "back", "sides", "left", "right")
OF_WIDTHS = ("width", "side_to_side", "front_to_back")
HAIR = 1e-9  # m


def ranges_in_order(design: Design) -> Iterator[Problem]:
    for key in (*OF_HEIGHTS, *OF_WIDTHS):
        wish = getattr(design.hem, key)
        if wish is not None and wish[0] > wish[1]:
            what = "height" if key in OF_HEIGHTS else "width"
            called = "clearance" if key == "clearance" else what
            yield Problem(
                f"hem.{key}",
                " to ".join(show_length(size, design.units) for size in wish),
                f"the least {called} is more than the most",
                "Write [least, most], such as [8 in, 10 in]",
            )


def below_the_waist(design: Design) -> Iterator[Problem]:
    for key in OF_HEIGHTS:
        wish = getattr(design.hem, key)
        if wish is not None and wish[0] <= wish[1] and wish[1] >= min(waist_heights(design)):
            yield Problem(
                f"hem.{key}",
                show_length(wish[1], design.units),
                "the hem would hang above the waist",
                "Write the height above the floor, such as [8 in, 10 in]",
            )


def said_once(design: Design) -> Iterator[Problem]:
    """`sides` beside left and right, `width` beside both ways: nothing is left for it to say."""
    hem = design.hem
    for whole, parts in (("sides", ("left", "right")), ("width", ("side_to_side", "front_to_back"))):
        if getattr(hem, whole) is not None and all(getattr(hem, part) is not None for part in parts):
            why = f"{parts[0]} and {parts[1]} are both written, so that {whole} says nothing"
            yield Problem(f"hem.{whole}", whole, why, "Leave one of them out")


def a_hoop_so_wide(design: Design) -> Iterator[Problem]:
    """No hoop is wider than half its length, which it would be laid flat."""
    length = design.hoops[-1].length
    for key in OF_WIDTHS:
        wish = getattr(design.hem, key)
        widest = length / 2.0 if design.hoops[-1].opening == "none" else length
        if wish is not None and wish[0] <= wish[1] and wish[0] > widest:
            yield Problem(
                f"hem.{key}",
                show_length(wish[0], design.units),
                f"the lowest hoop, {show_length(length, design.units)} long, can never be as wide as that",
                f"Write {show_length(widest, design.units)} or less, or a longer hoop",
            )


def one_wish_for_one_thing(design: Design) -> Iterator[Problem]:
    """What `wanted` asks of the lowest hoop must lie in what the hem's own wish allows."""
    wishes = design.hem.heights | design.hem.widths
    for number, wanted in enumerate(design.wanted):
        if wanted.hoop != len(design.hoops):
            continue
        for key, value in wanted.asked():
            if key in wishes and not wishes[key][0] - HAIR <= value <= wishes[key][1] + HAIR:
                whole = "height" if key in HEIGHTS else "width"
                where = f"wanted[{number}].{key if getattr(wanted, key) is not None else whole}"
                both = " to ".join(show_length(size, design.units) for size in wishes[key])
                yield Problem(
                    where, show_length(value, design.units),
                    f"under hem {both} is wanted of the same", "Write one of them, or both alike",
                )  # fmt: skip
                break


RULES = (ranges_in_order, below_the_waist, said_once)
RULES_OF_HOOPS = (a_hoop_so_wide, one_wish_for_one_thing)

"""Rules for rolls and pads: where they may lie, and whether the hoops go over them."""

from __future__ import annotations

import math
from collections.abc import Iterator

from cage3d.design import trade
from cage3d.design.models import Design, Padding
from cage3d.design.rules.circles import hoop_girths, hoop_levels, measurable
from cage3d.design.rules.reach import girth_of_the_wearer
from cage3d.errors import Problem
from cage3d.units import show_length

THICKEST = 0.25  # m
LOWEST = 2.0  # times hip_drop below the waist, of a pad's lower edge
MOST_PADS = 12
WHERE = {
    "hips": "at the hips",
    "left": "at her left",
    "right": "at her right",
    "back": "at the back",
    "roll": "at back and sides",
    "round": "all round her",
}
ONE_SIDED = ("left", "right", "back")  # a hoop may lie off centre over these


def middle_below_waist(design: Design, padding: Padding) -> float:
    """m from the waist down to a pad's middle."""
    if padding.drop is not None:
        return padding.drop
    return trade.PAD_LEVEL[padding.place] * (design.wearer.hip_drop or 0.0)


def pads_have_a_place(design: Design) -> Iterator[Problem]:
    """On a form that was measured, between the band and the legs."""
    hip_drop = design.wearer.hip_drop
    if design.padding and (design.wearer.hip is None or hip_drop is None):
        yield Problem(
            "padding",
            f"{len(design.padding)} of them",
            "there is no hip measured for padding to lie on",
            "Write hip and hip_drop under wearer, as measured without the padding",
        )
        return
    if len(design.padding) > MOST_PADS:
        yield Problem(
            "padding", str(len(design.padding)), f"there are more than {MOST_PADS} pads", "Leave some out"
        )
    for number, padding in enumerate(design.padding):
        middle, half = middle_below_waist(design, padding), padding.height / 2.0
        said = show_length(padding.height, design.units)
        if padding.thickness > THICKEST:
            yield Problem(
                f"padding[{number}].thickness",
                show_length(padding.thickness, design.units),
                "no roll is worn as thick as that",
                "Write its thickness as worn: hip pads have 15 to 40 mm, rolls 40 to 80 mm",
            )
        elif middle - half < design.waistband.depth / 2.0 - 1e-9:
            room = 2.0 * (middle - design.waistband.depth / 2.0)
            yield Problem(
                f"padding[{number}].height",
                said,
                f"the padding {WHERE[padding.place]} would reach up under the waistband",
                f"Write {show_length(room, design.units)} or less, or a longer drop to its middle",
            )
        elif middle + half > LOWEST * float(hip_drop or 0.0):
            yield Problem(
                f"padding[{number}].height",
                said,
                f"the padding {WHERE[padding.place]} would hang down to her legs",
                "Write its height from edge to edge, and the drop from the waist to its middle",
            )


def hoops_go_over_the_padding(design: Design) -> Iterator[Problem]:
    """A closed hoop at the level of a pad needs room for it beside her."""
    if not measurable(design) or design.wearer.hip_drop is None:
        return
    girths = hoop_girths(design)
    for number, padding in enumerate(design.padding):
        middle, half = middle_below_waist(design, padding), padding.height / 2.0
        for hoop, level in enumerate(hoop_levels(design)):
            ring = design.hoops[hoop].opening == "none" and design.hoops[hoop].beside is None
            if abs(level - middle) > half or not ring:
                continue
            room = (girths[hoop] - girth_of_the_wearer(design, min(level, design.wearer.hip_drop))) / math.tau
            gap = (2.0 if padding.place in ONE_SIDED else 1.0) * max(room, 0.0)
            if padding.thickness > gap:
                yield Problem(
                    f"padding[{number}].thickness",
                    show_length(padding.thickness, design.units),
                    f"the padding {WHERE[padding.place]} is thicker than the gap of {show_length(gap, design.units)}"
                    f" between her and hoop {hoop + 1}, which hangs at its level",
                    "Make the hoop longer, hang it lower, or write a thinner pad",
                )
                break


RULES = (pads_have_a_place,)
RULES_OF_HOOPS = (hoops_go_over_the_padding,)

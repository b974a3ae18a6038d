"""Rules for the wearer, the waistband, the skirt and the hem."""

from __future__ import annotations

from collections.abc import Iterator
from math import hypot, pi

from cage3d.design import trade
from cage3d.design.models import Design, WaistHeights
from cage3d.errors import Problem
from cage3d.steady import exceeds
from cage3d.units import both, show_length

# Beyond these (m) nobody wears a cage, by our own judgement: refused. Test rings stay inside.
GIRTHS = (0.3, 3.0)
HEIGHTS = (0.3, 2.5)
# Usual sizes of grown wearers (m): outside them a remark, because it is mostly a slip of the pen.
# From the spread of the 2012 U.S. Army body survey, women (Natick/TR-15/007).
USUAL = {"waist": (0.500, 1.400), "hip": (0.750, 1.450), "waist_height": (0.800, 1.300)}
# A child is small all over: below this height of the waist (m) her girths are looked at as shares of it, least and most
# [from memory: of children 1.0 to 1.5 m tall the waist measures 0.7 to 0.9 of it, the hip 0.8 to 0.95].
CHILD_WAIST_HEIGHTS = (0.450, 0.900)
CHILD_SHARES = {"waist": (0.5, 1.1), "hip": (0.7, 1.15)}
HEAVIEST = 20.0  # kg on a waist
DEEPEST_BAND = 0.25  # m
HIP_BELOW_WAIST = 0.050  # m that a hip may be smaller than the waist before it looks like a slip


def waist_heights(design: Design) -> tuple[float, ...]:
    """m, the waist above the floor: one height, or front, left, back and right."""
    height = design.wearer.waist_height
    if isinstance(height, WaistHeights):
        return height.front, height.left, height.back, height.right
    return (height,)


def half_measures_of_the_hip(design: Design) -> tuple[float, float] | None:
    """m, half her breadth and half her depth at the hip; None where no hip was measured."""
    wearer = design.wearer
    if wearer.hip is None or wearer.hip_drop is None:
        return None
    if wearer.hip_breadth is not None and wearer.hip_depth is not None:
        return wearer.hip_breadth / 2, wearer.hip_depth / 2
    half_breadth = wearer.hip / pi / (1 + trade.HIP_DEPTH_PER_BREADTH)
    return half_breadth, half_breadth * trade.HIP_DEPTH_PER_BREADTH


def sizes_a_person_can_have(design: Design) -> Iterator[Problem]:
    wearer = design.wearer
    for key in ("waist", "high_hip", "hip"):
        size = getattr(wearer, key)
        if size is not None and not GIRTHS[0] <= size <= GIRTHS[1]:
            yield Problem(
                f"wearer.{key}",
                show_length(size, design.units),
                f"nobody measures {both(size)} round the {key.replace('_', ' ')}",
                "Check the number and its unit",
            )
    for height in waist_heights(design):
        if not HEIGHTS[0] <= height <= HEIGHTS[1]:
            yield Problem(
                "wearer.waist_height",
                show_length(height, design.units),
                f"nobody's waist is {both(height)} above the floor",
                "Check the number and its unit",
            )
            return


def measures_that_go_together(design: Design) -> Iterator[Problem]:
    wearer = design.wearer
    for one, other, why in (
        ("waist_breadth", "waist_depth", "an oval needs both"),
        ("waist_depth", "waist_breadth", "an oval needs both"),
        ("hip_breadth", "hip_depth", "an oval needs both"),
        ("hip_depth", "hip_breadth", "an oval needs both"),
        ("hip", "hip_drop", "a hip needs its depth below the waist"),
        ("hip_drop", "hip", "a depth needs the girth measured there"),
        ("hip_breadth", "hip", "a breadth needs the girth measured there"),
        ("high_hip", "high_hip_drop", "a high hip needs its depth below the waist"),
        ("high_hip_drop", "high_hip", "a depth needs the girth measured there"),
        ("knee", "hip", "her legs are drawn below her hip"),
    ):
        if getattr(wearer, one) is not None and getattr(wearer, other) is None:
            yield Problem(
                f"wearer.{one}",
                one,
                f"{one} stands without {other}: {why}",
                f"Write {other} too, or leave {one} out",
            )


def body_in_order(design: Design) -> Iterator[Problem]:
    """High hip above hip, both above the floor; the knee below the hip."""
    wearer, waist = design.wearer, min(waist_heights(design))
    for key in ("high_hip_drop", "hip_drop", "knee_height"):
        size = getattr(wearer, key)
        if size is not None and size >= 0.9 * waist:
            yield Problem(
                f"wearer.{key}",
                show_length(size, design.units),
                f"this is nearly as much as the waist is above the floor ({both(waist)})",
                "Check the number and its unit",
            )
    if wearer.knee_height and wearer.hip_drop and wearer.knee_height >= waist - wearer.hip_drop:
        yield Problem(
            "wearer.knee_height",
            show_length(wearer.knee_height, design.units),
            f"the knee is not below the hip, which is {both(waist - wearer.hip_drop)} above the floor",
            "Check knee_height, hip_drop and waist_height, and their units",
        )
    if wearer.high_hip_drop and wearer.hip_drop and wearer.high_hip_drop >= wearer.hip_drop:
        yield Problem(
            "wearer.high_hip_drop",
            show_length(wearer.high_hip_drop, design.units),
            "the high hip lies above the hip",
            "Write a smaller depth than hip_drop",
        )


def one_knee_is_measured(design: Design) -> Iterator[Problem]:
    """Both knees together measure about six tenths of the hip, one less than four."""
    wearer = design.wearer
    if wearer.knee is not None and wearer.hip is not None and wearer.knee > trade.THICKEST_KNEE * wearer.hip:
        yield Problem(
            "wearer.knee",
            show_length(wearer.knee, design.units),
            f"this is more than one knee measures beside the hip ({both(wearer.hip)})",
            "Measure round one knee alone",
        )


def ovals_look_like_a_body(design: Design) -> Iterator[Problem]:
    wearer = design.wearer
    for key in ("waist", "hip"):
        breadth, depth = (getattr(wearer, f"{key}_{side}") for side in ("breadth", "depth"))
        if breadth is not None and depth is not None and max(breadth, depth) > 4 * min(breadth, depth):
            yield Problem(
                f"wearer.{key}_breadth",
                show_length(breadth, design.units),
                f"the {key} is more than four times as wide one way as the other",
                "Check both numbers and their units",
            )


def hip_measures_belong_together(design: Design) -> Iterator[Problem]:
    """Twice breadth plus depth is the most a girth can be, twice their diagonal the least; a tenth is allowed.

    Of the waist only the proportion is taken, so its breadth and depth may be any two numbers.
    """
    girth, breadth, depth = design.wearer.hip, design.wearer.hip_breadth, design.wearer.hip_depth
    if girth is None or breadth is None or depth is None:
        return
    least, most = 2 * hypot(breadth, depth), 2 * (breadth + depth)
    if not 0.9 * least <= girth <= 1.1 * most:
        yield Problem(
            "wearer.hip",
            show_length(girth, design.units),
            f"a hip {show_length(breadth, design.units)} wide and {show_length(depth, design.units)} deep measures"
            f" {show_length(least, design.units)} to {show_length(most, design.units)} round",
            "Check the three numbers and their units",
        )


def band_has_a_depth_for_a_waist(design: Design) -> Iterator[Problem]:
    depth = design.waistband.depth
    if depth > DEEPEST_BAND:
        yield Problem(
            "waistband.depth",
            show_length(depth, design.units),
            f"the waistband is {both(depth)} deep",
            "Write 1 in or so",
        )
    if design.waistband.overlap > 1.0:
        yield Problem(
            "waistband.overlap",
            show_length(design.waistband.overlap, design.units),
            "the waistband's overlap is longer than a waist",
            "Write 6 in or so",
        )


def nothing_too_heavy(design: Design) -> Iterator[Problem]:
    for number, hoop in enumerate(design.hoops):
        if hoop.carries > HEAVIEST:
            yield too_heavy(f"hoops[{number}].carries", hoop.carries, "what a hoop carries")


def too_heavy(where: str, weight: float, what: str) -> Problem:
    return Problem(
        where,
        f"{weight:g} kg",
        f"{what} of {weight:g} kg is more than a waist can bear ({HEAVIEST:g} kg)",
        "Check the number and its unit",
    )


def like_a_child(design: Design) -> bool:
    """Whether three measures are small together, in proportion to one another: one alone is rather a slip."""
    height, girths = min(waist_heights(design)), {key: getattr(design.wearer, key) for key in CHILD_SHARES}
    return CHILD_WAIST_HEIGHTS[0] <= height <= CHILD_WAIST_HEIGHTS[1] and all(
        girth is not None and CHILD_SHARES[key][0] <= girth / height <= CHILD_SHARES[key][1]
        for key, girth in girths.items()
    )


def usual_sizes(design: Design) -> Iterator[Problem]:
    if like_a_child(design):
        return
    sizes = {
        "waist": (design.wearer.waist,),
        "hip": (design.wearer.hip,),
        "waist_height": waist_heights(design),
    }
    for key, (low, high) in USUAL.items():
        for size in sizes[key]:
            if size is not None and (exceeds(low, size) or exceeds(size, high)):
                yield Problem(
                    f"wearer.{key}",
                    show_length(size, design.units),
                    f"the {key.replace('_', ' ')} is out of the ordinary for a grown wearer",
                    f"Usual is {both(low)} to {both(high)}",
                )


def hip_below_waist(design: Design) -> Iterator[Problem]:
    hip, waist = design.wearer.hip, design.wearer.waist
    if hip is not None and hip < waist - HIP_BELOW_WAIST:
        yield Problem(
            "wearer.hip",
            show_length(hip, design.units),
            f"the hip is smaller than the waist ({both(waist)})",
            "Check that the two are not exchanged",
        )


RULES = (
    sizes_a_person_can_have,
    measures_that_go_together,
    body_in_order,
    ovals_look_like_a_body,
    one_knee_is_measured,
    hip_measures_belong_together,
    band_has_a_depth_for_a_waist,
    nothing_too_heavy,
)
REMARKS = (usual_sizes, hip_below_waist)

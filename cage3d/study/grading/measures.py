"""A wearer's measures put into the design: those that were taken, and the rest by proportion from the design's own."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from copy import deepcopy
from dataclasses import dataclass, replace
from typing import Any

from cage3d.design.models import Design, WaistHeights, Wearer
from cage3d.shape.form import mean_waist_height
from cage3d.steady import steady
from cage3d.study.aiming.writing import length_text
from cage3d.study.grading.wearers import PER_SIDE, Entry

WITH_WAIST = ("waist_breadth", "waist_depth")
WITH_HEIGHT = ("high_hip_drop", "hip_drop", "knee_height")
WITH_HIP = ("hip_breadth", "hip_depth", "knee")
SAME = 1e-6  # share by which two measures differ that are the same


@dataclass(frozen=True)
class Taken:
    """A measure that her line does not give."""

    key: str  # of the design's `wearer`
    metres: float
    how: str  # it follows from the design's


def with_measures(
    data: Mapping[str, Any], design: Design, row: Entry, step: float
) -> tuple[dict[str, Any], tuple[Taken, ...]]:
    """The design's plain data with her measures, and what of them was taken from the design's wearer.

    data: as the reader gives it, and `design` the same read. step: to which measures that are taken are rounded (m).
    """
    told = deepcopy(dict(data))
    wearer = told["wearer"]
    wearer["code"] = row.code
    found = by_proportion(design.wearer, row)
    taken = tuple(replace(one, metres=steady(one.metres / step, 0) * step) for one in found)
    for one in taken:
        wearer[one.key] = length_text(one.metres, str(wearer[one.key]), design.units, step)
    wearer.update(deepcopy(dict(row.given)))
    return told, taken


def by_proportion(own: Wearer, row: Entry) -> Iterator[Taken]:
    """What the design says of its own wearer and her line does not say of her.

    Breadths and depths grow with their girth, depths below the waist with its height. A hip is as much more than the
    waist as the design's: tables of sizes go up by the same steps at both [from memory]. The high hip lies between
    the two as the design's does.
    """
    given = row.metres
    wider = given["waist"] / own.waist
    taller = height_of(row, own) / mean_waist_height(own)
    hip = given.get("hip", None if own.hip is None else own.hip + given["waist"] - own.waist)
    same = abs(wider - 1.0) < SAME
    if hip is not None and own.hip is not None and "hip" not in given and not same:
        yield Taken("hip", hip, "as much more than the waist")
    for key in WITH_WAIST:
        yield from taken(own, key, given, wider, "in proportion to the waist")
    for key in WITH_HEIGHT:
        yield from taken(own, key, given, taller, "in proportion to the height of the waist")
    if hip is None or own.hip is None:
        return
    for key in WITH_HIP:
        yield from taken(own, key, given, hip / own.hip, "in proportion to the hip")
    same = same and abs(hip / own.hip - 1.0) < SAME
    if own.high_hip is not None and "high_hip" not in given and not same:
        share = (own.high_hip - own.waist) / (own.hip - own.waist) if own.hip != own.waist else 0.5
        between = given["waist"] + share * (hip - given["waist"])
        yield Taken("high_hip", between, "between waist and hip")


def taken(own: Wearer, key: str, given: Mapping[str, float], ratio: float, how: str) -> Iterator[Taken]:
    size = getattr(own, key)
    if size is not None and key not in given and abs(ratio - 1.0) > SAME:
        yield Taken(key, ratio * size, how)


def height_of(row: Entry, own: Wearer) -> float:
    """m, the mean height of her waist above the floor; as the design's wearer's where none was taken."""
    if "waist_height" in row.metres:
        return row.metres["waist_height"]
    if PER_SIDE[0] in row.metres:
        return sum(row.metres[side] for side in PER_SIDE) / len(PER_SIDE)
    return mean_waist_height(own)


def leans(wearer: Wearer) -> bool:
    """Whether her waist is higher on one side than on the other."""
    heights = wearer.waist_height
    return isinstance(heights, WaistHeights) and abs(heights.left - heights.right) > 1e-6

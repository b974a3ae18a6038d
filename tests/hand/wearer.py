"""The wearer and her waistband, key by key: the arithmetic written out."""

from __future__ import annotations

from math import pi, sqrt
from typing import Any

from hand.cage import RADIUS, Figure, anchors, body_at, cells, levels, out_at

# An ellipse of half axes a and b has the girth pi (3(a + b) - sqrt((3a + b)(a + 3b))) (Ramanujan): 15.865 for 3 and 2.
THREE_BY_TWO = pi * (15 - sqrt(11 * 9))
# A girth of 600 of the usual proportion, 1 to 0.709.
USUAL_WAIST = 0.6 / (pi * (3 * 1.709 - sqrt(3.709 * 3.127)))
HIP = {"hip": 1000, "hip_drop": 200, "hip_breadth": 320, "hip_depth": 320}  # round: radius 1/2pi
HIGH = HIP | {"high_hip": 900, "high_hip_drop": 150}
# One of two legs under that hip: 49.5 % of the pair's half breadth, and where both ovals meet as much bend, so
# sqrt(0.495) of its half depth. 67 % and 55 % of the hip's at the knee (from memory); round it by Ramanujan.
LEG = (0.495 * 0.67, sqrt(0.495) * 0.55)
ROUND_LEG = RADIUS * pi * (3 * sum(LEG) - sqrt((3 * LEG[0] + LEG[1]) * (LEG[0] + 3 * LEG[1])))
FOUR_LEVELS = {"front": 1004, "left": 1010, "back": 1040, "right": 990}


def pad(**more: Any) -> dict[str, Any]:
    """40 mm at the back, its middle on the hip and its edges 100 mm above and below."""
    line = {"place": "back", "thickness": 40, "height": 200, "drop": 200}
    return {"padding": [line | more], "hoops": [{"length": 1400, "join": "none"}]}


def wearer(**more: Any) -> dict[str, Any]:
    return {"wearer": more}


WEARER = [
    Figure("wearer.waist", wearer(waist=660), lambda cage: anchors(cage)[1, 0], 0.66 / (2 * pi)),
    Figure(
        "wearer.waist_breadth", wearer(waist_breadth=286.5), lambda cage: anchors(cage)[1, 0], 0.6 * 3 / THREE_BY_TWO
    ),
    Figure(
        "wearer.waist_depth", wearer(waist_depth=286.5), lambda cage: anchors(cage)[2, 1], 0.6 * 3 / THREE_BY_TWO
    ),
    Figure(
        "wearer.waist_breadth", wearer(waist_breadth=None, waist_depth=None),
        lambda cage: [anchors(cage)[1, 0], anchors(cage)[2, 1]], [USUAL_WAIST, 0.709 * USUAL_WAIST],
    ),
    # The band's lower edge is half its 20 mm below the waist.
    Figure("wearer.waist_height", wearer(waist_height=1100), levels, [1.090] * 4),
    Figure(
        "wearer.waist_height.front", wearer(waist_height=FOUR_LEVELS), lambda cage: levels(cage)[0], 0.994,
    ),
    Figure("wearer.waist_height.left", wearer(waist_height=FOUR_LEVELS), lambda cage: levels(cage)[1], 1.000),
    Figure("wearer.waist_height.back", wearer(waist_height=FOUR_LEVELS), lambda cage: levels(cage)[2], 1.030),
    Figure(
        "wearer.waist_height.right", wearer(waist_height=FOUR_LEVELS), lambda cage: levels(cage)[3], 0.980,
    ),
    # Half way from front to left: the mean 1011, and half of 1004 - 1040 and of 1010 - 990, each by cos 45.
    Figure(
        "wearer.waist_height.left", wearer(waist_height=FOUR_LEVELS) | {"tapes": {"count": 8}},
        lambda cage: levels(cage)[1], 1.011 - 0.010 + (-0.018 + 0.010) * sqrt(0.5),
    ),
    Figure("wearer.hip", wearer(**HIP | {"hip": 950}), body_at(0.800), (0.95 / (2 * pi),) * 2),
    Figure("wearer.hip_drop", wearer(**HIP | {"hip_drop": 240}), body_at(0.760), (RADIUS,) * 2),
    # 1000 is less than the ellipse of this breadth and depth (3 to 2) has round it: the proportion is kept.
    Figure(
        "wearer.hip_breadth", wearer(**HIP | {"hip_breadth": 390, "hip_depth": 260}), body_at(0.800),
        (3 / THREE_BY_TWO, 2 / THREE_BY_TWO),
    ),
    Figure(
        "wearer.hip_depth", wearer(**HIP | {"hip_breadth": 260, "hip_depth": 390}), body_at(0.800),
        (2 / THREE_BY_TWO, 3 / THREE_BY_TWO),
    ),
    Figure(
        "wearer.high_hip", wearer(**HIP, high_hip=900, high_hip_drop=100), body_at(0.900),
        (0.9 / (2 * pi),) * 2,
    ),
    Figure(
        "wearer.high_hip_drop", wearer(**HIP, high_hip=900, high_hip_drop=60), body_at(0.940),
        (0.9 / (2 * pi),) * 2,
    ),
    # The hip is round with a radius of 1/2pi, and 0.9/2pi 50 mm above: where its middle lies a pad stands out by its
    # thickness, and half way to its edge by (1 - 1/16)^3 of that share of the radius.
    Figure("padding.place", wearer(**HIP) | pad(place="left"), out_at(0.800, 0.25), RADIUS + 0.040),
    Figure("padding.thickness", wearer(**HIP) | pad(thickness=30), out_at(0.800, 0.5), RADIUS + 0.030),
    Figure(
        "padding.drop", wearer(**HIGH) | pad(drop=150), out_at(0.800, 0.5),
        RADIUS * (1 + 0.040 / (0.9 * RADIUS) * (15 / 16) ** 3),
    ),
    Figure(
        "padding.height", wearer(**HIGH) | pad(), out_at(0.850, 0.5),
        0.9 * RADIUS * (1 + 0.040 / RADIUS * (15 / 16) ** 3),
    ),
    # 67 % of the hip's breadth and 55 % of its depth at the knee (from memory).
    Figure(
        "wearer.knee_height", wearer(**HIP, knee_height=400), body_at(0.400), (0.67 * RADIUS, 0.55 * RADIUS),
    ),
    Figure(
        "wearer.knee", wearer(**HIP, knee_height=400, knee=420), body_at(0.400),
        (0.67 * RADIUS * 0.420 / ROUND_LEG, 0.55 * RADIUS * 0.420 / ROUND_LEG),
    ),
    Figure("waistband.depth", {"waistband": {"depth": 50}}, levels, [0.975] * 4),
    # Two layers of the waist and the overlap.
    Figure(
        "waistband.overlap", {"waistband": {"overlap": 200}},
        cells("materials", "needed", material="Ribbon for the waistband"), [2 * (0.600 + 0.200)],
    ),
]  # fmt: skip

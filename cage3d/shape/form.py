"""The wearer below the waist: stacked ovals scaled to the measured girths.

Where only a girth was measured the usual proportion is taken and scaled to it. A body's section is
fuller than an ellipse of the same breadth and depth; the means of a survey stand in the trade table.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property, lru_cache

import numpy as np
from scipy.interpolate import BPoly, PchipInterpolator, PPoly
from scipy.optimize import brentq

from cage3d.design import trade
from cage3d.design.models import Padding, WaistHeights, Wearer
from cage3d.shape.arrays import Floats
from cage3d.shape.legs import Pair
from cage3d.shape.ovals import at_fractions, girth_of, oval_points, scaled_to_girth
from cage3d.shape.padding import Pad

LEAST_THIGH = 0.05  # m; a knee that was measured nearer to the crotch leaves no thigh to draw


@dataclass(frozen=True)
class Oval:
    """One oval of the form."""

    height: float  # m above the floor
    half_breadth: float  # m, side to side
    half_depth: float  # m, front to back
    power: float  # 2 for an ellipse, above 2 for a fuller oval


@lru_cache(maxsize=16)
def smooth_profile(sections: tuple[Oval, ...]) -> PPoly:
    """Half breadth, half depth (m) and power over height; kept, since a cage settled again has the same wearer.

    Rises and falls with the sections as PCHIP does, whose slopes it has; the second derivative at a
    section is the lesser of PCHIP's to both sides, and nothing where they differ in sign: a stretch that
    does not change stays so.
    """
    table = np.array(sorted((s.height, s.half_breadth, s.half_depth, s.power) for s in sections))
    levels, values = table[:, 0], table[:, 1:]
    plain = PchipInterpolator(levels, values)
    second = plain.derivative(2)
    # Either side of every section; at the ends the one side there is.
    below = second(np.maximum(levels - 1e-9, levels[0] + 1e-9))
    above = second(np.minimum(levels + 1e-9, levels[-1] - 1e-9))
    lesser = np.where(below * above > 0.0, np.sign(below) * np.minimum(np.abs(below), np.abs(above)), 0.0)
    each = np.stack([values, plain.derivative(1)(levels), lesser], axis=1)
    return PPoly.from_bernstein_basis(BPoly.from_derivatives(levels, each))


@lru_cache(maxsize=16)
def profile_with_slopes(sections: tuple[Oval, ...]) -> PPoly:
    """The same with its first and second derivative beside it, nine figures a height: asked for at once, they cost
    little more than one.
    """
    plain = smooth_profile(sections)
    orders = [plain.derivative(order).c for order in range(3)]
    level = [np.concatenate([np.zeros_like(plain.c[: len(plain.c) - len(c)]), c]) for c in orders]
    return PPoly(np.concatenate(level, axis=2), plain.x)


@dataclass(frozen=True)
class Form:
    """The wearer from the waist to the floor; sections from the top."""

    sections: tuple[Oval, ...]
    pads: tuple[Pad, ...] = ()

    def swelling(self, points: Floats) -> Floats:
        """(n,) how much wider the pads make the form at points (n, 3) m, as a share of its radius there."""
        return np.asarray(sum((pad.swelling(points) for pad in self.pads), np.zeros(len(points))))

    def swelling_derivatives(self, points: Floats) -> tuple[Floats, Floats, Floats]:
        """((n,), (n, 3), (n, 3, 3)) ln(1 + swelling), its gradient and its Hessian over the place."""
        each = [pad.derivatives(points) for pad in self.pads]
        swollen, gradient, hessian = (sum(parts) for parts in zip(*each, strict=True))
        slope = gradient / (1.0 + swollen)[:, None]
        return (
            np.log1p(swollen),
            slope,
            hessian / (1.0 + swollen)[:, None, None] - slope[:, :, None] * slope[:, None, :],
        )

    @cached_property
    def profile(self) -> PPoly:
        """Half breadth, half depth (m) and power over height, with two continuous derivatives."""
        return smooth_profile(self.sections)

    @cached_property
    def profile_with_slopes(self) -> PPoly:
        return profile_with_slopes(self.sections)

    def profile_and_slopes(self, heights: Floats) -> tuple[Floats, Floats, Floats]:
        """(3, n) the profile and its first and second derivative over height."""
        each = np.ascontiguousarray(self.profile_with_slopes(heights).T)
        return each[:3], each[3:6], each[6:]

    def at(self, heights: Floats) -> tuple[Floats, Floats, Floats]:
        """Half breadth, half depth (m) and power of the oval at each height, smooth between sections."""
        levels = [section.height for section in self.sections]
        smooth = np.asarray(self.profile(np.clip(heights, min(levels), max(levels))))
        return smooth[..., 0], smooth[..., 1], smooth[..., 2]

    def ring(self, height: float, count: int = 96) -> Floats:
        """(count, 3) m, evenly spaced places round the form at one height, from centre front by the left."""
        half_breadth, half_depth, power = (float(value) for value in self.at(np.array(height)))
        flat = at_fractions(oval_points(half_breadth, half_depth, power), np.arange(count) / count)
        ring = np.column_stack([flat, np.full(count, height)])
        ring[:, :2] *= 1.0 + self.swelling(ring)[:, None]
        return ring

    def fullness(self, points: Floats) -> Floats:
        """(n,) how far out each point (n, 3) lies: 1 on the form, less than 1 inside it."""
        half_breadth, half_depth, power = self.at(points[:, 2])
        across, along = np.abs(points[:, 0]) / half_breadth, np.abs(points[:, 1]) / half_depth
        return np.asarray((across**power + along**power) ** (1.0 / power) / (1.0 + self.swelling(points)))

    def clearance(self, points: Floats) -> Floats:
        """(n,) m, level distance outside the form along the ray from its axis; negative inside."""
        out = np.hypot(points[:, 0], points[:, 1])
        fullness = self.fullness(points)
        half_breadth, half_depth, _ = self.at(points[:, 2])
        # On the axis the ray has no direction; the least half measure is then the way out.
        on_axis = fullness < 1e-9
        along_ray = out - out / np.where(on_axis, 1.0, fullness)
        return np.asarray(np.where(on_axis, -np.minimum(half_breadth, half_depth), along_ray))


def mean_waist_height(wearer: Wearer) -> float:
    """m above the floor."""
    level = wearer.waist_height
    if isinstance(level, WaistHeights):
        return (level.front + level.left + level.back + level.right) / 4.0
    return level


def fuller_oval(girth: float, breadth: float | None, depth: float | None, usual: tuple[float, float]) -> Oval:
    """The oval of a measured girth (height 0): fullness from breadth and depth where given, else the usual.

    usual: depth per breadth, and girth over that of the ellipse of the same breadth and depth.
    """
    proportion, fullness = usual
    if breadth is None or depth is None:
        power = power_of_fullness(proportion, fullness)
        return Oval(0.0, *scaled_to_girth(1.0, proportion, girth, power), power)
    ellipse = girth_of(oval_points(breadth / 2.0, depth / 2.0))
    power = power_of_fullness(depth / breadth, girth / ellipse)
    return Oval(0.0, *scaled_to_girth(breadth, depth, girth, power), power)


@lru_cache(maxsize=16)  # of a wearer two, asked for anew with every cage that is laid out for her
def power_of_fullness(proportion: float, fullness: float) -> float:
    """Power of the oval whose girth is `fullness` times the ellipse's; kept between 2 and 4."""
    ellipse = girth_of(oval_points(0.5, proportion / 2.0))

    def excess(power: float) -> float:
        return girth_of(oval_points(0.5, proportion / 2.0, power)) / ellipse - fullness

    if excess(2.0) >= 0.0:
        return 2.0
    if excess(4.0) <= 0.0:
        return 4.0
    return float(brentq(excess, 2.0, 4.0, xtol=1e-6))


def build_form(wearer: Wearer, padding: Sequence[Padding] = ()) -> Form | None:
    """The form of the measures given, with what is worn under the cage, or None where no hip was measured."""
    if wearer.hip is None or wearer.hip_drop is None:
        return None
    top = mean_waist_height(wearer)
    usual_waist = (trade.WAIST_DEPTH_PER_BREADTH, trade.WAIST_FULLNESS)
    usual_hip = (trade.HIP_DEPTH_PER_BREADTH, trade.HIP_FULLNESS)
    waist = fuller_oval(wearer.waist, wearer.waist_breadth, wearer.waist_depth, usual_waist)
    hip = fuller_oval(wearer.hip, wearer.hip_breadth, wearer.hip_depth, usual_hip)
    sections = [at_height(waist, top)]
    if wearer.high_hip is not None and wearer.high_hip_drop is not None:
        between = between_ovals(waist, hip, wearer.high_hip, wearer.high_hip_drop / wearer.hip_drop)
        sections.append(at_height(between, top - wearer.high_hip_drop))
    hip = at_height(hip, top - wearer.hip_drop)
    bare = Form((*sections, hip, *legs_under(hip, wearer)))
    return replace(
        bare, pads=tuple(pad for one in padding for pad in pads_on(bare, one, top, wearer.hip_drop))
    )


def knee_and_crotch(hip_height: float, knee_height: float | None) -> tuple[float, float]:
    """m above the floor."""
    knee = trade.KNEE_PER_HIP * hip_height if knee_height is None else knee_height
    return knee, trade.CROTCH_PER_HIP * hip_height


def legs_under(hip: Oval, wearer: Wearer) -> list[Oval]:
    """Both legs as one, standing together, from the crotch (where the knee leaves room for it) to the floor."""
    knee, crotch = knee_and_crotch(hip.height, wearer.knee_height)
    above = [(crotch - share * (crotch - knee), *sizes) for share, *sizes in trade.LEGS_ABOVE_KNEE]
    below = [(knee * (1.0 - share), *sizes) for share, *sizes in trade.LEGS_BELOW_KNEE]
    if knee > crotch - LEAST_THIGH:
        above = above[-1:]
    legs = [
        Oval(height, hip.half_breadth * breadth, hip.half_depth * depth, hip.power)
        for height, breadth, depth in [*above, *below]
    ]
    return legs if wearer.knee is None else with_knee(legs, len(above) - 1, wearer.knee)


def with_knee(legs: Sequence[Oval], place: int, girth: float) -> list[Oval]:
    """Legs whose section number `place` measures `girth` (m) round one knee, and the calf below in proportion."""
    knee = legs[place]
    share = girth / Pair(knee.half_breadth, knee.half_depth, knee.power).leg_girth
    return [
        replace(leg, half_breadth=leg.half_breadth * share, half_depth=leg.half_depth * share)
        if number in (place, place + 1)
        else leg
        for number, leg in enumerate(legs)
    ]


def pads_on(bare: Form, padding: Padding, top: float, hip_drop: float) -> list[Pad]:
    """The pads of one line of padding, on the form without any."""
    level = trade.PAD_LEVEL[padding.place] * hip_drop if padding.drop is None else padding.drop
    pads = []
    for centre, reach in trade.PAD_PLACES[padding.place]:
        turn = 2.0 * np.pi * centre
        ray = np.array([[np.sin(turn), -np.cos(turn), top - level]])
        radius = float(1.0 / bare.fullness(ray)[0])  # the ray is 1 m long
        pads.append(Pad(centre, reach, top - level, padding.height / 2.0, padding.thickness / radius))
    return pads


def at_height(section: Oval, height: float) -> Oval:
    return Oval(height, section.half_breadth, section.half_depth, section.power)


def between_ovals(upper: Oval, lower: Oval, girth: float, share: float) -> Oval:
    """The oval of a measured girth between two others, of the proportion found at `share` of the way down."""
    breadth = (1 - share) * upper.half_breadth + share * lower.half_breadth
    depth = (1 - share) * upper.half_depth + share * lower.half_depth
    power = (1 - share) * upper.power + share * lower.power
    return Oval(0.0, *scaled_to_girth(2 * breadth, 2 * depth, girth, power), power)

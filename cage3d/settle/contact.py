"""The gap between points and the wearer's form, with its derivatives.

The gap is measured as `s ln(fullness)`, with s the form's largest mean half measure: zero on the
form, negative inside, with a gradient that is continuous off the axis, and close to metres near the
form. What has a thickness keeps off by it: the form is then wider and deeper by that much all round.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from cage3d.shape.arrays import Floats, Ints
from cage3d.shape.form import Form

# Nearer to a plane of symmetry than this the logarithm is cut off; the gap there is flat to 1e-12 m.
LEAST = 1e-6
NEAR = 0.05  # m beyond the form's largest half measure, within which a point is looked at closely


@dataclass(frozen=True)
class FormGap:
    """The gap to one form; `off` is how far (m) what is asked about keeps off it: one figure or (n,)."""

    form: Form

    @cached_property
    def scale(self) -> float:
        """m, mean half measure of the fullest section."""
        return max((section.half_breadth + section.half_depth) / 2.0 for section in self.form.sections)

    @cached_property
    def reach(self) -> float:
        """m, farther from the axis than this nothing touches."""
        bare = max(max(s.half_breadth, s.half_depth) for s in self.form.sections)
        return bare * (1.0 + sum(pad.share for pad in self.form.pads)) + NEAR

    @cached_property
    def levels(self) -> tuple[float, float]:
        """m, lowest and highest height of the form."""
        heights = [section.height for section in self.form.sections]
        return min(heights), max(heights)

    def near(self, points: Floats) -> Ints:
        """Indices of the points (n, 3) that could be inside: a quick sieve before the full sum."""
        low, high = self.levels
        x, y, z = points.T
        return np.flatnonzero((z > low) & (z < high) & (x * x + y * y < self.reach**2))

    def gaps(self, points: Floats, off: Floats | float = 0.0) -> Floats:
        """(n,) about metres outside the form; negative inside."""
        measures = self.form.profile(points[:, 2]).T
        half, power = measures[:2] + off, measures[2]
        along_x, along_y = power * np.log(np.maximum(np.abs(points[:, :2].T), LEAST) / half)
        fullness = np.logaddexp(along_x, along_y) / power
        if self.form.pads:
            fullness -= np.log1p(self.form.swelling(points))
        return np.asarray(self.scale * fullness)

    def change_with_off(self, points: Floats, off: Floats) -> Floats:
        """(n,) how the gap changes a metre that the points keep off farther; about -1."""
        measures = self.form.profile(points[:, 2]).T
        half, power = measures[:2] + off, measures[2]
        terms = power * np.log(np.maximum(np.abs(points[:, :2].T), LEAST) / half)
        weight = np.exp(terms - np.logaddexp(*terms))
        return np.asarray(-self.scale * (weight / half).sum(axis=0))

    def derivatives(self, points: Floats, off: Floats | float = 0.0) -> tuple[Floats, Floats, Floats]:
        """((n,) gaps, (n, 3) gradients, (n, 3, 3) Hessians)."""
        value, slope, second = self.form.profile_and_slopes(points[:, 2])
        power, rate, bend = value[2], slope[2], second[2]
        # Two terms, one along x and one along y: t = power ln(|place| / half measure); (2, n).
        flat = points[:, :2].T
        place = np.where(np.abs(flat) < LEAST, np.copysign(LEAST, flat), flat)
        half = value[:2] + off
        logs = np.log(np.abs(place) / half)
        wider = slope[:2] / half  # of the half measure's logarithm over height
        level = power / place  # dt over x or y
        upward = rate * logs - power * wider  # dt over z
        rising = bend * logs - 2.0 * rate * wider - power * (second[:2] / half - wider**2)
        terms = power * logs
        total = np.logaddexp(*terms)
        weight = np.exp(terms - total)
        # The sum ln(exp t_x + exp t_y), and then that over the power, which changes with height too.
        gradient = np.empty((3, len(points)))
        gradient[:2], gradient[2] = weight * level, (weight * upward).sum(axis=0)
        hessian = -gradient[:, None] * gradient
        hessian[[0, 1], [0, 1]] += weight * (level - 1.0 / place) * level
        hessian[2, 2] += (weight * (rising + upward**2)).sum(axis=0)
        across = weight * (rate / place + level * upward)
        hessian[:2, 2] += across
        hessian[2, :2] += across
        bare = self.shared_by_power(total, gradient, hessian, (power, rate, bend))
        return bare if not self.form.pads else self.over_pads(points, *bare)

    def shared_by_power(
        self, total: Floats, gradient: Floats, hessian: Floats, powers: tuple[Floats, Floats, Floats]
    ) -> tuple[Floats, Floats, Floats]:
        """((n,), (n, 3), (n, 3, 3)) scale * total / power and its derivatives.

        total: (n,) with its derivatives (3, n) and (3, 3, n), which are spoilt; powers: (n,) power and its two slopes
        over height.
        """
        power, rate, bend = powers
        inverse, inverse_rate = self.scale / power, -self.scale * rate / power**2
        hessian *= inverse
        mixed = inverse_rate * gradient
        hessian[2] += mixed
        hessian[:, 2] += mixed
        hessian[2, 2] += self.scale * (2.0 * rate**2 / power**3 - bend / power**2) * total
        gradient *= inverse
        gradient[2] += inverse_rate * total
        return total * inverse, gradient.T, hessian.T

    def over_pads(
        self, points: Floats, gaps: Floats, gradient: Floats, hessian: Floats
    ) -> tuple[Floats, Floats, Floats]:
        """The gap to the bare form and its derivatives, less what the pads take of it."""
        taken, slope, curve = self.form.swelling_derivatives(points)
        return gaps - self.scale * taken, gradient - self.scale * slope, hessian - self.scale * curve

"""Contact without friction: hoops outside the wearer's form and above the floor.

The gap to the form is measured as `s ln(fullness)`, with s the hip's mean half measure: zero
on the form, negative inside, with a gradient that is continuous off the axis, and close to metres
near the form.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from scipy.interpolate import PchipInterpolator

from cage3d.settle.arithmetic import outer
from cage3d.shape.arrays import Floats
from cage3d.shape.form import Form

# Nearer to a plane of symmetry than this the logarithm is cut off; the gap there is flat to 1e-12 m.
LEAST = 1e-6


@dataclass(frozen=True)
class FormGap:
    """The gap between points and the wearer's form, with first and second derivatives."""

    form: Form

    @cached_property
    def scale(self) -> float:
        """m, mean half measure of the fullest section."""
        return max((section.half_breadth + section.half_depth) / 2.0 for section in self.form.sections)

    @cached_property
    def profile(self) -> tuple[PchipInterpolator, PchipInterpolator, PchipInterpolator]:
        """ln half breadth, ln half depth and 1 / power over height, with their derivatives."""
        rows = sorted(
            (s.height, np.log(s.half_breadth), np.log(s.half_depth), s.power) for s in self.form.sections
        )
        table = np.array(rows)
        smooth = PchipInterpolator(table[:, 0], table[:, 1:])
        return smooth, smooth.derivative(1), smooth.derivative(2)

    def near(self, points: Floats, margin: float = 0.05) -> np.ndarray[tuple[int], np.dtype[np.intp]]:
        """Indices of the points (n, 3) that could be inside: a quick sieve before the full sum."""
        heights = [section.height for section in self.form.sections]
        level = (points[:, 2] > min(heights)) & (points[:, 2] < max(heights))
        reach = max(max(s.half_breadth, s.half_depth) for s in self.form.sections) + margin
        return np.flatnonzero(level & (np.hypot(points[:, 0], points[:, 1]) < 1.2 * reach))

    def gaps(self, points: Floats) -> Floats:
        """(n,) about metres outside the form; negative inside."""
        breadth, depth, power = (column for column in self.profile[0](points[:, 2]).T)
        along_x = power * (np.log(np.maximum(np.abs(points[:, 0]), LEAST)) - breadth)
        along_y = power * (np.log(np.maximum(np.abs(points[:, 1]), LEAST)) - depth)
        return np.asarray(self.scale * np.logaddexp(along_x, along_y) / power)

    def derivatives(self, points: Floats) -> tuple[Floats, Floats, Floats]:
        """((n,) gaps, (n, 3) gradients, (n, 3, 3) Hessians)."""
        value, slope, second = (spline(points[:, 2]) for spline in self.profile)
        power, rate, bend = value[:, 2], slope[:, 2], second[:, 2]
        terms = [log_term(points[:, axis], axis, value, slope, second) for axis in (0, 1)]
        total = np.logaddexp(terms[0][0], terms[1][0])
        gradient, hessian = np.zeros((len(points), 3)), np.zeros((len(points), 3, 3))
        for height, first, curve in terms:
            weight = np.exp(height - total)
            gradient += weight[:, None] * first
            hessian += weight[:, None, None] * (curve + outer(first, first))
        hessian -= outer(gradient, gradient)
        # The gap is total / power, and the power too changes with height.
        inverse = 1.0 / power
        inverse_rate, inverse_bend = -rate / power**2, 2.0 * rate**2 / power**3 - bend / power**2
        hessian *= inverse[:, None, None]
        cross_term = inverse_rate[:, None] * gradient
        hessian[:, 2, :] += cross_term
        hessian[:, :, 2] += cross_term
        hessian[:, 2, 2] += inverse_bend * total
        gradient *= inverse[:, None]
        gradient[:, 2] += inverse_rate * total
        return self.scale * total * inverse, self.scale * gradient, self.scale * hessian


def log_term(
    place: Floats, axis: int, value: Floats, slope: Floats, second: Floats
) -> tuple[Floats, Floats, Floats]:
    """power * (ln|place| - ln half measure): (n,), (n, 3) gradient, (n, 3, 3) Hessian over x, y, z."""
    power, rate, bend = value[:, 2], slope[:, 2], second[:, 2]
    safe = np.where(np.abs(place) < LEAST, np.copysign(LEAST, place), place)
    depth = np.log(np.abs(safe)) - value[:, axis]
    gradient, hessian = np.zeros((len(place), 3)), np.zeros((len(place), 3, 3))
    gradient[:, axis] = power / safe
    gradient[:, 2] = rate * depth - power * slope[:, axis]
    hessian[:, axis, axis] = -power / safe**2
    hessian[:, axis, 2] = hessian[:, 2, axis] = rate / safe
    hessian[:, 2, 2] = bend * depth - 2.0 * rate * slope[:, axis] - power * second[:, axis]
    return power * depth, gradient, hessian

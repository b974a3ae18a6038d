"""What moments about a bend's three turns do to its edges: gradient and second derivative of the turns times the
moments, in closed form.

First derivatives: Bergou et al. 2010, section 6. Second derivatives: of the same quantities, at the state from which
the frames are carried; proved in the tests by the slope of the Taylor remainder. Both curvatures are linear in the
axis that they are taken about, so all three turns are summed before anything is multiplied out.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from cage3d.settle.arithmetic import cross, dot, upper_entries, upper_place
from cage3d.settle.kinematics import RodShape
from cage3d.settle.terms.bending import Bend, at_bends
from cage3d.shape.arrays import Floats, Ints

CORNERS = ((0, 1, 2), (1, 2, 0), (2, 0, 1))  # x, y, z and what follows each in a cross product
# Among the upper entries of a bend's second derivative, column after column: those over one edge, and over both.
ROW, COLUMN = upper_entries(3)
EACH_COLUMN, EACH_ROW = np.divmod(np.arange(9), 3)
BEFORE, AFTER = upper_place(ROW, COLUMN), upper_place(3 + ROW, 3 + COLUMN)
BOTH = upper_place(EACH_ROW, 3 + EACH_COLUMN)
ON_DIAGONAL, ON_BOTH_DIAGONALS = np.flatnonzero(ROW == COLUMN), np.flatnonzero(EACH_ROW == EACH_COLUMN)


@dataclass(frozen=True)
class Moments:
    """Moments (B,) N m about width, thickness and along the strip, on bends with these turns (B,) rad."""

    bend: Bend
    rod: RodShape
    turns: tuple[Floats, Floats, Floats]
    about: tuple[Floats, Floats, Floats]

    def axes(self, edges: Ints) -> Floats:
        """(B, 3) N m, the axes that both curvatures are taken about, times the moments."""
        width, thickness, _ = self.about
        widths, normals = at_bends(self.rod.widths, edges), at_bends(self.rod.normals, edges)
        return width[:, None] * widths - thickness[:, None] * normals

    @cached_property
    def before(self) -> Floats:
        """(B, 3) N m, those axes on the edge before."""
        return self.axes(self.bend.before)

    @cached_property
    def after(self) -> Floats:
        """(B, 3) N m, the same on the edge after."""
        return self.axes(self.bend.after)

    @cached_property
    def work(self) -> Floats:
        """(B,) N m, moments times curvatures."""
        return np.asarray(self.about[0] * self.turns[0] + self.about[1] * self.turns[1])

    @cached_property
    def mean(self) -> Floats:
        """(B, 3) N m, the axes' sum over 1 + cosine of the turn."""
        return np.asarray((self.before + self.after) / self.bend.chi[:, None])

    @cached_property
    def ahead(self) -> Floats:
        """(B, 3) N m, what the curvatures' slopes over the edge before are, backwards, times its length."""
        return np.asarray(self.work[:, None] * self.bend.tilde - cross(self.bend.second, self.mean))

    @cached_property
    def behind(self) -> Floats:
        """(B, 3) N m, the same of the edge after."""
        return np.asarray(self.work[:, None] * self.bend.tilde + cross(self.bend.first, self.mean))

    @cached_property
    def rates(self) -> tuple[Floats, Floats]:
        """(B, 3) N m, how the axes turn with the angle of the edge before and of that after."""
        return cross(self.bend.first, self.before), cross(self.bend.second, self.after)

    @cached_property
    def inverse(self) -> tuple[Floats, Floats]:
        """(B,) 1/m, of the lengths of the edges before and after."""
        return 1.0 / self.rod.lengths[self.bend.before], 1.0 / self.rod.lengths[self.bend.after]

    def gradient(self) -> Floats:
        """(8, B) N on the edges and N m on the angles."""
        (before, after), (first, second) = self.inverse, self.rates
        twisted = (0.5 * self.about[2])[:, None] * self.bend.binormal
        slopes = np.empty((8, len(before)))
        slopes[0:3] = before * (twisted - self.ahead).T
        slopes[3:6] = after * (twisted - self.behind).T
        slopes[6] = 0.5 * dot(self.bend.binormal, first) - self.about[2]
        slopes[7] = 0.5 * dot(self.bend.binormal, second) + self.about[2]
        return slopes

    def second(self) -> Floats:
        """(36, B) the upper entries of the second derivative over edges and angles, column after column."""
        bend, (before, after) = self.bend, self.inverse
        twist, over = self.about[2][:, None], self.work / bend.chi
        curves = np.zeros((36, len(before)))
        own = 0.25 * (self.before - twist * (bend.first + bend.tilde))
        other = 0.25 * (self.after - twist * (bend.second + bend.tilde))
        curves[BEFORE] = before**2 * self.along_one(self.ahead, own, bend.first, over)
        curves[AFTER] = after**2 * self.along_one(self.behind, other, bend.second, over)
        curves[BOTH] = (before * after) * self.along_both(over)
        self.put_angles(curves)
        return curves

    def along_one(self, slope: Floats, axis: Floats, tangent: Floats, over: Floats) -> Floats:
        """(6, B) upper entries over one edge, times its length squared."""
        tilde, slope, binormal, axis, tangent = (
            vectors.T for vectors in (self.bend.tilde, slope, self.bend.binormal, axis, tangent)
        )
        block = tilde[ROW] * slope[COLUMN] + slope[ROW] * tilde[COLUMN]
        block += binormal[ROW] * axis[COLUMN] + axis[ROW] * binormal[COLUMN]
        block += over * tangent[ROW] * tangent[COLUMN]
        block[ON_DIAGONAL] -= over
        return np.asarray(block)

    def along_both(self, over: Floats) -> Floats:
        """(9, B) entries over the edge before (rows) and after, times both lengths, column after column."""
        bend, twist = self.bend, self.about[2]
        tilde, first, second = bend.tilde.T, bend.first.T, bend.second.T
        ahead = (self.ahead - (0.5 * twist)[:, None] * bend.binormal).T
        block = ahead[EACH_ROW] * tilde[EACH_COLUMN] + tilde[EACH_ROW] * self.behind.T[EACH_COLUMN]
        block -= over * first[EACH_ROW] * second[EACH_COLUMN]
        block[ON_BOTH_DIAGONALS] -= over
        turned = ((twist / bend.chi)[:, None] * bend.first - self.mean).T
        for x, y, z in CORNERS:  # the matrix that multiplies as "turned x"
            block[3 * y + x] -= turned[z]
            block[3 * x + y] += turned[z]
        return np.asarray(block)

    def put_angles(self, curves: Floats) -> None:
        """The entries (36, B) that the angles have part in."""
        bend, (before, after) = self.bend, self.inverse
        for column, axis, rate in zip((6, 7), (self.before, self.after), self.rates, strict=True):
            turning = (0.5 * dot(bend.binormal, rate))[:, None] * bend.tilde
            over = rate / bend.chi[:, None]
            curves[upper_place(np.arange(3), column)] = before * (cross(bend.second, over) - turning).T
            curves[upper_place(np.arange(3, 6), column)] = -after * (cross(bend.first, over) + turning).T
            curves[upper_place(column, column)] = -0.5 * dot(bend.binormal, axis)

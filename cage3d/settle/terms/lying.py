"""The shortest way of a string over the wearer's form: straight, along her, straight.

A string is divided into pieces of equal length by nodes that slide along it. It lies where
E = m/2 (sum of the pieces' squares) is least with no node inside her; at rest all pieces are equal
and the length is sqrt(2 E). Found by Newton's method with a multiplier for every node that touches;
how the length goes with the two ends follows from the same equations (Schur complement), so that a
string over her has a gradient and a Hessian in closed form as a straight one has.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple

import numpy as np
from scipy.linalg.lapack import dpbsv

from cage3d.settle.arithmetic import dot, outer
from cage3d.settle.contact import FormGap
from cage3d.settle.terms.string import Strings, depths
from cage3d.shape.arrays import Floats, Ints

STIFF = 1e4  # how much stiffer a touching node is held off than along the string
RIGID = 1e7  # the same, where the answer is asked how it goes with the ends
EXACT = 1e-8  # m, the last step; what is left after it is under a hundredth of it
EASING = (3.0, 30.0, 300.0, STIFF, STIFF, STIFF)  # stiffnesses that lead to it from afar
CHOOSY = 0.02  # of a node's depth beside its multiplier; see `closed_in`
ON_HER = 1e-8  # m, under which a node of a string at rest touches her
QUICK_STEPS, MOST_STEPS = 14, 30
ROUGH = 1e-5  # m, near enough to rest on soft springs
LONGEST_STEP = 0.05  # m
BAND = 5  # of a matrix of 3 x 3 blocks that touch their neighbours


@dataclass(frozen=True)
class Lying:
    """Strings that lie on her."""

    strings: Strings
    nodes: Floats  # (n, 3) m
    push: Floats  # (n,) multiplier of every node, never negative
    lengths: Floats  # (S,) m
    slopes: Floats  # (S, 6) gradient of the lengths over both ends
    gap: FormGap
    met: Touching | None = None  # in the last step towards this rest, which was no longer than EXACT

    @cached_property
    def response(self) -> Floats:
        """(n, 3, 6) how every node goes with both ends of its string."""
        strings = self.strings
        met = self.met or touching(self.gap, strings, self.nodes, self.push, STIFF, CHOOSY)
        pulls = np.zeros((3 * len(self.nodes), 6))
        for axis in range(3):
            pulls[3 * strings.first + axis, axis] = strings.pieces
            pulls[3 * strings.last + axis, 3 + axis] = strings.pieces
        return solved(strings, met, RIGID, pulls).reshape(-1, 3, 6)

    @cached_property
    def curves(self) -> Floats:
        """(S, 6, 6) second derivative of the lengths over both ends."""
        pieces = self.strings.pieces[:, None, None].astype(np.float64)
        give = np.concatenate([self.response[self.strings.first], self.response[self.strings.last]], axis=1)
        whole = pieces * (np.eye(6) - give)
        whole = (whole + whole.transpose(0, 2, 1)) / 2.0
        # E = L^2 / 2, so L'' = (E'' - L' L'^T) / L.
        return np.asarray((whole - outer(self.slopes, self.slopes)) / self.lengths[:, None, None])

    def string(self, place: int) -> slice:
        """Where one string's nodes are."""
        return slice(int(self.strings.first[place]), int(self.strings.last[place]) + 1)


def lie(gap: FormGap, strings: Strings, nodes: Floats, push: Floats) -> Lying:
    """The strings at rest on her, from a shape (n, 3) near rest and its multipliers (n,)."""
    return closed_in(gap, strings, nodes, push) or lie_anew(gap, strings, nodes)


def lain(gap: FormGap, strings: Strings, nodes: Floats) -> Lying:
    """Strings of which it is known that they rest on her at nodes (n, 3): what pushes there balances their pull."""
    pull, push = pulled(strings, nodes), np.zeros(len(nodes))
    close = np.flatnonzero(depths(gap, strings, nodes) > -ON_HER)
    normals = gap.derivatives(nodes[close], strings.off)[1]
    push[close] = np.maximum(dot(pull[close], normals) / dot(normals, normals), 0.0)
    return lying(gap, strings, nodes, push)


def closed_in(gap: FormGap, strings: Strings, nodes: Floats, push: Floats) -> Lying | None:
    """The strings at rest, from near rest; None where that is not near enough.

    Which nodes touch is asked of the multipliers more than of the depths (a primal-dual active set), so that
    all that touched may be lifted off a little by the ends' move and still touch. The form's curvature counts by the
    multipliers too: a node a hair too deep is held off by a spring that is no push of hers, and where a string slides
    round a corner of her, steps that took it for one came down by a fifth at a time.
    """
    for _ in range(QUICK_STEPS):
        met = touching(gap, strings, nodes, push, STIFF, CHOOSY)
        met = met._replace(bending=push[met.inside])
        step, push = newton_step(strings, nodes, met, STIFF)
        nodes = nodes + step
        if float(np.abs(step).max()) <= EXACT:
            return lying(gap, strings, nodes, push, met)
    return None


def lie_anew(gap: FormGap, strings: Strings, nodes: Floats) -> Lying:
    """The strings at rest on her, from any first shape (n, 3): soft springs find which nodes touch."""
    push = np.zeros(len(nodes))
    for stiff in EASING:
        if stiff == STIFF and (near := closed_in(gap, strings, nodes, push)) is not None:
            return near
        for _ in range(MOST_STEPS):
            step, _ = newton_step(strings, nodes, touching(gap, strings, nodes, push, stiff, stiff), stiff)
            nodes = nodes + searched(gap, strings, nodes, push, stiff, step)
            if float(np.abs(step).max()) <= (EXACT if stiff == STIFF else ROUGH):
                break
        met = touching(gap, strings, nodes, push, stiff, stiff)
        push = np.zeros(len(nodes))
        push[met.inside] = met.acting
    return lying(gap, strings, nodes, push)


def searched(
    gap: FormGap, strings: Strings, nodes: Floats, push: Floats, stiff: float, step: Floats
) -> Floats:
    """(n, 3) the step, halved for every string by itself until it lowers what Newton's method lowers."""

    def energies(there: Floats) -> Floats:
        before = np.roll(there, 1, axis=0)
        before[strings.first] = strings.ends[:, 0]
        ahead = strings.ends[:, 1] - there[strings.last]
        pieces = strings.pieces.astype(np.float64)
        springs = stiff * pieces[strings.of_node]
        acting = np.maximum(push + springs * depths(gap, strings, there), 0.0)
        each = pieces[strings.of_node] * dot(there - before, there - before) / 2.0 + acting**2 / (
            2.0 * springs
        )
        return np.asarray(np.bincount(strings.of_node, weights=each) + pieces * dot(ahead, ahead) / 2.0)

    start, share = energies(nodes), np.ones(len(strings.pieces))
    for _ in range(12):
        worse = energies(nodes + share[strings.of_node, None] * step) > start + 1e-14
        if not worse.any():
            break
        share[worse] /= 2.0
    return np.asarray(share[strings.of_node, None] * step)


class Touching(NamedTuple):
    """Nodes that touch."""

    inside: Ints  # (t,) which
    normals: Floats  # (t, 3) the gap's gradients
    acting: Floats  # (t,) multipliers with the springs'
    curves: Floats  # (t, 3, 3) the gap's Hessians
    bending: Floats  # (t,) multipliers by which these count


def newton_step(strings: Strings, nodes: Floats, met: Touching, stiff: float) -> tuple[Floats, Floats]:
    """((n, 3) m, (n,)): the step of the nodes, and the multipliers after it (negative where a node wants off)."""
    gradient = pulled(strings, nodes)
    gradient[met.inside] -= met.acting[:, None] * met.normals
    step = -solved(strings, met, stiff, gradient.ravel()).reshape(-1, 3)
    step *= min(1.0, LONGEST_STEP / max(float(np.abs(step).max()), LONGEST_STEP))
    after = np.zeros(len(nodes))
    springs = stiff * strings.division.pieces[met.inside]
    after[met.inside] = met.acting - springs * dot(met.normals, step[met.inside])
    return step, after


def touching(
    gap: FormGap, strings: Strings, nodes: Floats, push: Floats, stiff: float, choosy: float
) -> Touching:
    """Which nodes touch; choosy: how much a node's depth weighs against its multiplier where that is asked."""
    near = gap.near(nodes)
    gaps, normals, curves = gap.derivatives(nodes[near], strings.off)
    deep = strings.division.pieces[near] * (strings.level[strings.of_node[near]] - gaps)
    inside = np.flatnonzero(push[near] + choosy * deep > 0.0)
    acting = push[near[inside]] + stiff * deep[inside]
    return Touching(near[inside], normals[inside], acting, curves[inside], acting)


def pulled(strings: Strings, nodes: Floats) -> Floats:
    """(n, 3) gradient of E over the nodes."""
    gradient = 2.0 * nodes
    gradient[1:] -= nodes[:-1]
    gradient[:-1] -= nodes[1:]
    first, last = strings.first, strings.last
    gradient[first[1:]] += nodes[last[:-1]]
    gradient[last[:-1]] += nodes[first[1:]]
    gradient[first] -= strings.ends[:, 0]
    gradient[last] -= strings.ends[:, 1]
    gradient *= strings.division.pieces[:, None]
    return gradient


def banded(strings: Strings, met: Touching, curves: Floats, stiff: float) -> Floats:
    """(6, 3n) the lower band of E's Hessian over the nodes, touching ones held by springs, less curves (t, 3, 3)."""
    pieces = strings.division.pieces
    band = np.zeros((BAND + 1, len(pieces), 3))
    band[0] = 2.0 * pieces[:, None]
    held = (stiff * pieces[met.inside])[:, None, None] * outer(met.normals, met.normals) - curves
    for row in range(3):
        for column in range(row + 1):
            band[row - column, met.inside, column] += held[:, row, column]
    band[3] = -pieces[:, None]
    band[3, strings.last] = 0.0
    return band.reshape(BAND + 1, -1)


def solved(strings: Strings, met: Touching, stiff: float, right: Floats) -> Floats:
    """E's Hessian solved for right (3n,) or (3n, k).

    Where the form's curvature leaves a way downhill, as over an edge of her that a hoop is tried at, the answer
    without that curvature goes the right way too.
    """
    curves = np.maximum(met.bending, 0.0)[:, None, None] * met.curves
    # LAPACK's own for positive definite bands: SciPy's function about it takes longer than the solving here.
    answer, info = dpbsv(banded(strings, met, curves, stiff), right, lower=True)[1:]
    if info != 0:
        answer = dpbsv(banded(strings, met, 0.0 * curves, stiff), right, lower=True)[1]
    return np.asarray(answer).reshape(right.shape)


def lying(gap: FormGap, strings: Strings, nodes: Floats, push: Floats, met: Touching | None = None) -> Lying:
    """The strings' lengths and how they go with their ends, at rest."""
    pieces = strings.pieces[:, None]
    at_first = pieces * (strings.ends[:, 0] - nodes[strings.first])
    at_last = pieces * (strings.ends[:, 1] - nodes[strings.last])
    after = np.vstack([nodes[1:], nodes[-1:]])
    after[strings.last] = strings.ends[:, 1]
    steps = after - nodes
    squares = (
        np.bincount(strings.of_node, weights=dot(steps, steps)) + dot(at_first, at_first) / pieces[:, 0] ** 2
    )
    lengths = np.sqrt(pieces[:, 0] * squares)
    slopes = np.concatenate([at_first, at_last], axis=1) / lengths[:, None]
    return Lying(strings, nodes, push, lengths, slopes, gap, met)

"""Strip that lies free in a curve, sprung by a string between its ends, and closed into rings.

Planar elastica with M = EI (k - k0) and ends free of moment (Love, Mathematical Theory of Elasticity, for the
equation): theta'' = -(P/EI) sin theta. The table was computed by shooting; here the same boundary-value problem
is solved again by collocation (scipy.integrate.solve_bvp). A closed ring of one stiffness that stays in its
plane cannot feel its set: the angles round it add up to a whole turn whatever its shape.
"""

from __future__ import annotations

import numpy as np
import pytest
from lines_alone import strip_held_at_one_end
from rigs import LEVEL, STRIP_6, only_ties, ring_on_tapes
from scipy.integrate import solve_bvp, trapezoid
from sprung import sprung as strip_sprung

from cage3d.report import measure
from cage3d.settle import settle
from cage3d.shape.lay_out import lay_out

LENGTH = 1.2
# (k0 L, chord/L): (P L^2/EI, rise/L)
TABLE = {
    (np.pi, 0.5): (2.37278845, 0.35274430),
    (np.pi, 0.3): (5.47388471, 0.37631756),
    (np.pi / 2, 0.5): (7.93644194, 0.36362945),
}


def by_collocation(free: float, chord: float) -> tuple[float, float]:
    """(P L^2/EI, rise/L) of a strip of unit length: theta, theta', x and y along it, and P."""

    def along(_, y, pull):
        return np.vstack([y[1], -pull[0] * np.sin(y[0]), np.cos(y[0]), np.sin(y[0])])

    def ends(first, last, _):
        return np.array([first[1] + free, last[1] + free, first[2], last[2] - chord, first[3]])

    s = np.linspace(0.0, 1.0, 41)
    open_angle = np.pi * (1.0 - 2.0 * s) * 0.6
    x = np.concatenate([[0.0], np.cumsum(np.cos((open_angle[1:] + open_angle[:-1]) / 2) / 40)])
    y = np.concatenate([[0.0], np.cumsum(np.sin((open_angle[1:] + open_angle[:-1]) / 2) / 40)])
    guess = np.vstack([open_angle, np.full(41, -1.2 * np.pi), x, y])
    found = solve_bvp(along, ends, s, guess, p=[8.0], tol=1e-9, max_nodes=20000)
    assert found.success
    theta = found.sol(np.linspace(0.0, 0.5, 2001))[0]
    return float(found.p[0]), float(trapezoid(np.sin(theta), dx=0.5 / 2000))


@pytest.mark.parametrize(("free", "chord"), TABLE)
def test_the_table_by_another_method(free, chord):
    assert by_collocation(free, chord) == pytest.approx(TABLE[free, chord], rel=1e-6)


def sprung(free: float, chord: float, nodes: int) -> np.ndarray:
    """As `sprung.sprung`, of a strip that lies free in a curve of so much angle in all."""
    return strip_sprung(LENGTH, chord, nodes, set_radius=LENGTH / free, threaded="with")


@pytest.mark.parametrize(("free", "chord"), TABLE)
def test_tie_and_rise(free, chord):
    assert sprung(free, chord, 192) == pytest.approx(TABLE[free, chord], rel=5e-3)


def test_error_falls_with_the_square_of_the_segment():
    errors = [np.abs(sprung(np.pi, 0.5, nodes) - TABLE[np.pi, 0.5]) for nodes in (40, 80)]
    rates = np.log2(errors[0] / errors[1])
    assert ((rates > 1.7) & (rates < 2.4)).all(), rates


def drooping(free: float, heavy: float) -> np.ndarray:
    """(along, down) of the free end of a strip of unit length that is held level at the other, its own curve k0 = free
    upward, heavy = w L^3/EI: theta'' = -heavy (1 - s) cos theta, theta(0) = 0, theta'(1) = -k0 (down counts)."""

    def along(s, y):
        return np.vstack([y[1], -heavy * (1.0 - s) * np.cos(y[0]), np.cos(y[0]), np.sin(y[0])])

    def ends(first, last):
        return np.array([first[0], last[1] + free, first[2], first[3]])

    s = np.linspace(0.0, 1.0, 41)
    found = solve_bvp(
        along, ends, s, np.vstack([0.5 * s, 0.5 + 0.0 * s, s, 0.3 * s]), tol=1e-9, max_nodes=20000
    )
    assert found.success
    return found.sol(1.0)[2:]


@pytest.mark.parametrize("free", [-1.5, -0.7, 0.0, 0.8])
def test_hung_by_one_end_under_its_own_weight(free):
    """The set holds it up, or lets it down further; the strip may roll about the clamp, so it must hang below it."""
    bending, weight, length, edges = 0.0125, 0.23, 0.6, 96
    cage = strip_held_at_one_end(length, edges, weight, bending)
    curved = np.full(len(cage.parameters.set_curvature), free / length)
    settled = settle(cage.with_parameters(set_curvature=-curved))
    assert settled.settled
    tip = settled.positions[edges - 1]
    found = np.array([tip[0], LEVEL - tip[2]]) / length
    assert found == pytest.approx(drooping(free, weight * length**3 / bending), abs=5e-4)


def pulled_ring(**steel: object) -> tuple[np.ndarray, float]:
    """(distances (n, n) between the nodes in m, pull in N) of a weightless ring that a tie draws in."""
    design = ring_on_tapes(1.5, 8, STRIP_6 | steel, ties=[
        {"from": "hoop 1 tape 1", "to": "hoop 1 tape 5", "length": 0.40},
    ])  # fmt: skip
    settled = settle(only_ties(lay_out(design, 64)))
    assert settled.settled
    ring = settled.positions[settled.cage.connectivity.hoop_nodes[0]]
    return np.linalg.norm(ring[:, None] - ring[None], axis=2), float(settled.state.pull_force[0])


@pytest.mark.parametrize("threaded", ["with", "against"])
def test_a_ring_without_a_join_does_not_feel_its_set(threaded):
    plain, pull = pulled_ring()
    curved, same = pulled_ring(set_radius=0.3, threaded=threaded)
    assert pull > 0.3
    assert np.abs(curved - plain).max() < 1e-8
    assert same == pytest.approx(pull, rel=1e-7)


def test_a_ring_with_a_lap_does():
    """Where stiffness varies the free curve is not the same moment everywhere."""
    lapped = [{"length": 1.5, "join": {"overlap": 0.1}}]
    tie = [{"from": "hoop 1 tape 1", "to": "hoop 1 tape 5", "length": 0.40}]
    pulls = [
        settle(
            only_ties(lay_out(ring_on_tapes(1.5, 8, STRIP_6 | more, hoops=lapped, ties=tie), 64))
        ).state.pull_force[0]
        for more in ({}, {"set_radius": 0.3})
    ]
    assert abs(pulls[1] / pulls[0] - 1.0) > 1e-3


def test_moment_is_that_of_the_change_of_curve():
    """EI (1/R - 1/R0): a free ring of R = R0 is bent by nothing, and by twice as much threaded against."""
    radius = 1.5 / (2.0 * np.pi)
    straight, freed, against = (
        measure(settle(lay_out(ring_on_tapes(1.5, 8, STRIP_6 | more), 64))).hoops[0].strain_used
        for more in ({}, {"set_radius": radius}, {"set_radius": radius, "threaded": "against"})
    )
    assert freed < 0.01 * straight
    assert against == pytest.approx(2.0 * straight, rel=0.01)

"""A half hoop behind her, its ends sewn to the waistband along which they lie: the elastica with given end slopes.

Source: the planar elastica (Love, A Treatise on the Mathematical Theory of Elasticity, 4th ed., art. 262),
x' = cos t, y' = sin t, E I t'' = P sin t, solved by SciPy's collocation (solve_bvp) to 1e-9: ends a chord apart on a
round band, the slopes there those of the band, as long as the strip, P found with it.
"""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest
from rigs import design_of, without_weight
from scipy.integrate import solve_bvp

from cage3d.settle import SettledCage, settle
from cage3d.shape.lay_out import lay_out

WAIST, AT, LENGTH = 0.9, 0.3, 0.75  # m round; share of it from centre front to either end; m of strip
RADIUS, SLOPE = (
    WAIST / (2.0 * np.pi),
    2.0 * np.pi * (AT - 0.25),
)  # the band turns inwards where the strip leaves it
CHORD = 2.0 * RADIUS * np.cos(SLOPE)
STRIP = {"width": 0.010, "thickness": 0.0005, "modulus": 200e9, "poisson": 0.3}


@cache
def half_hoop(nodes: int) -> SettledCage:
    """Three tapes from the band; the half hoop is sewn to it where the outer two begin, the middle one hangs slack."""
    design = design_of(
        waist=WAIST, zero=1.2, drops=[[0.0], [0.6], [0.0]], lengths=[], steel=STRIP,
        hoops=[{"length": LENGTH, "opening": "front", "ends": "sewn"}],
        tapes={"stations": (AT, 0.5, 1.0 - AT)},
    )  # fmt: skip
    return settle(without_weight(lay_out(design, nodes)))


@cache
def elastica() -> np.ndarray:
    """(n, 2) m, evenly along the strip: out of the middle of the chord to her left, and behind the chord."""

    def grows(_along: np.ndarray, state: np.ndarray, force: np.ndarray) -> np.ndarray:
        _, _, turned, curve = state
        return np.vstack([np.cos(turned), np.sin(turned), curve, force[0] * np.sin(turned)])

    # From her left end to the right one: x leads to her right, y to her back; the band leads back and inwards there.
    start = np.pi / 2.0 - SLOPE

    def ends(first: np.ndarray, last: np.ndarray, _force: np.ndarray) -> np.ndarray:
        return np.array([first[0], first[1], first[2] - start, last[0] - CHORD, last[2] + start])

    along = np.linspace(0.0, LENGTH, 201)
    turned = start * (1.0 - 2.0 * along / LENGTH)
    guess = np.vstack([
        CHORD * along / LENGTH, 0.2 * np.sin(np.pi * along / LENGTH), turned, np.full(201, -2.0 * start / LENGTH)
    ])  # fmt: skip
    found = solve_bvp(grows, ends, along, guess, p=[-20.0], tol=1e-9, max_nodes=100000)
    assert found.success, found.message
    x, y, _, _ = found.sol(np.linspace(0.0, LENGTH, 601))
    return np.column_stack([CHORD / 2.0 - x, y])


def off(nodes: int) -> float:
    """m, how far the strip's nodes lie from the elastica at most, each at its own place along it."""
    hung = half_hoop(nodes)
    assert hung.trusted
    joined = hung.cage.connectivity
    along = np.concatenate([[0.0], np.cumsum(hung.cage.parameters.arc_length)])
    line, places = elastica(), np.linspace(0.0, LENGTH, 601)
    wanted = np.column_stack([np.interp(along, places, column) for column in line.T])
    found = hung.positions[joined.hoop_nodes[0]]
    behind = RADIUS * np.sin(SLOPE)  # the chord, behind the axis
    return float(np.abs(np.column_stack([found[:, 0], found[:, 1] - behind]) - wanted).max())


def test_it_lies_as_the_elastica() -> None:
    assert off(96) < 0.5e-3


def test_error_falls_with_the_square_of_the_segment() -> None:
    assert 1.7 < np.log2(off(48) / off(96)) < 2.3


def slope_off(nodes: int) -> float:
    """rad, how far both ends leave the band aslant, half an edge back from the middle of the first edge."""
    hung = half_hoop(nodes)
    line = hung.cage.connectivity.hoop_nodes[0]
    found = []
    for three, sign in ((line[:3], 1.0), (line[:-4:-1], -1.0)):
        x, y, _ = hung.positions[three[0]]
        assert np.hypot(x, y) == pytest.approx(RADIUS, rel=1e-4)
        first, second = np.diff(hung.positions[three], axis=0)
        out = 1.5 * first - 0.5 * second
        band = sign * np.array([-y, x, 0.0]) / np.hypot(x, y)
        found.append(float(np.linalg.norm(out / np.linalg.norm(out) - band)))
    return max(found)


def test_its_ends_are_on_the_band_and_leave_it_along_it() -> None:
    assert slope_off(96) < 0.01
    assert 1.7 < np.log2(slope_off(48) / slope_off(96)) < 2.4

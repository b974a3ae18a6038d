"""A bow beside her, its ends drawn together by a tie: the elastica with free ends, bent by a force along its chord.

Source: the inflexional elastica (Love, A Treatise on the Mathematical Theory of Elasticity, 4th ed., art. 263): a strip
of length L whose ends, free to turn, make an angle a with the chord has, with k = sin(a / 2) and the complete elliptic
integrals K and E of modulus k, a chord of L (2 E / K - 1), a depth of L k / K and an end force of B (2 K / L)^2.
Worked out here with SciPy's integrals.
"""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest
from rigs import design_of, without_weight
from scipy.optimize import brentq
from scipy.special import ellipe, ellipk

from cage3d.report import measure
from cage3d.settle import SettledCage, settle
from cage3d.shape.lay_out import lay_out

LENGTH, CHORD = 0.8, 0.3  # m
STRIP = {"width": 0.010, "thickness": 0.0005, "modulus": 200e9, "poisson": 0.3}
BENDING = 200e9 * 0.010 * 0.0005**3 / 12.0  # N m2


def chord_per_length(square: float) -> float:
    """square: k^2."""
    return 2.0 * float(ellipe(square)) / float(ellipk(square)) - 1.0


SQUARE = brentq(lambda square: chord_per_length(square) - CHORD / LENGTH, 0.01, 0.99)
QUARTER = float(ellipk(SQUARE))
DEPTH, FORCE = LENGTH * np.sqrt(SQUARE) / QUARTER, BENDING * (2.0 * QUARTER / LENGTH) ** 2


@cache
def bow(nodes: int, side: str = "left") -> SettledCage:
    """On three long tapes, which hardly draw it sideways, and with next to no weight."""
    left = side == "left"
    design = design_of(
        waist=0.3, zero=3.0, drops=[[2.0]] * 3, lengths=[], steel=STRIP,
        hoops=[{"length": LENGTH, "beside": side, "opening": "right" if left else "left", "ends": "sewn"}],
        tapes={"stations": (0.1, 0.25, 0.4) if left else (0.6, 0.75, 0.9)},
        ties=[{"from": "hoop 1 tape 1", "to": "hoop 1 tape 3", "length": CHORD}],
    )  # fmt: skip
    return settle(without_weight(lay_out(design, nodes), 2e-3))


def depth(hung: SettledCage) -> float:
    """m, from the middle of the straight line between its ends to its farthest place, either way."""
    nodes = hung.positions[hung.cage.connectivity.hoop_nodes[0]]
    return float(np.linalg.norm(nodes - (nodes[0] + nodes[-1]) / 2.0, axis=1)[len(nodes) // 2])


def test_it_is_as_deep_as_the_elastica_of_its_chord() -> None:
    assert bow(128).trusted
    assert depth(bow(128)) == pytest.approx(DEPTH, abs=0.2e-3)


def test_its_tie_pulls_as_the_elastica_pushes() -> None:
    (tie,) = measure(bow(128)).ties
    assert tie.tension_N == pytest.approx(FORCE, rel=2e-3)


def test_error_falls_with_the_square_of_the_segment() -> None:
    errors = [abs(depth(bow(nodes)) - DEPTH) for nodes in (32, 64)]
    assert 1.7 < np.log2(errors[0] / errors[1]) < 2.3


def test_at_her_right_it_is_the_same() -> None:
    assert depth(bow(64, "right")) == pytest.approx(depth(bow(64)), abs=1e-8)

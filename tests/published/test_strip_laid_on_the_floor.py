"""A heavy strip held level above the floor comes down to it, touches at a point and lies on it from there: contact.

Source: the elastica with a free boundary. From the place where it leaves the floor, flat (angle and curvature nothing)
and with the floor's concentrated push R there, EI theta'' = (R - w s) cos theta, up to the clamp at the height h where
theta is nothing again; R and the length l that is lifted come out with the shape (scipy.integrate.solve_bvp, below).
For small slopes, by integration four times (Timoshenko, Strength of Materials [from memory]): l^4 = 72 EI h / w and
R = w l / 3, so that the floor bears all but 2/3 w l.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from lines_alone import strip_held_at_one_end
from rigs import LEVEL
from scipy.integrate import solve_bvp

from cage3d.settle import settle

BENDING, WEIGHT, LENGTH = 0.0125, 0.23, 1.5


def laid(height: float, edges: int) -> tuple[np.ndarray, float]:
    """((edges, 2) m along and up of the nodes from the clamp, N that the floor bears)."""
    cage = strip_held_at_one_end(LENGTH, edges, WEIGHT, BENDING)
    settled = settle(replace(cage, positions=cage.positions + np.array([0.0, 0.0, height - LEVEL])))
    assert settled.settled
    return settled.positions[:edges, [0, 2]], float(settled.state.floor_push.sum())


def lifted(height: float) -> tuple[float, float, np.ndarray]:
    """(l m, R N, (n, 2) m along from the clamp and up) of the lifted part, by the boundary value problem."""
    guess = (72.0 * BENDING * height / WEIGHT) ** 0.25

    def rates(share: np.ndarray, state: np.ndarray, unknown: np.ndarray) -> np.ndarray:
        angle, curvature = state[:2]
        push, long = unknown
        bent = (push - WEIGHT * long * share) * np.cos(angle) / BENDING
        return long * np.vstack([curvature, bent, np.cos(angle), np.sin(angle)])

    def ends(start: np.ndarray, end: np.ndarray, _unknown: np.ndarray) -> np.ndarray:
        return np.array([*start, end[0], end[3] - height])

    share = np.linspace(0.0, 1.0, 101)
    rise = height * share**3 * (4.0 - 3.0 * share)
    first = np.vstack([np.gradient(rise, guess * share), np.zeros(101), guess * share, rise])
    found = solve_bvp(rates, ends, share, first, p=[WEIGHT * guess / 3.0, guess], tol=1e-9, max_nodes=20000)
    assert found.success
    push, long = found.p
    along, up = found.sol(np.linspace(0.0, 1.0, 2001))[2:]
    return float(long), float(push), np.column_stack([along[-1] - along, up])


def test_the_boundary_value_problem_is_the_formula_where_slopes_are_small() -> None:
    long, push, _ = lifted(0.002)
    assert long**4 == pytest.approx(72.0 * BENDING * 0.002 / WEIGHT, rel=1e-3)
    assert push == pytest.approx(WEIGHT * long / 3.0, rel=1e-3)


@pytest.mark.parametrize("height", [0.02, 0.25])
def test_the_shape_that_is_lifted_and_what_the_floor_bears(height: float) -> None:
    long, push, shape = lifted(height)
    places, borne = laid(height, 150)
    assert borne == pytest.approx(WEIGHT * (LENGTH - long) + push, rel=3e-3)
    above = places[places[:, 0] < shape[:, 0].max() - 0.02]
    ups = np.interp(above[:, 0], shape[::-1, 0], shape[::-1, 1])
    assert above[:, 1] == pytest.approx(ups, abs=2e-3 * height)
    lying = places[places[:, 0] > shape[:, 0].max() + 0.02]
    assert np.abs(lying[:, 1]).max() < 1e-7


def test_error_falls_with_the_segment() -> None:
    """About with its square, and where the strip leaves the floor falls within a segment as it may."""
    _, _, shape = lifted(0.25)
    errors = []
    for edges in (40, 160):
        places, _ = laid(0.25, edges)
        above = places[places[:, 0] < shape[:, 0].max()]
        errors.append(np.abs(above[:, 1] - np.interp(above[:, 0], shape[::-1, 0], shape[::-1, 1])).max())
    assert errors[1] < errors[0] / 8.0, errors

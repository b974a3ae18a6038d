"""A skirt that slides is drawn where its cloth runs: by hand on single lines, and over a trumpet's hoops."""

from __future__ import annotations

import numpy as np
import pytest
from rigs import STRIP_10, design_of

from cage3d.mesh.cover import GAP, ROUND, STEPS
from cage3d.mesh.parts import build_parts
from cage3d.mesh.slid import straight_past, way_over
from cage3d.settle import settle
from cage3d.shape.lay_out import lay_out

# Fixed 0.1 m out, 1 m up; the second hoop lies outermost, 0.5 m of cloth away: 3, 4, 5.
FIXED, INSIDE, OUTERMOST, LANTERN = (
    [0.1, 0.0, 1.0],
    [0.12, 0.0, 0.8],
    [0.4, 0.0, 0.6],
    [0.25, 0.0, 0.45],
)


def way(*points: list[float], length: float) -> np.ndarray:
    line = np.array(points)
    return way_over(line, line, length)


def test_straight_past_a_hoop_that_hangs_inside() -> None:
    found = way(FIXED, INSIDE, OUTERMOST, length=0.7)
    assert found == pytest.approx(
        np.array([FIXED, [0.25, 0.0, 0.8], OUTERMOST, [0.4, 0.0, 0.4]])  # 0.2 m are left below
    )


def test_on_a_hoop_that_stands_out() -> None:
    out = [0.3, 0.0, 0.8]
    length = np.hypot(0.2, 0.2) + np.hypot(0.1, 0.2) + 0.1
    assert way(FIXED, out, OUTERMOST, length=length) == pytest.approx(
        np.array([FIXED, out, OUTERMOST, [0.4, 0.0, 0.5]])
    )


@pytest.mark.parametrize(
    ("length", "passed", "edge"), [(0.8, 0.45, 0.3), (0.55, 0.55, 0.55)], ids=["past it", "ends above it"]
)
def test_straight_down_from_the_last(length: float, passed: float, edge: float) -> None:
    found = way(FIXED, OUTERMOST, LANTERN, length=length)
    assert found[2:] == pytest.approx(np.array([[0.4, 0.0, passed], [0.4, 0.0, edge]]))


def test_a_hoop_hung_above_the_one_before_it_is_passed_in_its_turn() -> None:
    points = np.array([[0.0, 0.0, 1.0], [0.0, 0.0, 0.4], [0.0, 0.0, 0.6], [1.0, 0.0, 0.0]])
    assert straight_past(points)[:, 0] == pytest.approx([0.0, 0.6, 0.6, 1.0])


def trumpet(slides: bool):
    """Two narrow hoops inside of the way to a wide one."""
    skirt = {"weight": 0.8, "slides": slides, "friction": 0.0, "below_hem": 0.06}
    return settle(
        lay_out(
            design_of(waist=0.7, zero=1.05, drops=[[0.2, 0.2, 0.34]] * 8, lengths=[1.0, 1.1, 2.4],
                      steel=STRIP_10, skirt=skirt),
            48,
        )
    )  # fmt: skip


def test_the_drawn_skirt_is_that_of_the_mechanics() -> None:
    """It touches the hem alone; its edge lies as far down as the 0.8 m of cloth reach that are fixed at the band."""
    settled = trumpet(slides=True)
    (cloth,) = settled.cage.cloths
    assert cloth.over.tolist() == [[False, False, True]] * len(cloth.over)
    (skirt,) = build_parts(settled, {"skirt"})
    rings = skirt.solid.points.reshape(-1, ROUND, 3)[::STEPS]
    hem, edge = rings[-2], rings[-1]
    # At centre front tape 1 and 8 are half a stretch away; there the waist's ring, hem and edge are seen in profile.
    top = np.array([*cloth.tops[0, :2], cloth.tops[0, 2]])
    down = np.linalg.norm(hem[0] * [1, 1 - GAP, 1] - top)
    assert edge[0, 2] == pytest.approx(hem[0, 2] - (0.74 + 0.06 - down), abs=4e-3)
    straight = np.hypot(*rings[1, 0, :2]) + (rings[1, 0, 2] - rings[2, 0, 2]) / (
        rings[1, 0, 2] - hem[0, 2]
    ) * (np.hypot(*hem[0, :2]) - np.hypot(*rings[1, 0, :2]))
    assert np.hypot(*rings[2, 0, :2]) == pytest.approx(straight, abs=1e-6)


def test_one_that_lies_goes_over_every_hoop() -> None:
    settled = trumpet(slides=False)
    (skirt,) = build_parts(settled, {"skirt"})
    rings = skirt.solid.points.reshape(-1, ROUND, 3)[::STEPS]
    round_first = np.linalg.norm(np.diff(np.vstack([rings[2], rings[2][:1]]), axis=0), axis=1).sum()
    assert round_first == pytest.approx(1.0, abs=0.03)  # hoop 1's own length, and a little more for the cloth

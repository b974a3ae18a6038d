"""Ropes over pulleys: statics by hand, the polygon of forces, and the capstan (Euler 1769, Eytelwein 1808).

A heavy rope that slides without friction has at every height the pull of its weight a length times the height above
its free end, whatever way it took: the law from which all figures here follow. With friction a pull grows by
exp(friction x angle) over every pulley.
"""

from __future__ import annotations

from types import SimpleNamespace

import numpy as np
import pytest
from rigs import STRIP_10, design_of, whole_cage
from scipy.interpolate import PPoly

from cage3d.foresee.sliding import both_ways
from cage3d.report import measure
from cage3d.settle import settle
from cage3d.settle.terms.cloth import ClothReading
from cage3d.settle.terms.rope import Rope
from cage3d.shape.lay_out import lay_out
from cage3d.shape.weights import GRAVITY

EVEN = PPoly(np.ones((1, 1)), np.array([0.0, 1.0]))
# The band, and three pulleys that a dome's profile bends over.
DOME = np.array([[0.10, 0.0, 1.00], [0.30, 0.02, 0.80], [0.42, 0.0, 0.55], [0.45, -0.03, 0.30]])


def rope(line: np.ndarray, weight: float, below: float, heaviness: PPoly = EVEN) -> Rope:
    length = float(np.linalg.norm(np.diff(line, axis=0), axis=1).sum()) + below
    return Rope(line[None], np.array([weight]), np.array([length]), heaviness)


def lain_over(one: Rope, friction: float) -> ClothReading:
    """The rope as cloth whose crossings are nodes."""
    shares = np.ones((1, one.spans.shape[1], 1))
    return ClothReading(one, shares, SimpleNamespace(friction=friction))  # type: ignore[arg-type]


def pushes(one: Rope) -> np.ndarray:
    """(K + 1, 3) N on the band and the pulleys, without friction."""
    return -one.point_slopes(np.zeros(one.spans.shape))[0]


def test_a_rope_over_one_pulley_by_hand() -> None:
    """Band at (0, 1), pulley at (0.3, 0.6), 0.2 m below; 0.7 N on 0.7 m. The stretch of 0.5 m has the pull of its
    middle, 0.8 - 0.4 = 0.4 N, towards (0.6, -0.8): the pulley gets (-0.24, 0.32), 0.25 and 0.20 N down."""
    band, pulley = pushes(rope(np.array([[0.0, 0.0, 1.0], [0.3, 0.0, 0.6]]), 0.7, 0.2))
    assert pulley == pytest.approx([-0.24, 0.0, 0.32 - 0.25 - 0.20])
    assert band == pytest.approx([0.24, 0.0, -0.32 - 0.25])


def test_a_straight_drop_hangs_on_the_band_alone() -> None:
    band, pulley = pushes(rope(np.array([[0.3, 0.0, 1.0], [0.3, 0.0, 0.6]]), 0.6, 0.2))
    assert pulley == pytest.approx([0.0, 0.0, 0.0])
    assert band == pytest.approx([0.0, 0.0, -0.6])


def test_polygon_of_forces_at_every_pulley() -> None:
    """Pulls of both sides, each that of its stretch's middle, and half the weight of either stretch, close the
    polygon with what holds the pulley."""
    below, each = 0.2, 2.0
    one = rope(DOME, each * (float(np.linalg.norm(np.diff(DOME, axis=0), axis=1).sum()) + below), below)
    along = np.diff(DOME, axis=0)
    spans = np.linalg.norm(along, axis=1)
    pulls = each * ((DOME[:-1, 2] + DOME[1:, 2]) / 2.0 - (DOME[-1, 2] - below))
    upper = -(pulls / spans)[:, None] * along
    lower = np.vstack([-upper[1:], [0.0, 0.0, -each * below]])
    halves = each * (spans + np.append(spans[1:], 0.0)) / 2.0
    assert pushes(one)[1:] == pytest.approx(upper + lower - halves[:, None] * [0.0, 0.0, 1.0])
    assert pushes(one).sum(axis=0) == pytest.approx([0.0, 0.0, -float(one.weight[0])])


def test_a_rope_that_is_heavier_below_pulls_as_what_hangs_there() -> None:
    """One pulley level with the band: of a rope of 2 m the metre between them weighs next to nothing and lies level,
    so both sides pull with the 3 N that hang."""
    heavy = PPoly(np.array([[1e-9, 2.0]]), np.array([0.0, 0.5, 1.0]))
    band, pulley = pushes(rope(np.array([[0.0, 0.0, 1.0], [1.0, 0.0, 1.0]]), 3.0, 1.0, heavy))
    assert band == pytest.approx([3.0, 0.0, 0.0], abs=1e-6)
    assert pulley == pytest.approx([-3.0, 0.0, -3.0], abs=1e-6)


@pytest.mark.parametrize("friction", [0.1, 0.3, 1.0])
def test_capstan_over_three_pulleys(friction: float) -> None:
    """All weight hangs free: turns of 45, 45 and 0 degrees leave W exp(-friction pi/2) at the band."""
    line = np.array([[0.0, 0.0, 1.0], [1.0, 0.0, 1.0], [1.5, 0.0, 0.5], [1.5, 0.0, 0.2]])
    spans = float(np.linalg.norm(np.diff(line, axis=0), axis=1).sum())
    share = spans / (spans + 1.0)
    heavy = PPoly(np.array([[0.0, 1.0 / (1.0 - share)]]), np.array([0.0, share, 1.0]))
    one = rope(line, 5.0, 1.0, heavy)
    lain = lain_over(one, friction)
    on_pulleys, on_band = lain.pushes(lain.capstan.losses.ravel())
    whole, half = 5.0, 5.0 * np.exp(-friction * np.pi / 4)
    assert on_band[0] == pytest.approx([5.0 * np.exp(-friction * np.pi / 2), 0.0, 0.0])
    slant = np.sqrt(0.5)
    assert on_pulleys[0, 1] == pytest.approx([-half * slant, 0.0, half * slant - whole])
    assert on_pulleys[0, 2] == pytest.approx([0.0, 0.0, 0.0], abs=1e-12)


def pull_over_a_quarter(friction: float, places: int) -> float:
    """N at the top of a quarter of a cylinder of 0.4 m radius, rope of 3 N/m, 0.5 m of it hanging free below."""
    angles = np.linspace(np.pi / 2, 0.0, places + 1)
    arc = 0.4 * np.column_stack([np.cos(angles), np.zeros(places + 1), np.sin(angles)]) + [0.0, 0.0, 1.0]
    line = np.vstack([[-0.2, 0.0, 1.4], arc])
    length = 0.2 + float(np.linalg.norm(np.diff(arc, axis=0), axis=1).sum()) + 0.5
    lain = lain_over(rope(line, 3.0 * length, 0.5), friction)
    return float(lain.pushes(lain.capstan.losses.ravel())[1][0, 0])


@pytest.mark.parametrize("friction", [0.0, 0.3, 0.8])
def test_capstan_of_a_heavy_rope_round_a_cylinder(friction: float) -> None:
    """dT/dpsi = w R cos psi - mu T from the free end (psi = 0) up to the top, its weight and its turn alike:

    T = w R (mu cos psi + sin psi) / (1 + mu^2) + (w b - mu w R / (1 + mu^2)) exp(-mu psi)
    """
    around, hangs, square = 3.0 * 0.4, 3.0 * 0.5, 1.0 + friction**2
    top = around / square + (hangs - friction * around / square) * np.exp(-friction * np.pi / 2)
    errors = [abs(pull_over_a_quarter(friction, places) - top) for places in (20, 40, 80)]
    assert errors[2] < 2e-3 * top
    assert errors[2] < 0.6 * errors[0] or errors[0] < 1e-9


def test_on_a_flat_the_capstan_takes_nothing() -> None:
    """Three places on a level: no turn, so no loss but at the edge, by exp(-friction pi/2); each bears its cloth."""
    line = np.array([[0.0, 0.0, 1.0], [0.5, 0.0, 1.0], [1.0, 0.0, 1.0], [1.5, 0.0, 1.0]])
    lain = lain_over(rope(line, 8.0, 0.5), 0.4)  # 4 N/m, 2 N hang free
    assert lain.capstan.losses[0] == pytest.approx([0.0, 0.0, 2.0 * (1.0 - np.exp(-0.4 * np.pi / 2))])
    on_places, on_band = lain.pushes(lain.capstan.losses.ravel())
    assert on_places[0, :2] == pytest.approx(np.array([[0.0, 0.0, -2.0], [0.0, 0.0, -2.0]]), abs=1e-12)
    assert on_band[0] == pytest.approx([2.0 * np.exp(-0.4 * np.pi / 2), 0.0, -1.0])


def level_ring(**skirt: object):
    """A ring of 1 m radius 1/2pi on four tapes of 0.2 m from a round waist of 0.6 m, that keeps round whatever
    presses it; a skirt of 0.6 kg, 0.1 m longer, as wide at the waist as at the hem."""
    steel = STRIP_10 | {"modulus": 1e12, "yield_stress": 1e11, "thickness": 0.002}
    return design_of(
        waist=0.6, zero=1.0, drops=[[0.2]] * 4, lengths=[1.0], steel=steel, tapes={"stations": "on"},
        skirt={"weight": 0.6, "cut": "gathered", "below_hem": 0.1, **skirt},
    )  # fmt: skip


def test_a_level_ring_by_hand() -> None:
    """0.0637 m out and 0.1896 m down: the cloth of 0.3 m has 0.6 g / 0.3 x (0.1 + 0.0948) at its middle, steep by
    0.948; the ring gets half of 0.2 and all of 0.1 m of its weight less what that pull lifts, and the tapes the rest.
    """
    settled = settle(lay_out(level_ring(slides=True, friction=0.0), 64))
    out = (1.0 - 0.6) / (2.0 * np.pi)
    down = float(np.sqrt(0.2**2 - out**2))
    each = 0.6 * GRAVITY / 0.3
    pull = each * (0.1 + down / 2.0)
    down_on_ring = each * (0.1 + 0.1) - pull * down / 0.2
    ring = float(settled.cage.parameters.own_weight.sum())
    hoop = settled.cage.connectivity.hoop_nodes[0]
    assert settled.trusted
    assert -settled.state.cloth[hoop, 2].sum() == pytest.approx(down_on_ring, rel=2e-4)
    flat = settled.positions[hoop, :2]
    outward = (settled.state.cloth[hoop, :2] * flat).sum(axis=1) / np.linalg.norm(flat, axis=1)
    assert -outward.sum() == pytest.approx(pull * out / 0.2, rel=1e-3)
    assert settled.state.pull_force.sum() * down / 0.2 == pytest.approx(ring + down_on_ring, rel=2e-4)
    assert measure(settled).skirt_on_band_kg * GRAVITY == pytest.approx(
        0.6 * GRAVITY - down_on_ring, rel=2e-4
    )


def test_friction_holds_the_cloth_up_on_a_level_ring() -> None:
    """What hangs below, 0.1 m, pulls past the ring with exp(-friction x turn) of itself."""
    settled = settle(lay_out(level_ring(slides=True, friction=0.5), 64))
    out = (1.0 - 0.6) / (2.0 * np.pi)
    down = float(np.sqrt(0.2**2 - out**2))
    each = 0.6 * GRAVITY / 0.3
    above = each * 0.1 * np.exp(-0.5 * np.arctan2(out, down)) + each * down / 2.0
    down_on_ring = each * (0.1 + 0.1) - above * down / 0.2
    assert settled.trusted
    assert -settled.state.cloth[settled.cage.connectivity.hoop_nodes[0], 2].sum() == pytest.approx(
        down_on_ring, rel=2e-4
    )


def test_all_of_a_skirt_hangs_somewhere() -> None:
    """Tapes and cloth together bear the cage and its skirt, whatever the friction."""
    settled = settle(lay_out(whole_cage(skirt={"weight": 1.2, "slides": True, "friction": 0.3}), 48))
    numbers, joined = settled.cage.parameters, settled.cage.connectivity
    topmost = joined.pulls[: joined.tape_count]
    along = settled.positions[topmost[:, 1]] - settled.positions[topmost[:, 0]]
    up = along[:, 2] / np.linalg.norm(along, axis=1) * settled.state.pull_force[: joined.tape_count]
    borne = abs(float(up.sum())) - settled.state.cloth_on_band[2]
    assert settled.trusted
    assert borne == pytest.approx(numbers.own_weight.sum() + 1.2 * GRAVITY, rel=1e-6)
    assert 0.4 < -settled.state.cloth_on_band[2] / (1.2 * GRAVITY) < 1.0, "what slides hangs on the waist"


def test_both_ways_are_what_is_written_either_way() -> None:
    """From a cage whose skirt lies, and from the same cage where it slides: the same two rests."""
    lying = both_ways(settle(lay_out(whole_cage(skirt={"weight": 1.2}), 32)))
    sliding = both_ways(settle(lay_out(whole_cage(skirt={"weight": 1.2, "slides": True}), 32)))
    assert lying is not None
    assert sliding is not None
    for one, other in ((lying.lies, sliding.lies), (lying.slides, sliding.slides)):
        assert np.abs(one.positions - other.positions).max() < 2e-5
    assert lying.slides.state.cloth_on_band[2] < -6.0
    assert lying.lies.state.cloth_on_band[2] == 0.0

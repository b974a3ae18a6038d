"""Baskets beside her: alike at both sides, in balance on her, and a ring of them like any ring that hangs level."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest
from rigs import STRIP_6, crossing_points, design_of

from cage3d.design.models import Design
from cage3d.design.read import read_data
from cage3d.foresee.read_off import figure_slopes
from cage3d.report import Report, measure
from cage3d.report.hoops import hoop_figures
from cage3d.settle import SettledCage, settle
from cage3d.settle.contact import FormGap
from cage3d.shape.lay_out import lay_out
from cage3d.shape.weights import GRAVITY

OTHER = {"left": "right", "right": "left"}
STATIONS = [0.06, 0.19, 0.31, 0.44, 0.56, 0.69, 0.81, 0.94]  # alike about centre front to the last figure
WEARER = {
    "waist": 26, "waist_breadth": 9.3, "waist_depth": 7.1, "waist_height": 41.5, "high_hip": 35, "high_hip_drop": 4,
    "hip": 39, "hip_drop": 8, "hip_breadth": 13.5, "hip_depth": 9.6,
}  # fmt: skip


def design(hoops: list[dict[str, Any]], drops: list[list[float]], **more: Any) -> Design:
    return read_data({
        "name": "two baskets", "units": "in", "wearer": WEARER, "steel": {"width": "7 mm", "thickness": "0.5 mm"},
        "tapes": {"count": 8, "stations": STATIONS, "drops": drops}, "hoops": hoops, "skirt": {"weight": "1 kg"},
        **more,
    })  # fmt: skip


def ring(side: str, length: float) -> dict[str, Any]:
    return {"length": length, "beside": side, "join": "none"}


def bow(side: str, length: float) -> dict[str, Any]:
    return {"length": length, "beside": side, "opening": OTHER[side], "ends": "sewn"}


def tied(hoop: int, tapes: tuple[int, int], length: float, side: str) -> dict[str, Any]:
    ends = [f"hoop {hoop} tape {tape}" for tape in tapes]
    return {"from": ends[0], "to": ends[1], "length": length, "runs": side}


@cache
def lopsided(swapped: bool) -> SettledCage:
    """Rings of 28 and 31 in at her left on tapes longer behind, one bow of 24 in at her right; or mirrored."""
    side, other = ("right", "left") if swapped else ("left", "right")
    drops = [[12.0, 5.0], [12.5, 5.5], [13.0, 6.0], [12.25, 5.0], [11.5], [11.0], [11.0], [11.25]]
    tie = tied(2, (1, 4) if swapped else (5, 8), 11.5, other)
    hoops = [ring(side, 28), bow(other, 24), ring(side, 31)]
    return settle(lay_out(design(hoops, drops[::-1] if swapped else drops, ties=[tie]), 96))


def off_its_mirror(one: np.ndarray, other: np.ndarray) -> float:
    """m, how far places (N, 3) of the plain cage lie at most from the mirrored ones of the other."""
    most, joined, mirrored = 0.0, lopsided(False).cage.connectivity, lopsided(True).cage.connectivity
    for own, across in zip(joined.hoop_nodes, mirrored.hoop_nodes, strict=True):
        shares = np.round(np.mod(-mirrored.node_fraction[across], 1.0), 9) % 1.0
        found = dict(zip(shares.tolist(), other[across] * [-1.0, 1.0, 1.0], strict=True))
        at = np.round(np.mod(joined.node_fraction[own], 1.0), 9) % 1.0
        most = max(most, float(np.abs(one[own] - np.array([found[share] for share in at.tolist()])).max()))
    return most


def test_a_design_mirrored_hangs_mirrored() -> None:
    """Laid out to the last bits; hung as near as forces balance, 1e-7 N or less over 0.06 N/m or more."""
    plain, swapped = lopsided(False), lopsided(True)
    assert plain.trusted
    assert swapped.trusted
    assert off_its_mirror(plain.cage.positions, swapped.cage.positions) < 1e-12
    assert off_its_mirror(plain.positions, swapped.positions) < 1e-6


def test_figures_of_a_mirrored_design_change_sides() -> None:
    for one, other in zip(measure(lopsided(False)).hoops, measure(lopsided(True)).hoops, strict=True):
        assert other.beside == OTHER[str(one.beside)]
        for key, mirrored in (("front", "front"), ("left", "right"), ("back", "back"), ("right", "left")):
            height = getattr(one, f"height_{key}_m")
            assert height == pytest.approx(getattr(other, f"height_{mirrored}_m"), abs=1e-6)
        assert one.width_side_side_m == pytest.approx(other.width_side_side_m, abs=1e-6)


@cache
def rings() -> tuple[SettledCage, Report]:
    """A ring of 30 in at either side, which bears on her."""
    outer = [0.06, 0.19, 0.31, 0.44]
    hoops = [
        ring("left", 30) | {"stations": outer},
        ring("right", 30) | {"stations": [0.5 + at for at in outer]},
    ]
    # So slight a hip that no tape bends round it.
    slight = WEARER | {"high_hip": 27, "hip": 29, "hip_breadth": 10, "hip_depth": 7.6}
    hung = settle(lay_out(design(hoops, [[12.0]] * 8, wearer=slight)))
    return hung, measure(hung)


def test_its_inner_side_bears_on_her_as_its_tapes_draw_it() -> None:
    """Along every tape its told pull, from its told step and fall: what they draw sideways she pushes back, and they
    bear what hangs on the hoop but for what she takes of it where she slopes.
    """
    hung, report = rings()
    assert hung.trusted
    touch = next(touch for touch in report.touching if touch.hoop == 1)
    assert touch.where == "left"
    inwards = up = 0.0
    for tape in report.tapes[:4]:
        part, place = tape.to(1), report.hoops[0].at_tape(tape.tape)
        assert part is not None
        assert place is not None
        assert not part.on_wearer
        start = hung.positions[hung.cage.connectivity.anchors[tape.tape - 1]]
        assert np.hypot(place.x_m - start[0], place.y_m - start[1]) == pytest.approx(part.step_m, abs=1e-6)
        along = part.tension_N / np.hypot(part.step_m, part.drop_m)
        inwards += along * (place.x_m - start[0])
        up += along * part.drop_m
    nodes = hung.cage.connectivity.hoop_nodes[0]
    push, form = hung.state.wearer_push[nodes], hung.cage.form
    assert form is not None
    out = FormGap(form).derivatives(hung.positions[nodes], hung.cage.parameters.stand_off[nodes])[1]
    assert touch.force_N == pytest.approx(np.hypot(inwards, report.hoops[0].load_N - up), rel=2e-3)
    across, _, lifted = push @ out
    assert across == pytest.approx(inwards, rel=2e-3)
    assert inwards > 1.0
    assert up + lifted == pytest.approx(report.hoops[0].load_N, rel=2e-3)


def test_the_skirt_lies_on_the_outer_halves_alone() -> None:
    hung, report = rings()
    joined, numbers = hung.cage.connectivity, hung.cage.parameters
    for hoop, outer in enumerate((0.25, 0.75)):
        nodes = joined.hoop_nodes[hoop]
        away = np.abs(np.mod(joined.node_fraction[nodes] - outer + 0.5, 1.0) - 0.5)
        weights = numbers.skirt_weight[nodes]
        assert weights.sum() == pytest.approx(GRAVITY / 2.0, rel=1e-12)
        assert np.all(weights[away > 0.26] == 0.0)
        arcs = numbers.arc_length[joined.hoop_edges[hoop]]
        own, half = (arcs + np.roll(arcs, 1)) / 2.0, arcs.sum() / 2.0
        assert weights[away < 0.24] == pytest.approx(GRAVITY / 2.0 * own[away < 0.24] / half, rel=1e-9)
    assert report.skirt_kg == pytest.approx(1.0)


def test_a_ring_far_from_her_sags_as_a_ring_hung_alone() -> None:
    """Of 2.7 m on four tapes: 0.532638 mm, the curved girder of `published/test_level_ring_sag.py`."""
    far = design_of(
        waist=0.3, zero=45.0, drops=[[42.0]] * 4, lengths=[], steel=STRIP_6, hoops=[ring("left", 2.7)],
        tapes={"stations": (0.1, 0.2, 0.3, 0.4)},
    )  # fmt: skip
    hung = settle(lay_out(far, 96))
    assert hung.trusted
    nodes, at_tapes = hung.cage.connectivity.hoop_nodes[0], crossing_points(hung.cage, hung.positions, 0)
    # It leans a little, as its tapes come from beside her: from the plane through its casings.
    plane = np.linalg.lstsq(np.column_stack([at_tapes[:, :2], np.ones(4)]), at_tapes[:, 2], rcond=None)[0]
    level = hung.positions[nodes, :2] @ plane[:2] + plane[2]
    assert (level - hung.positions[nodes, 2]).max() == pytest.approx(0.532638e-3, rel=0.02)
    assert np.ptp(hung.positions[nodes, 0]) == pytest.approx(2.7 / np.pi, rel=2e-3)


@pytest.mark.parametrize("hoop", [0, 1, 2])
def test_its_heights_grow_as_its_nodes_move(hoop: int) -> None:
    """Against the figures themselves, measured again on nodes that are moved a little."""
    hung = lopsided(False)
    moves = np.zeros_like(hung.positions)
    nodes = hung.cage.connectivity.hoop_nodes[hoop]
    turn = 2.0 * np.pi * hung.cage.connectivity.node_fraction[nodes]
    for axis, wave in enumerate((np.cos(turn + 0.3), np.sin(2.0 * turn + 0.7), np.cos(turn - 0.9))):
        moves[nodes, axis] = wave
    step = 1e-6
    up, down = (figures_moved(hung, hoop, sign * step * moves) for sign in (1.0, -1.0))
    slopes = figure_slopes(hung)[6 * hoop : 6 * hoop + 4] @ moves.ravel()
    assert slopes == pytest.approx(((up - down) / (2.0 * step))[:4], abs=0.02)


def test_two_bows_are_read_alike_from_the_front() -> None:
    """Towards her both ends of a bow are as near: the height is that of its front one, at her left and at her right."""
    cage = lay_out(design([bow("left", 24), bow("right", 24)], [[12.0]] * 8), 96)
    read = figure_slopes(SimpleNamespace(cage=cage, positions=cage.positions))  # type: ignore[arg-type]
    slopes, (left, right) = read[:12].reshape(2, 6, -1, 3), cage.connectivity.hoop_nodes
    for hoop, towards_her, end in ((0, 3, left[0]), (1, 1, right[-1])):
        assert cage.positions[end, 1] == cage.positions[cage.connectivity.hoop_nodes[hoop], 1].min()
        expected = np.zeros_like(cage.positions)
        expected[end, 2] = 1.0
        assert slopes[hoop, towards_her] == pytest.approx(expected)
    front_left_back_right = slopes[1][[0, 3, 2, 1, 4, 5]]  # of the mirrored one; then both widths
    assert slopes[0][:, left] == pytest.approx(
        front_left_back_right[:, right[::-1]] * [-1.0, 1.0, 1.0], abs=1e-9
    )


def figures_moved(hung: SettledCage, hoop: int, moves: np.ndarray) -> np.ndarray:
    state = replace(hung.state, positions=hung.positions + moves)
    return hoop_figures(replace(hung, state=state), hoop)

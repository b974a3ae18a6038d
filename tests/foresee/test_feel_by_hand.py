"""A hand's push and the droop of steel on answers put in by hand."""

from __future__ import annotations

from dataclasses import replace
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest
from rigs import design_of
from stiff_pair import STIFF, moved, pair

from cage3d.foresee import stiffness
from cage3d.foresee.stiffness import Give, droop, gives, hem_node
from cage3d.settle import SettledCage, settle
from cage3d.shape.lay_out import lay_out

G = 9.81  # m/s2
PUSH = 0.2 * G  # N, 200 g


SIDES = {"front": (0, -1), "left": (1, 0), "back": (0, 1), "right": (-1, 0)}  # x to her left, y to her back


def felt(
    monkeypatch, settled: SettledCage, side: str, settles: bool = True, **ends: Any
) -> tuple[Give, list[Any]]:
    """What is told of a side where nodes go so far under a push, and every push asked: (force, near, steps)."""
    asked: list[Any] = []

    def rests(model, posture, forces, near, most_steps):
        (push,) = (term for term in model.terms if term.name == "push")
        asked.append((push.force, near, most_steps))
        there = replace(posture, positions=moved(settled, **ends).positions)
        return SimpleNamespace(posture=there, forces=forces, settled=settles or len(asked) < 4)

    monkeypatch.setattr(stiffness, "come_near_rest", rests)
    (found,) = gives(settled, (side,))
    return found, asked


@pytest.mark.parametrize("side", SIDES)
def test_a_push_points_inwards_at_its_side_and_grows_in_quarters(monkeypatch, side) -> None:
    settled = pair()
    node = hem_node(settled, side)
    out = np.array([*SIDES[side], 0.0])
    assert settled.positions[node] @ out == pytest.approx(1.5 / (2 * np.pi), rel=0.01)
    assert node in settled.cage.connectivity.hoop_nodes[-1]
    _, asked = felt(monkeypatch, settled, side)
    assert len(asked) == 4
    for part, (force, near, most_steps) in enumerate(asked, start=1):
        assert force[node] == pytest.approx(-PUSH * out * part / 4, rel=1e-3)
        assert np.count_nonzero(np.delete(force, node, axis=0)) == 0
        assert (near, most_steps) == (2e-4, 120)


def pushed_to(monkeypatch, inward: float, across: float, settles: bool = True) -> Give:
    """What is told of the left side where it goes in by `inward` and the right side goes by `across`, both to -x."""
    settled = pair()
    ends = {
        f"n{hem_node(settled, 'left')}": (-inward, 0.3, 0.3),
        f"n{hem_node(settled, 'right')}": (-across, 0, 0),
    }
    return felt(monkeypatch, settled, "left", settles, **ends)[0]


def test_what_the_hoop_gives_is_what_its_two_sides_near(monkeypatch) -> None:
    """30.4 mm in, of which the other side makes 10.1 itself: told to the millimetre, the strain to a thousandth."""
    monkeypatch.setattr(stiffness, "strain_shares", lambda *_: np.array([0.05, 0.1234]))
    assert pushed_to(monkeypatch, 0.0304, 0.0101) == Give("left", 0.030, 0.020, 0.123)


@pytest.mark.parametrize(
    ("dent", "settles", "told"), [(0.1523, True, True), (0.1525, True, False), (0.01, False, False)]
)
def test_a_hem_that_folds_or_finds_no_rest_is_not_told(monkeypatch, dent, settles, told) -> None:
    """6 in at most, and a rest for every part of the push, the last one too."""
    found = pushed_to(monkeypatch, dent + 0.05, 0.05, settles)
    assert [value is not None for value in (found.dent, found.inward, found.strain)] == [told] * 3


def test_three_sides_are_asked_and_only_of_a_settled_cage(monkeypatch) -> None:
    monkeypatch.setattr(stiffness, "give", lambda _settled, side, _model: Give(side, 0.0, 0.0, 0.0))
    assert [found.side for found in gives(pair())] == ["front", "left", "back"]
    with pytest.raises(ValueError, match="settled"):
        gives(replace(pair(), stable=False))


def test_what_a_hoop_that_gives_is_called() -> None:
    """As README has it, in inches to an eighth: under 3/4 stiff, to 2 usual, over 3 1/8 limp."""
    limits = (stiffness.STIFF, stiffness.USUAL, stiffness.LIMP)
    assert [round(limit / 0.0254 * 8) / 8 for limit in limits] == [0.75, 2.0, 3.125]


def flat(opening: str) -> tuple[SettledCage, np.ndarray, np.ndarray]:
    """The pair with its hem level at 0.5 m; the hem's nodes, and places of its tapes among them."""
    settled = pair(opening)
    nodes = settled.cage.connectivity.hoop_nodes[1]
    places = settled.positions.copy()
    places[nodes, 2] = 0.5
    at = np.searchsorted(nodes, settled.cage.connectivity.crossing[1])
    return replace(settled, state=replace(settled.state, positions=places)), nodes, np.sort(at)


def test_a_droop_in_any_gap_of_a_closed_hoop() -> None:
    """4 mm under the line at one node: in the first gap, and in the last one that ends where the hoop began."""
    settled, nodes, at = flat("none")
    for place in (at[0] + 1, at[1] - 1, (at[3] + 1) % len(nodes), (at[0] - 1) % len(nodes)):
        assert droop(moved(settled, **{f"n{nodes[place]}": (0, 0, -0.004)}), 1) == pytest.approx(0.004)
    # Where one tape is 10 mm up, its neighbours in the gap lie under the line by their share.
    wide = (at[1] - at[0]) if at[0] + 1 < len(nodes) else 1
    raised = moved(settled, **{f"n{nodes[at[1]]}": (0, 0, 0.010)})
    assert droop(raised, 1) == pytest.approx(0.010 * (wide - 1) / wide)


def test_a_droop_where_tapes_stand_unevenly() -> None:
    """Tapes at 6, 25, 50 and 80 hundredths of the girth: the second raised by 10 mm, then one place let down."""
    design = design_of(
        waist=1.5,
        zero=1.2,
        drops=[[0.3]] * 4,
        lengths=[1.5],
        steel=STIFF,
        tapes={"stations": (0.06, 0.25, 0.5, 0.8)},
    )
    settled = settle(lay_out(design, 40))
    nodes = settled.cage.connectivity.hoop_nodes[0]
    places = settled.positions.copy()
    places[nodes, 2] = 0.5
    at = np.searchsorted(nodes, settled.cage.connectivity.crossing[0])
    assert len(set(np.diff(at))) > 1, "gaps of different lengths"
    level = replace(settled, state=replace(settled.state, positions=places))
    up = {f"n{nodes[at[1]]}": (0, 0, 0.010)}
    # Between tapes 2 and 1, and 2 and 3, the steel lies level under the raised line: by all but its last step.
    steps = np.diff(at)[:2].max()
    assert droop(moved(level, **up), 0) == pytest.approx(0.010 * (1 - 1 / steps))
    sunk = moved(level, **{f"n{nodes[(at[2] + at[3]) // 2]}": (0, 0, -0.003)})
    assert droop(sunk, 0) == pytest.approx(0.003)
    across = moved(level, **{f"n{nodes[(at[3] + 2) % len(nodes)]}": (0, 0, -0.004)})
    assert droop(across, 0) == pytest.approx(0.004)


def test_the_free_ends_of_an_open_hoop_are_no_droop() -> None:
    settled, nodes, at = flat("front")
    assert at[0] > 0, "the steel passes its last tapes"
    ends = {f"n{nodes[0]}": (0, 0, -0.05), f"n{nodes[-1]}": (0, 0, -0.05)}
    assert droop(moved(settled, **ends), 1) == pytest.approx(0.0, abs=1e-12)
    for place in (at[0] + 1, at[-1] - 1):
        assert droop(moved(settled, **ends, **{f"n{nodes[place]}": (0, 0, -0.003)}), 1) == pytest.approx(
            0.003
        )

"""What touches in a cage that was placed by hand, and why such a cage gave no answer."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from placed import OVAL, PULLS, SADDLE, TURN, placed

from cage3d.design.models import Padding
from cage3d.report.touching import touch_reports
from cage3d.report.why_not import why_not

# What touches.


def test_what_lies_on_the_floor() -> None:
    """Less than a millimetre above it, at her right, where all pushes on the hoop add up."""
    low = SADDLE * [1.0, 1.0, 0.0] + np.outer(SADDLE[:, 0], [0.0, 0.0, 0.1]) + [0.0, 0.0, 0.0309]
    settled = placed(lower=low, pushes={"floor": {16: 1.0, 28: 0.5, 3: 8.0}})
    assert [(one.hoop, one.what, one.where, one.force_N) for one in touch_reports(settled)] == [
        (2, "floor", "right", 1.5)
    ]
    assert touch_reports(placed(lower=low + np.array([0.0, 0.0, 0.0002]))) == ()


@pytest.mark.parametrize(("room", "touches"), [(0.00174, True), (0.00176, False)])
def test_what_lies_on_her(room: float, touches: bool) -> None:
    """A millimetre beside half the steel and a ribbon, 0.25 + 0.5 mm, from the column at her back.

    What is held is her gap, R ln(r / R) round a column: r / R of a metre out from it to a metre of the gap.
    """
    radius = 0.6 / (2 * np.pi)
    near = radius + room
    oval = OVAL * [1.0, 0.0, 1.0] + np.column_stack(
        [np.zeros(16), near - 0.3 - 0.3 * np.cos(TURN), np.zeros(16)]
    )
    found = touch_reports(placed(oval, pushes={"wearer": {8: 2.0, 9: 0.5}}))
    assert [(one.hoop, one.what, one.where) for one in found] == [(1, "wearer", "back")] * touches
    force = radius * (2.0 / near + 0.5 / np.hypot(*oval[9, :2]))
    assert [one.force_N for one in found] == pytest.approx([force] * touches, rel=1e-6)


def test_the_thickest_steel_of_a_hoop_keeps_it_off_her() -> None:
    """Nodes of one hoop may keep off by different amounts; the most of them counts."""
    settled = placed(
        OVAL * [1.0, 0.0, 1.0] + np.column_stack([np.zeros(16), 0.0972 - 0.3 - 0.3 * np.cos(TURN), TURN * 0])
    )
    off = settled.cage.parameters.stand_off.copy()
    assert len(touch_reports(settled)) == 1
    off[:16] = 0.0001
    off[3] = 0.00075
    assert len(touch_reports(replace(settled, cage=settled.cage.with_parameters(stand_off=off)))) == 1


def test_why_a_cage_on_the_floor_gave_no_answer() -> None:
    """Laid out at 990 - 189.6 - 94.8 = 705.6 it would hang free; with a waist 900 mm lower 194.4 below the floor."""
    low = SADDLE * [1.0, 1.0, 0.0]
    told = str(why_not(placed(lower=low), "x.yaml"))
    assert "hoop 2 lies on the floor" in told
    assert "below it" not in told
    assert "Shorten the drops by 102 mm or more" in told
    sunk = placed(lower=low)
    just_above = sunk.cage.positions - np.array([0.0, 0.0, 0.66])
    told = str(why_not(replace(sunk, cage=replace(sunk.cage, positions=just_above)), "x.yaml"))
    assert "below it" not in told
    assert "Shorten the drops by 102 mm or more" in told
    deep = sunk.cage.positions - [0.0, 0.0, 0.9]
    told = str(why_not(replace(sunk, cage=replace(sunk.cage, positions=deep)), "x.yaml"))
    assert "the hem would be 194 mm below it" in told
    assert "Shorten the drops by 296 mm or more" in told
    both = str(why_not(placed(OVAL * [1.0, 1.0, 0.0], low), "x.yaml"))
    assert "hoops 1 and 2 lie on the floor" in both


def test_why_a_cage_that_did_not_settle_or_stay_gave_no_answer() -> None:
    lost = replace(placed(), settled=False, residual=0.123, worst_node="hoop 2 at tape 3")
    told = str(why_not(lost, "x.yaml"))
    for words in ("the skirt put on", "in 17 steps", "0.12 N is left unbalanced, most at hoop 2 at tape 3"):
        assert words in told
    fallen = str(why_not(replace(placed(skirt=None), stable=False, lowest_eigenvalue=-0.321), "x.yaml"))
    for words in ("tapes made stiffer", "in 17 steps", "lowest eigenvalue -0.32 N/m"):
        assert words in fallen


RIBBON, TAPE_2 = 8, 1  # rows of what pulls


@pytest.mark.parametrize(
    ("row", "pull", "push", "why", "remedy"),
    [
        (RIBBON, 1200.0, {}, "ribbon is too short. No", "Make ribbon longer, or what it is tied to nearer"),
        (RIBBON, 1200.0, {3: 600.0, 5: 500.0}, "short with hoop 1 round", "Make ribbon or hoop 1 longer"),
        (
            RIBBON,
            1200.0,
            {3: 1100.0, 17: 1001.0},
            "with hoops 1 and 2 round",
            "ribbon or hoops 1 and 2 longer",
        ),
        (RIBBON, 1200.0, {3: 999.0}, "ribbon is too short. No", "longer, or what it is tied to"),
        (TAPE_2, 1200.0, {}, "tape 2 to hoop 1 is too short. No", "Make tape 2 to hoop 1 longer"),
        (TAPE_2, 1200.0, {3: 1100.0}, "hoop 1 is too short to lie round", "Make hoop 1 longer, or the drops"),
        (TAPE_2, 1200.0, {3: 1100.0, 17: 1001.0}, "hoops 1 and 2 are too short", "Make hoops 1 and 2 longer"),
        (RIBBON, 999.0, {3: 1100.0}, "would not settle", "Look there for a tie"),
    ],
)
def test_why_what_pulls_asunder_gave_no_answer(row, pull, push, why, remedy) -> None:
    """A tonne's tenth, 1000 N and more, is no pull of a tape or tie that could hold."""
    torn = replace(placed(pushes={"wearer": push}), settled=False)
    pulls = PULLS.copy()
    pulls[row] = pull
    torn = replace(torn, state=replace(torn.state, forces={**torn.state.forces, "pulls": pulls}))
    told = str(why_not(torn, "x.yaml"))
    assert why in told
    assert remedy in told


def test_padding_may_be_what_a_hoop_is_too_short_for() -> None:
    torn = replace(placed(pushes={"wearer": {3: 1100.0}}), settled=False)
    pulls = PULLS.copy()
    pulls[TAPE_2] = 1200.0
    torn = replace(torn, state=replace(torn.state, forces={**torn.state.forces, "pulls": pulls}))
    assert "padding" not in str(why_not(torn, "x.yaml"))
    pad = Padding(place="hips", thickness=0.1, height=0.1)
    design = torn.cage.design.model_copy(update={"padding": (pad,)})
    padded = replace(torn, cage=replace(torn.cage, design=design))
    assert "narrower there, or the padding thinner" in str(why_not(padded, "x.yaml"))

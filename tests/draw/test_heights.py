"""Heights above the floor beside level pictures: each where the report measures it, and each once."""

from __future__ import annotations

import re
from typing import Any

import numpy as np
import pytest
from made import Written, hung_sample, sample

from cage3d.draw.dimensions import level_heights
from cage3d.draw.hung import Hung
from cage3d.draw.pictures import extent_of
from cage3d.draw.views import BACK, FRONT, SIDE, Margins, View, fitted
from cage3d.mesh.part import CAGE_KINDS
from cage3d.report.record import HoopReport
from cage3d.scene.shown import scene_parts

MIDDLE = 1000.0  # px, of the paper


class Columns(Written):
    """Remembers the heights that are written at the left and at the right, from the top, and all other words."""

    def __init__(self) -> None:
        super().__init__(2000, 2000)
        self.left: list[str] = []
        self.right: list[str] = []
        self.inmost = 0.0  # px from the left edge, the rightmost end of what is written at the left

    def words(self, place: tuple[float, float], words: str, *rest: Any, **more: Any) -> None:
        if re.search(r"\d+.* in$", words):
            (self.left if place[0] < MIDDLE else self.right).append(words)
            self.inmost = max(self.inmost, place[0]) if place[0] < MIDDLE else self.inmost
        super().words(place, words, *rest, **more)


def columns(letter: str, view: View) -> tuple[Columns, Hung, tuple[HoopReport, ...]]:
    settled, report = hung_sample(sample(letter))
    extent = extent_of(scene_parts(settled, CAGE_KINDS))
    paper, hung = Columns(), Hung.of(settled, report)
    level_heights(paper, fitted(view, extent, (2000, 2000), Margins(300, 300, 130, 190)), hung)
    return paper, hung, report.hoops


@pytest.mark.parametrize(("view", "at_right"), [(FRONT, "left"), (BACK, "right")], ids=["front", "back"])
def test_hoops_beside_her_are_told_at_their_own_side_where_their_outside_is(
    view: View, at_right: str
) -> None:
    paper, hung, hoops = columns("h", view)
    at_left = "right" if at_right == "left" else "left"
    for found, side in ((paper.right, at_right), (paper.left, at_left)):
        own = [hung.show(getattr(hoop, f"height_{side}_m")) for hoop in hoops if hoop.beside == side]
        assert len(own) == 3
        assert found == own
    assert {f"at her {at_left}", f"at her {at_right}"} <= set(paper.said)


def test_baskets_alike_are_told_once_from_the_side() -> None:
    paper, hung, hoops = columns("h", SIDE)
    assert paper.left == []
    assert paper.right == [hung.show(hoop.height_back_m) for hoop in hoops[::2]]


def test_hoops_that_meet_are_told_once_and_apart_where_they_fan_out() -> None:
    paper, hung, hoops = columns("j", SIDE)
    assert paper.left == [hung.show(hoops[0].height_front_m)]
    assert paper.right == [hung.show(hoop.height_back_m) for hoop in hoops]
    assert {"at the front", "at the back"} <= set(paper.said)


def test_heights_of_tilted_hoops_are_those_of_the_report() -> None:
    """A tilted hoop is furthest to her left before or behind the place that the report measures."""
    paper, hung, hoops = columns("j", FRONT)
    assert max(hoop.tilt_deg for hoop in hoops) > 20.0
    assert paper.left == []
    assert paper.right == [hung.show(hoop.height_left_m) for hoop in hoops]
    assert "at her sides" in paper.said


def test_heights_of_half_hoops_behind_her_stand_clear_of_her() -> None:
    """Her hip is 9.6 in deep about the middle of her waist: its front is 4.8 in before that."""
    paper, hung, _ = columns("g", SIDE)
    extent = extent_of(scene_parts(hung.settled, CAGE_KINDS))
    frame = fitted(SIDE, extent, (2000, 2000), Margins(300, 300, 130, 190))
    assert hung.settled.cage.design.wearer.hip_depth == pytest.approx(9.6 * 0.0254)
    assert len(paper.left) == 5
    assert paper.inmost < frame.on_paper(np.array([[0.0, -4.8 * 0.0254, 0.85]]))[0, 0]

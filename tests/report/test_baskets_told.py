"""What is told, drawn and printed of hoops beside her: which belong together, whose the hem is, sides of their own."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest

from cage3d.design.baskets import basket_of, hem_hoops, hem_under, lowest_of, neighbours
from cage3d.design.models import Design
from cage3d.design.read import read_data
from cage3d.foresee.hem import hem_nodes, hem_quarters
from cage3d.foresee.stiffness import sides_pushed
from cage3d.mesh.cover_beside import hoops_at_one_level
from cage3d.mesh.parts import build_parts
from cage3d.miniature.lines import hoop_gap, lines_of
from cage3d.miniature.process import scale_of
from cage3d.miniature.stand import posts_under
from cage3d.report import Report, measure
from cage3d.report.curves import HoopCurve, height_towards, hoop_curve, middle_of
from cage3d.report.summary import own_sides
from cage3d.report.warnings.hang import at_side
from cage3d.report.why_not import lies_on_floor
from cage3d.settle import SettledCage, settle
from cage3d.shape.lay_out import lay_out

OTHER = {"left": "right", "right": "left"}


def design(hoops: list[dict[str, Any]], drops: list[float] | list[list[float]], **more: Any) -> Design:
    return read_data({
        "name": "baskets", "units": "in", "wearer": {"waist": 26, "waist_height": 41.5, "hip": 39, "hip_drop": 8},
        "steel": {"width": "7 mm", "thickness": "0.5 mm"}, "tapes": {"count": 8, "drops": drops}, "hoops": hoops,
        "skirt": {"weight": "1 kg"}, **more,
    })  # fmt: skip


def bow(side: str, length: float) -> dict[str, Any]:
    return {"length": length, "beside": side, "opening": OTHER[side], "ends": "sewn"}


MIXED = [bow("left", 22), bow("right", 22), bow("left", 25), {"length": 120}, bow("right", 25)]
TWO = [bow("left", 22), bow("right", 23), bow("left", 25), bow("right", 26)]


@cache
def hung() -> tuple[SettledCage, Report]:
    """Shorter by an inch at her right, with a tie across each lower bow."""
    ties = [
        {"from": f"hoop {hoop} tape {one}", "to": f"hoop {hoop} tape {other}", "length": 12, "runs": side}
        for hoop, one, other, side in (
            (1, 1, 4, "left"),
            (2, 5, 8, "right"),
            (3, 1, 4, "left"),
            (4, 5, 8, "right"),
        )
    ]
    settled = settle(lay_out(design(TWO, [[11.0, 4.0]] * 4 + [[10.0, 4.0]] * 4, ties=ties), 64))
    assert settled.trusted
    return settled, measure(settled)


def test_which_hoops_hang_under_which() -> None:
    written = design(MIXED, [[10, 4, 6]] * 4 + [[10, 10, 5]] * 4)
    assert basket_of(written, 0) == [0, 2]
    assert neighbours(written) == ((0, 2), (1, 3), (2, 3), (3, 4))
    assert hem_hoops(written) == (4,)
    assert hoops_at_one_level(written) == [(0, 1), (2,), (3,), (4,)]


@pytest.mark.parametrize(("sides", "lowest"), [
    ((None, None), (1,)), (("left", "right", "left"), (1, 2)), (("left", None), (1,)), ((None, "left"), (1,)),
    (("left", "right", "right"), (0, 2)), (("left", None, "right"), (2,)),
])  # fmt: skip
def test_the_hem_is_that_of_the_lowest_of_each_side(
    sides: tuple[str | None, ...], lowest: tuple[int, ...]
) -> None:
    assert lowest_of(sides) == lowest


def test_the_hem_reaches_over_both_baskets() -> None:
    settled, report = hung()
    low, high = (report.hoops[hoop] for hoop in (2, 3))
    assert report.hem.lowest_m == pytest.approx(low.lowest_m)
    assert report.hem.highest_m == pytest.approx(high.highest_m)
    assert low.highest_m < high.highest_m
    left, right = (hoop_curve(settled, hoop).points[:, 0] for hoop in (2, 3))
    assert report.hem.widest_m >= float(left.max() - right.min()) - 1e-9
    assert report.width_side_side_m == pytest.approx(float(left.max() - right.min()))
    assert [hoop.kind for hoop in report.hoops] == ["left open", "right open", "left open", "right open"]
    joined = settled.cage.connectivity
    assert sorted(hem_nodes(settled.cage)) == sorted([*joined.hoop_nodes[2], *joined.hoop_nodes[3]])
    assert sides_pushed(settled) == ("left", "right")
    assert own_sides(report)


def test_a_mark_is_told_on_the_hem_of_its_own_basket() -> None:
    """At its front the first end of a bow at her left, and the last of one at her right; so too at its open side."""
    settled, _ = hung()
    left, right = (settled.cage.connectivity.hoop_nodes[hoop] for hoop in (2, 3))
    assert hem_quarters(settled.cage, 0, 0)[0::3] == [left[0], left[0]]
    assert hem_quarters(settled.cage, 1, 7)[:2] == [right[-1], right[-1]]


def test_a_mark_round_her_over_two_baskets_is_told_on_the_one_its_tape_goes_on_to() -> None:
    sides = (None, "left", "right", "left")
    assert [hem_under(sides, 0, passed) for passed in ((0, 1, 3), (0, 2), (0,))] == [3, 2, 3]
    assert [hem_under(sides, 1, passed) for passed in ((0, 1, 3), (0, 1))] == [3, 3]
    assert hem_under(sides, 2, (0, 2)) == 2
    assert hem_under((None, None), 0, (0,)) == 1


def test_below_the_floor_is_told_of_the_lower_basket() -> None:
    """Laid out 2 in below it at her left and 3 in above it at her right."""
    cage = hung()[0].cage
    positions = cage.positions.copy()
    for hoop, inches in ((2, -2.0), (3, 3.0)):
        positions[cage.connectivity.hoop_nodes[hoop], 2] = inches * 0.0254
    sunk = SimpleNamespace(cage=replace(cage, positions=positions))
    why, remedy = lies_on_floor(sunk, [3])  # type: ignore[arg-type]
    assert "the hem would be 2 in below it" in why
    assert remedy.startswith("Shorten the drops by 6 in or more")  # 4 in are low enough to trip over


def test_sides_are_told_from_its_own_middle() -> None:
    """A square of 2 m about (5, 1), rising by 0.1 a metre to its left: at its left 0.1 higher than in its middle."""
    points = np.array([[4.0, 0.0, 0.9], [6.0, 0.0, 1.1], [6.0, 2.0, 1.1], [4.0, 2.0, 0.9], [4.0, 0.0, 0.9]])
    curve = HoopCurve(points, True, middle_of(points))
    assert curve.axis == (5.0, 1.0)
    found = [height_towards(curve, side)[0] for side in ("front", "left", "back", "right")]
    assert found == pytest.approx([1.0, 1.1, 1.0, 0.9])


def test_words_for_its_sides() -> None:
    left, right = hung()[1].hoops[:2]
    assert [at_side(left, side) for side in ("front", "left", "right")] == [
        "at its front",
        "on its outside",
        "next to her",
    ]
    assert at_side(right, "left") == "next to her"


def test_the_skirt_goes_straight_from_one_basket_to_the_other() -> None:
    """Before and behind her it is flat: its foremost places run at one depth over the width of her waist."""
    settled, report = hung()
    (skirt,) = (part for part in build_parts(settled, {"skirt"}) if part.kind == "skirt")
    hem = skirt.vertices[skirt.vertices[:, 2] < report.hem.highest_m]
    front = hem[(np.abs(hem[:, 0]) < 0.1) & (hem[:, 1] < 0.0)]
    foremost = min(float(hoop_curve(settled, hoop).points[:, 1].min()) for hoop in (2, 3))
    assert len(front) > 4
    assert np.ptp(front[:, 1]) < 0.02
    assert front[:, 1].min() == pytest.approx(foremost, abs=0.02)


def test_the_miniature_stands_on_posts_under_both() -> None:
    settled, _ = hung()
    lines = lines_of(settled, scale_of(6), 3.0)
    for hem, tapes in ((2, {0, 3}), (3, {4, 7})):
        posts = posts_under(lines, hem, settled.cage.stations)
        assert set(posts[:, 0]) == {hem}
        assert tapes < set(posts[:, 1].tolist())
        assert len(posts) == 3
    # From hoop 1 to hoop 3 below it are 4 in of tape, some 17 mm at 1:6; from hoop 1 to hoop 2 it is more.
    assert hoop_gap(lines) < 4 * 25.4 / 6

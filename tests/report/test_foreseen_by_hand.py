"""What lies beyond the resting shape, with the answers of others put in, and how it is told."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from figured import INCH, report
from hung import plain

from cage3d.foresee.capacity import Capacity
from cage3d.foresee.sensitivity import MarkEffect
from cage3d.foresee.sliding import BothWays
from cage3d.foresee.slips import Slip
from cage3d.foresee.stiffness import Give
from cage3d.report import outlook
from cage3d.report.foreseen import (
    CapacityReport,
    SlipReport,
    SpreadReport,
)
from cage3d.settle import SettledCage
from cage3d.shape.weights import GRAVITY


def test_marks_of_the_outlook(monkeypatch: pytest.MonkeyPatch) -> None:
    """Ten at most, of which six are settled again 3 mm (or 1/8 in) lower and higher; numbered from 1."""
    tried: list[tuple[int, int, float]] = []

    def slip(_: SettledCage, tape: int, hoop: int, down: float) -> Slip:
        tried.append((tape, hoop, down))
        return Slip(0.1, 0.2, 0.3, 0.4 if down > 0 else 0.5)

    effects = [MarkEffect(tape, 1, 0.9 - tape / 100, 0.1, 0.2, 0.3) for tape in range(12)]
    moves = np.arange(25.0).reshape(1, 1, 25)  # of 24 marks, and of what else is sewn
    monkeypatch.setattr(outlook, "sewing_moves", lambda _: moves)
    monkeypatch.setattr(
        outlook, "mark_effects", lambda _, moved: effects if moved.shape == (1, 1, 24) else []
    )
    monkeypatch.setattr(outlook, "slip", slip)
    monkeypatch.setattr(outlook, "level_within", lambda _, moved: 0.0123 if moved is moves else 0.0)
    found = outlook.with_marks(report("mm"), plain()[1])
    assert [(one.tape, one.hoop) for one in found.marks] == [(tape, 2) for tape in range(1, 11)]
    assert tried == [(tape, 1, down) for tape in range(6) for down in (0.003, -0.003)]
    first, last = found.marks[0], found.marks[6]
    assert (first.hem_front, first.hem_left, first.hem_back, first.hem_right) == (0.9, 0.1, 0.2, 0.3)
    assert (first.low, first.high) == (SlipReport(0.1, 0.2, 0.3, 0.4), SlipReport(0.1, 0.2, 0.3, 0.5))
    assert (first.off_by_m, last.low, last.high) == (0.003, None, None)
    # One sigma: 1/16 in a mark and 1/8 in a hoop (common practice).
    assert found.spread == SpreadReport(pytest.approx(INCH / 16), pytest.approx(INCH / 8), 0.9, 0.0123)
    for units, off in (("in", INCH / 8), ("ft", INCH / 8), ("cm", 0.003)):
        assert outlook.off_by(report(units)) == pytest.approx(off)


def test_a_skirt_that_slides_moves_the_hoops(monkeypatch: pytest.MonkeyPatch) -> None:
    """Stretched by a hundredth to the sides and pressed by two front to back, up by a hundredth of how far behind."""
    lies = plain()[1]
    moved = lies.positions * [1.01, 0.98, 1.0] + np.outer(lies.positions[:, 1], [0.0, 0.0, 0.01])
    on_band = np.array([0.0, 0.0, -2.0 * GRAVITY])
    slides = replace(lies, state=replace(lies.state, positions=moved, cloth_on_band=on_band))
    monkeypatch.setattr(outlook, "both_ways", lambda _: BothWays(lies, slides))
    found = outlook.with_certainty(report(), lies).sliding
    assert found is not None
    assert found.band_kg == pytest.approx(2.0)
    assert [hoop.number for hoop in found.hoops] == [1, 2, 3]
    for hoop, length in zip(found.hoops, (52, 62, 70), strict=True):
        reach = length * INCH / 6.2832  # the tapes draw a hoop in a little
        assert hoop.heights == pytest.approx((-0.01 * reach, 0.0, 0.01 * reach, 0.0), rel=0.05, abs=1e-4)
        assert hoop.widths == pytest.approx((0.02 * reach, -0.04 * reach), rel=0.05)
    hem = (
        found.hem_front_m,
        found.hem_left_m,
        found.hem_back_m,
        found.hem_right_m,
        found.wide_m,
        found.deep_m,
    )
    assert hem == (*found.hoops[2].heights, *found.hoops[2].widths)


def test_pushes_and_another_way(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(
        outlook, "gives", lambda _: (Give("front", 0.03, 0.01, 0.4), Give("left", None, None, None))
    )
    found = outlook.with_stiffness(report(), plain()[1]).gives
    assert [(one.side, one.inward_m, one.dent_m) for one in found] == [
        ("front", 0.03, 0.01),
        ("left", None, None),
    ]
    assert [one.push_N for one in found] == pytest.approx([0.2 * GRAVITY] * 2)
    monkeypatch.setattr(outlook, "second_way", lambda _: "it may hang lower")
    assert outlook.with_second_way(report(), plain()[1]).warnings[-1].text == "It may hang lower."


@pytest.mark.parametrize(
    ("reached", "factor", "hoop", "warned"),
    [(True, 1.4, 2, True), (True, 1.6, 2, False), (False, 1.4, None, False)],
)
def test_capacity(
    monkeypatch: pytest.MonkeyPatch, reached: bool, factor: float, hoop: int | None, warned: bool
) -> None:
    monkeypatch.setattr(outlook, "carries", lambda _: Capacity(factor, reached, 1, "snaps"))
    steel = plain()[1].cage.design.steel
    monkeypatch.setattr(outlook, "lightest_steel", lambda _, wanted: steel if wanted == 2.0 else None)
    told = report(warnings=())
    found = outlook.with_capacity(told, plain()[1], 2.0)
    assert found.carries == CapacityReport(factor, reached, hoop, "snaps", 2.0, 0.012, 0.0006)
    assert [one.code for one in found.warnings] == (["little_reserve"] if warned else [])
    for wanted in (None, 3.0):
        other = outlook.with_capacity(told, plain()[1], wanted).carries
        assert other is not None
        assert (other.wanted, other.lightest_width_m, other.lightest_thickness_m) == (wanted, None, None)


def test_nothing_is_foreseen_of_a_cage_that_is_no_answer() -> None:
    lame = report(stable=False)
    for more in (
        outlook.with_marks,
        outlook.with_certainty,
        outlook.with_stiffness,
        outlook.with_second_way,
        outlook.with_capacity,
    ):
        assert more(lame, plain()[1]) is lame

"""A cage in question is settled again with twice the nodes: what differs is a range, what differs far is no answer."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from hung import codes, data, hung, plain
from lopsided import lopsided

from cage3d import flow
from cage3d.design.read import read_data
from cage3d.errors import NotSettledError
from cage3d.foresee import finer as more_nodes
from cage3d.report import Report, measure, report_json, with_finer
from cage3d.report.summary import summary
from cage3d.settle import SettledCage, settle
from cage3d.shape.lay_out import lay_out

SNAPPED = "hoop 1 snapped to another shape"


def in_question(settled: SettledCage) -> SettledCage:
    return replace(settled, notes=(SNAPPED,))


def again(
    monkeypatch: pytest.MonkeyPatch, found: Callable[[SettledCage], SettledCage]
) -> tuple[Report, SettledCage]:
    """The report of the plain cage, in question, where more nodes find this instead of it."""
    settled = in_question(plain()[1])
    monkeypatch.setattr(more_nodes, "settle", lambda _cage: found(settled))
    return with_finer(measure(settled), settled), settled


def lowered(by: float) -> Callable[[SettledCage], SettledCage]:
    def found(settled: SettledCage) -> SettledCage:
        return replace(settled, state=replace(settled.state, positions=settled.positions - [0.0, 0.0, by]))

    return found


def test_what_nothing_puts_in_question_is_not_settled_again(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(more_nodes, "settle", lambda _cage: pytest.fail("settled again"))
    report, settled = plain()
    assert with_finer(report, settled) is report


def test_a_hoop_that_touches_hangs_the_same_with_twice_the_nodes() -> None:
    """A hoop of 46 in on hips of 44: it touches, and half the segments change less than a millimetre."""
    wearer = {"waist": 24, "waist_height": 41.5, "hip": 44, "hip_drop": 8}
    hoops = [{"length": 46}, {"length": 62}, {"length": 70}]
    settled = settle(lay_out(read_data(data(wearer=wearer, hoops=hoops, hem={}))))
    report = measure(settled)
    assert report.touching
    told = with_finer(report, settled)
    assert told.trusted
    assert told.finer is not None
    assert told.finer.finer_nodes == 2 * told.finer.nodes
    assert 0.0 < told.finer.apart_m < 0.001
    assert told.finer.ranges == ()
    assert summary(told) == summary(report)


def test_a_cage_on_two_tapes_is_always_in_question() -> None:
    _, settled = hung(tapes={"count": 2, "drops": [9, 8, 7]})
    assert more_nodes.in_question(settled)


def test_what_differs_by_more_than_a_millimetre_is_said_as_a_range(monkeypatch: pytest.MonkeyPatch) -> None:
    """All of it 6.35 mm lower: every height a quarter of an inch, no width."""
    report, _ = again(monkeypatch, lowered(0.00635))
    assert report.trusted
    assert report.finer is not None
    assert report.finer.apart_m == pytest.approx(0.00635)
    assert {one.figure for one in report.finer.ranges} == {
        "height_front_m", "height_left_m", "height_back_m", "height_right_m",
    }  # fmt: skip
    assert len(report.finer.ranges) == 4 * len(report.hoops)
    first = report.finer.ranges[0]
    assert (first.high_m, first.low_m) == pytest.approx(
        (report.hoops[0].height_front_m, report.hoops[0].height_front_m - 0.00635)
    )
    (line,) = (line for line in summary(report) if line.startswith("With twice the nodes"))
    assert "hoop 1 " in line
    assert " at the front, " in line
    assert report_json(report)["finer"]["ranges"][0]["figure"] == "height_front_m"


def test_nine_tenths_of_a_millimetre_are_not_said(monkeypatch: pytest.MonkeyPatch) -> None:
    report, _ = again(monkeypatch, lowered(0.0009))
    assert report.finer is not None
    assert report.finer.ranges == ()
    assert not any("twice the nodes" in line for line in summary(report))


def test_what_differs_by_more_than_ten_millimetres_is_no_answer(monkeypatch: pytest.MonkeyPatch) -> None:
    assert again(monkeypatch, lowered(0.0099))[0].trusted
    report, _ = again(monkeypatch, lowered(0.035))
    assert not report.trusted
    with pytest.raises(NotSettledError, match=r"design\.yaml.*otherwise with more nodes: hoop 1 "):
        flow.vouched(report, Path("design.yaml"))


def test_the_mirror_image_of_a_cage_that_falls_to_a_side_is_the_same(monkeypatch: pytest.MonkeyPatch) -> None:
    settled = in_question(lopsided()[0])
    fractions, opposite = settled.cage.connectivity.node_fraction, np.arange(len(settled.positions))
    for nodes in settled.cage.connectivity.hoop_nodes:
        away = np.abs(np.mod(fractions[nodes, None] + fractions[None, nodes] + 0.5, 1.0) - 0.5)
        assert away.min(axis=1).max() < 1e-9, "every node has one across from it"
        opposite[nodes] = nodes[away.argmin(axis=1)]
    mirrored = settled.positions[opposite] * [-1.0, 1.0, 1.0]
    other = replace(settled, state=replace(settled.state, positions=mirrored))
    monkeypatch.setattr(more_nodes, "settle", lambda _cage: other)
    told = with_finer(measure(settled), settled)
    assert told.finer is not None
    assert abs(measure(other).hoops[0].height_left_m - told.hoops[0].height_left_m) > 0.05
    assert told.finer.apart_m < 0.005


def test_no_rest_to_compare_with_is_a_warning(monkeypatch: pytest.MonkeyPatch) -> None:
    report, _ = again(monkeypatch, lambda settled: replace(settled, settled=False))
    assert report.trusted
    assert report.finer is None
    assert "no_rest_with_more_nodes" in codes(report)

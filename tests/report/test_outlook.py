"""What lies beyond the resting shape: slips in the design, and a second way of hanging."""

from __future__ import annotations

from dataclasses import replace

import pytest
from rigs import STRIP_10, design_of, whole_cage

from cage3d.foresee import second_way as second
from cage3d.report import measure, with_second_way
from cage3d.settle import settle
from cage3d.shape.lay_out import lay_out


@pytest.fixture(name="settled", scope="module")
def whole_settled():
    return settle(lay_out(whole_cage(), 32))


def codes(report):
    return {warning.code for warning in report.warnings}


def test_a_plain_cage_has_one_way_of_hanging(settled):
    assert "two_ways" not in codes(with_second_way(measure(settled), settled))


def test_another_rest_is_told(settled, monkeypatch):
    def lower(_cage):
        return replace(settled, state=replace(settled.state, positions=settled.positions - [0.0, 0.0, 0.02]))

    monkeypatch.setattr(second, "settle", lower)
    report = with_second_way(measure(settled), settled)
    text = next(warning.text for warning in report.warnings if warning.code == "two_ways")
    assert "20 mm" in text


def test_an_overloaded_cage_hangs_in_two_ways():
    """Three tapes press a light hoop in three places: past its capacity it buckles one way or another."""
    design = design_of(
        waist=0.7, zero=1.2, drops=[[0.14]] * 3, lengths=[1.5],
        steel={"width": 0.006, "thickness": 0.0004}, skirt={"weight": 0.5556},
    )  # fmt: skip
    settled = settle(lay_out(design))
    assert settled.trusted
    assert second.second_way(settled) or settled.notes


def test_a_waist_out_of_the_ordinary_is_told():
    design = design_of(waist=1.84, zero=1.05, drops=[[0.3]] * 8, lengths=[2.4], steel=STRIP_10)
    report = measure(settle(lay_out(design, 32)))
    assert "check_the_design" in codes(report)


def overdrawn(**ties):
    """Two hoops, with ties that draw the lower one where it cannot lie."""
    return design_of(
        waist=0.7, zero=1.05, drops=[[0.17, 0.18]] * 8, lengths=[1.4, 1.6], steel=STRIP_10, ties=[ties]
    )  # fmt: skip


def test_hoops_through_each_other_and_folds_are_told():
    lifted = overdrawn(**{"from": "waistband tape 3", "to": "hoop 2 tape 3", "length": 0.05})
    assert "hoops_cross" in codes(measure(settle(lay_out(lifted, 64))))
    pinched = overdrawn(**{"from": "hoop 2 tape 1", "to": "hoop 2 tape 4", "length": 0.01})
    assert {"hoops_cross", "hoop_folds"} <= codes(measure(settle(lay_out(pinched, 64))))
    plain = measure(settle(lay_out(whole_cage(), 32)))
    assert not codes(plain) & {"hoops_cross", "hoop_folds"}


def test_a_fold_is_told(settled):
    """Two crossings changed about: the tapes no longer follow one another round the hoop."""
    joined = settled.cage.connectivity
    swapped = settled.positions.copy()
    first, second = joined.crossing[2, :2]
    swapped[[first, second]] = swapped[[second, first]]
    folded = replace(settled, state=replace(settled.state, positions=swapped))
    assert "hoop_folds" in codes(measure(folded))

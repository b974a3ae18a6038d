"""When a tilt is told, of which hoop and along which way, and when it is what was wanted."""

from __future__ import annotations

from dataclasses import replace

from figures_set import hoop, texts
from hung import plain

from cage3d.design.models.wanted import WantedHoop
from cage3d.report import Report
from cage3d.report.warnings import warnings_of
from cage3d.report.warnings.case import Case
from cage3d.report.warnings.hang import ends_of_tilt


def test_one_hoop_hangs_tilted_and_two_hang() -> None:
    assert texts(hoop(2, tilt_deg=3.0), "tilt")[0].startswith("Hoop 2 hangs tilted")


def wishing(report: Report, **heights: float) -> list[str]:
    """What is told of tilt where these heights (m) of hoop 2 are wanted."""
    settled = plain()[1]
    wanted = (WantedHoop(hoop=2, **heights),)
    design = settled.cage.design.model_copy(update={"wanted": wanted})
    case = Case(report, replace(settled, cage=replace(settled.cage, design=design)))
    return [warning.text for warning in warnings_of(case) if warning.code == "tilt"]


def test_a_tilt_that_is_wanted_is_no_fault() -> None:
    """50 mm over 1 m are 2.86 degrees. Wanted so nothing is told; wanted level, or not wanted, it is."""
    dips = hoop(2, tilt_deg=2.86, height_front_m=0.55, height_back_m=0.50, width_front_back_m=1.0)
    assert wishing(dips, front=0.55, back=0.50) == []
    assert wishing(dips, front=0.65, back=0.60) == []  # its height is another matter
    assert (
        len(wishing(dips, height=0.52))
        == len(wishing(dips, front=0.55))
        == len(wishing(dips, width=1.0))
        == 1
    )
    assert wishing(dips, front=0.55, back=0.50, left=0.6, right=0.6) == []


def test_a_hoop_that_hangs_otherwise_than_wanted_is_told_with_what_is_wanted() -> None:
    """2 degrees over 1 m are 34.92 mm."""
    level = hoop(2, tilt_deg=0.0, height_front_m=0.508, height_back_m=0.508, width_front_back_m=1.0)
    assert wishing(level, front=0.54292, back=0.508) == []
    assert wishing(level, front=0.54293, back=0.508) == [
        "Hoop 2 is 20 in and 20 in above the floor at the front and the back; 21 3/8 in and 20 in are wanted. Let "
        "cage3d aim find the drops."
    ]
    leaning = hoop(2, tilt_deg=0.0, height_left_m=0.508, height_right_m=0.508, width_side_side_m=1.0)
    assert "at the left and the right" in wishing(leaning, left=0.50, right=0.55)[0]


def test_a_tilt_is_told_along_the_way_it_leans_most() -> None:
    heights = {"height_front_m": 0.50, "height_back_m": 0.60, "height_left_m": 0.40, "height_right_m": 0.55}
    assert ends_of_tilt(hoop(1, **heights).hoops[0]) == (("left", 0.40), ("right", 0.55))
    assert ends_of_tilt(hoop(1, **heights | {"height_left_m": 0.5}).hoops[0]) == (
        ("front", 0.50),
        ("back", 0.60),
    )

"""Cautions of wearing by the figures of a cage."""

from __future__ import annotations

from figures_set import hem, hoop, whole
from hung import plain

from cage3d.report import Report
from cage3d.report.cautions import wearing_cautions


def about(report: Report, title: str) -> str:
    return dict(wearing_cautions(plain()[1].cage.design, report))[title]


def test_cautions_follow_the_figures() -> None:
    assert "low enough to trip over" in about(hem(lowest=0.1015), "Trips and stairs")
    assert "low enough" not in about(hem(lowest=0.1017), "Trips and stairs")
    wide = whole(width_side_side_m=0.5, width_front_back_m=0.8637)
    assert "34 in at its widest, wider than the door (34 in clear)" in about(wide, "Crowding and doors")
    narrow = whole(width_side_side_m=0.5, width_front_back_m=0.8635)
    assert "narrower than the door" in about(narrow, "Crowding and doors")
    assert "dresser" in about(hoop(2, length_m=2.541), "Dressing")
    assert "dresser" not in about(hoop(2, length_m=2.539), "Dressing")


def test_without_a_door_it_is_held_against_an_accessible_one() -> None:
    design = plain()[1].cage.design
    doorless = design.model_copy(update={"stage": design.stage.model_copy(update={"door": None})})
    for width, told in (
        (0.8127, "narrower than an accessible door (32 in clear)"),
        (0.8129, "wider than an accessible"),
    ):
        report = whole(width_side_side_m=width, width_front_back_m=0.5)
        assert told in dict(wearing_cautions(doorless, report))["Crowding and doors"]

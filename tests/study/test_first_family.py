"""Every kind of first design settles as its kind should, and with no warning, for women, men and children.

What nobody wished otherwise is taken as `cage3d new` proposes it. A few at once; with --slow every kind on everybody.
"""

from __future__ import annotations

from itertools import pairwise, product
from pathlib import Path

import pytest
from cage3d_cli.questions import brief_of
from first_wearers import WEARERS

from cage3d.design.first.body import hip_half_breadth
from cage3d.design.first.brief import Brief
from cage3d.design.first.kinds import KINDS
from cage3d.design.first.starter import first_cage
from cage3d.design.first.text import written
from cage3d.design.read import read_text
from cage3d.report import Report, measure
from cage3d.settle import settle
from cage3d.shape.lay_out import lay_out
from cage3d.study.aiming.first_numbers import as_it_hangs
from cage3d.units import INCH

ALWAYS = [
    ("bell", "child of 104 cm", "cm"),
    ("drum", "large man", "cm"),
    ("dipped", "child of 116 cm", "in"),
    ("oval", "mean man of the survey", "mm"),
    ("back-weighted", "child of 128 cm", "cm"),
    ("back-weighted", "child of 128 cm", "in"),
    ("half-hoops", "small man", "in"),
    ("baskets", "child of 116 cm", "in"),
    ("gored", "child of 152 cm", "cm"),
]
EVERYBODY = [
    pytest.param(*case, marks=[] if case in ALWAYS else pytest.mark.slow)
    for case in dict.fromkeys([*ALWAYS, *product(KINDS, WEARERS, ("in", "cm"))])
]


def usual_brief(kind: str, wearer: str, unit: str, monkeypatch: pytest.MonkeyPatch) -> Brief:
    """Who answers only with measures of the wearer."""
    keys = ("waist", "waist_height", "hip", "hip_drop")
    measured = {key: f"{size:.4f} m" for key, size in zip(keys, WEARERS[wearer], strict=True)}
    others = ("hem", "wide", "deep", "dip", "behind", "out", "gores", "clearance", "hoops", "tapes", "skirt")
    given = {"silhouette": kind, **measured, **dict.fromkeys(others)}
    monkeypatch.setattr("sys.stdin", Nothing())
    return brief_of(Path("first.yaml"), unit, given)


class Nothing:
    """A keyboard on which return is pressed."""

    def readline(self) -> str:
        return "\n"


@pytest.mark.parametrize(("kind", "wearer", "unit"), EVERYBODY)
def test_settles_as_wished_without_a_warning(
    kind: str, wearer: str, unit: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    brief = usual_brief(kind, wearer, unit, monkeypatch)
    laid_out = first_cage(brief)
    found = as_it_hangs(read_text(written(brief, laid_out)), laid_out)
    settled = settle(lay_out(read_text(written(brief, found))))
    assert settled.trusted
    report = measure(settled)
    assert [warning.text for warning in report.warnings] == []
    hem = report.hoops[-1]
    dip = brief.dip or 0.0
    middle = sum(brief.clearance) / 2 - dip / 2
    heights = [hem.height_front_m, hem.height_left_m, hem.height_back_m, hem.height_right_m]
    assert sum(heights) / 4 == pytest.approx(middle, abs=INCH / 8)
    # One list of drops levels no more than the band does; drops to eighths level to one and a half of them.
    level_to = INCH / 4 if len(found.drops) == 1 else 3 * INCH / 16
    assert hem.height_front_m - hem.height_back_m == pytest.approx(dip, abs=level_to)
    looks_like_its_kind(brief, report)


def looks_like_its_kind(brief: Brief, report: Report) -> None:
    """By widths alone, as the kind's words say."""
    wide = [hoop.width_side_side_m for hoop in report.hoops]
    hem = report.hoops[-1]
    grows = [after - before for before, after in pairwise(wide)]
    if brief.silhouette in ("dome", "dipped", "gored"):
        assert grows == sorted(grows, reverse=True)
        if brief.silhouette == "gored":  # its upper hoops, open in front, hang nothing lower there
            assert hem.height_front_m - hem.height_left_m == pytest.approx(0.0, abs=INCH / 8)
    elif brief.silhouette == "bell":
        assert grows[-1] > 1.2 * grows[0] > 0.0
    elif brief.silhouette == "drum":
        assert max(wide) - min(wide) < 0.06 * max(wide)
    elif brief.silhouette == "lantern":
        assert max(wide) > 1.05 * wide[-1]
        assert max(wide) > 1.1 * wide[0]
    elif brief.silhouette == "oval":
        assert wide[-1] == pytest.approx(brief.wide, abs=INCH / 2)
        assert hem.width_front_back_m == pytest.approx(brief.deep, abs=INCH)
    elif brief.silhouette == "half-hoops":
        assert hem.back_to_axis_m == pytest.approx(brief.out, abs=INCH / 2)
        assert wide == sorted(wide)
        assert all(tie.tension_N > 0.0 for tie in report.ties)
    elif brief.silhouette == "baskets":
        hip = hip_half_breadth(brief.hip or 0.0)
        assert report.width_side_side_m == pytest.approx(2 * (brief.out + hip), abs=INCH / 2)
        assert hem.width_front_back_m == pytest.approx(brief.deep, abs=INCH / 4)
        assert hem.length_m == pytest.approx(max(hoop.length_m for hoop in report.hoops), abs=1e-9)
        assert all(tie.tension_N > 0.0 for tie in report.ties)
    elif brief.silhouette == "back-weighted":
        share = hem.back_to_axis_m / (hem.back_to_axis_m + hem.front_to_axis_m)
        assert share == pytest.approx(brief.behind, abs=0.02)
        assert all(tie.tension_N > 0.0 for tie in report.ties)

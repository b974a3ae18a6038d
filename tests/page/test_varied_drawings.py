"""Curves and contact sheet of a sweep: what stands where, read back from the drawing."""

from __future__ import annotations

import re
from functools import cache
from xml.etree import ElementTree

import numpy as np
import pytest
from calling import SMALL

from cage3d.design.read import text_as_written
from cage3d.page.contact_sheet import contact_sheet_svg
from cage3d.page.curve_panel import Curve, Panel, panel_svg, round_step, spread
from cage3d.page.curves import curves_svg
from cage3d.study.sweeping.ranges import steps_of
from cage3d.study.sweeping.sweep import Sweep
from cage3d.study.sweeping.vary import Varied, vary

SVG = "{http://www.w3.org/2000/svg}"


@cache
def varied() -> Varied:
    """Hoop 2 of 12 in (refused), 42 and 72 in."""
    design, data = text_as_written(SMALL, "small.yaml")
    return vary(Sweep(design, data, steps_of(design, ["hoop 2 length", "12..72", "by", "30"])), nodes=24)


def drawing(svg: str) -> ElementTree.Element:
    return ElementTree.fromstring(svg)


def words(element: ElementTree.Element) -> list[str]:
    return [str(text.text) for text in element.iter(f"{SVG}text")]


def panel(*curves: Curve, **more: object) -> ElementTree.Element:
    given = {"least": 1.0, "written": 4.0} | more
    drawn = Panel("Width", "mm", "Hoop", (0.0, 4.0, 10.0), ("0", "4", "10"), curves, **given)  # type: ignore[arg-type]
    return drawing(f'<svg xmlns="http://www.w3.org/2000/svg">{panel_svg(drawn)}</svg>')


def dots(element: ElementTree.Element) -> np.ndarray:
    return np.array(
        [[float(dot.attrib["cx"]), float(dot.attrib["cy"])] for dot in element.iter(f"{SVG}circle")]
    )


def test_dots_stand_at_their_values():
    """From 0 to 10 across are 424 px, from x = 62; values of 0 to 100 fill the 228 px above y = 268."""
    found = dots(panel(Curve("a", (0.0, 50.0, 100.0))))
    assert found == pytest.approx(np.array([[62, 268], [62 + 0.4 * 424, 268 - 114], [486, 40]]), abs=0.06)


def test_a_gap_and_a_cross_where_there_is_no_answer():
    drawn = panel(Curve("a", (0.0, None, 100.0)), Curve("b", (5.0, None, 60.0)))
    assert len(dots(drawn)) == 4
    lines = [path.attrib for path in drawn.iter(f"{SVG}path")]
    assert [one["stroke-width"] for one in lines].count("2") == 1  # the cross; no line runs over the gap
    (crossed,) = [one["d"] for one in lines if one["stroke-width"] == "2"]
    assert crossed.startswith("M226.6 263.0L236.6 273.0")
    assert {"a", "b"} <= set(words(drawn))


def test_what_nobody_sees_looks_level():
    """A hundredth of a millimetre on an axis that spans one."""
    heights = dots(panel(Curve("a", (10.0, 10.01, 10.0)), written=None))[:, 1]
    assert np.ptp(heights) < 228 * 0.02


@pytest.mark.parametrize(
    ("least", "unit", "step"),
    [(0.3, "mm", 0.5), (7, "g", 10), (20, "%", 20), (0.3, "in", 0.5), (0.06, "in", 1 / 16)],
)
def test_round_steps(least: float, unit: str, step: float):
    assert round_step(least, unit) == pytest.approx(step)


def test_names_never_stand_on_each_other():
    assert spread([100.0, 101.0, 102.0], 46, 274) == [100.0, 115.0, 130.0]
    assert spread([270.0, 272.0, 274.0], 46, 274) == [244.0, 259.0, 274.0]


def test_curves_of_a_sweep():
    drawn = drawing(curves_svg(varied()))
    told = words(drawn)
    assert "Small cage" in told
    assert (
        "Hoop 2 length from 12 in to 72 in by 30 in. Dashed upright: as it is written. Cross: no answer there."
        in told
    )
    titles = [text.text for text in drawn.iter(f"{SVG}text") if text.attrib.get("font-weight") == "bold"]
    assert titles[1:4] == [
        "Hem above the floor, in",
        "Tilt of each hoop, degrees",
        "Each hoop from side to side, in",
    ]
    assert len(titles) == 1 + 6
    # 42 and 72 in: two of three places, four sides of the hem and twice five lines for two hoops.
    assert len(dots(drawn)) == 2 * (4 + 5 * 2)
    assert curves_svg(varied()) == curves_svg(varied())


def test_the_sheet_shows_all_at_one_scale():
    sheet = drawing(contact_sheet_svg(varied(), [0, 1, 2]))
    told = words(sheet)
    assert [name for name in told if re.fullmatch(r"[0-9]+ in", name) and name != "12 in"] == [
        "42 in",
        "72 in",
    ]
    assert told.count("12 in") == 2  # the variant, and the ruler
    assert told.count("Front") == told.count("Her left") == 2
    assert any(line.startswith("hoops[1].length: hoop 2 is shorter") for line in told)
    # A ring of 72 in is 22.92 in across, on six tapes nearly round: that many millimetres lie between its ends.
    cell = [group for group in sheet.iter(f"{SVG}g") if "72 in" in words(group)][-1]
    across = [
        np.array([[float(number) for number in place.split()] for place in path.attrib["d"][1:].split("L")])
        for path in cell.iter(f"{SVG}path")
        if path.attrib.get("stroke-width") == "7"
    ]
    assert max(np.ptp(points[:, 0]) for points in across) == pytest.approx(72 / np.pi * 25.4, rel=0.03)

"""Left and right, front and back of a cage that hangs at four known heights: wherever it is told or drawn."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Sequence
from functools import cache
from html import unescape
from typing import Any

import numpy as np
import pytest
import trimesh
from judges import missing
from lopsided import (
    AT_TAPES,
    BACK_TAPES,
    DROPS,
    FRONT_TAPES,
    LEFT_TAPES,
    NEAR,
    RADIUS,
    RIGHT_TAPES,
    SIDES,
    lopsided,
)
from made import Written, hung_sample, pages_of, sample

from cage3d.draw.dimensions import measured_at, tape_numbers, write_on
from cage3d.draw.hung import Hung
from cage3d.draw.pictures import extent_of
from cage3d.draw.render import DrawError, rendered
from cage3d.draw.views import ABOVE, BACK, FRONT, SIDE, Frame, Margins, View, fitted
from cage3d.mesh.part import CAGE_KINDS
from cage3d.mesh.parts import build_parts
from cage3d.miniature.maquette import build_maquette
from cage3d.miniature.order import Order
from cage3d.page.line_drawing import FRONT as DRAWN_FRONT
from cage3d.page.line_drawing import HER_LEFT, drawing_svg
from cage3d.page.line_drawing import NEAR as DARK
from cage3d.page.page import page_html
from cage3d.report import report_text
from cage3d.scene.labels import labels
from cage3d.scene.shown import scene_parts
from cage3d.sheets import Sheets, make_sheets
from cage3d.write.glb import glb_bytes
from cage3d.write.stl import stl_bytes

IN_ORDER = [SIDES[side] for side in ("front", "left", "back", "right")]


def mean(values: Sequence[float], tapes: Sequence[int]) -> float:
    return float(np.mean([values[tape - 1] for tape in tapes]))


@cache
def sheets() -> Sheets:
    return make_sheets(*lopsided())


def rows(table: str) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(sheets().tables[f"{table}.csv"].decode())))


# Figures and tables.


@pytest.mark.parametrize(("hoop", "lower"), [(0, 0.0), (1, 0.1)])
def test_report(hoop: int, lower: float) -> None:
    told = lopsided()[1].hoops[hoop]
    heights = [told.height_front_m, told.height_left_m, told.height_back_m, told.height_right_m]
    assert heights == pytest.approx([height - lower for height in IN_ORDER], abs=NEAR)
    assert [point.z_m for point in told.at_tapes] == pytest.approx([z - lower for z in AT_TAPES], abs=NEAR)
    turns = np.pi / 8 * (2 * np.arange(8) + 1)
    assert [point.x_m for point in told.at_tapes] == pytest.approx(RADIUS * np.sin(turns), abs=0.015)
    assert [point.y_m for point in told.at_tapes] == pytest.approx(-RADIUS * np.cos(turns), abs=0.015)


def test_report_in_words() -> None:
    text = report_text(lopsided()[1])
    heads = next(line.split() for line in text.splitlines() if "Front" in line and "Length" in line)
    row = next(line.split() for line in text.splitlines() if re.match(r" +1 +1000", line))
    assert [float(row[heads.index(side)]) for side in ("Front", "Left", "Back", "Right")] == pytest.approx(
        [1e3 * height for height in IN_ORDER], abs=1e3 * NEAR
    )
    assert re.search(r"749 mm above the floor at the left, 831 mm at the right", text.replace("\n", " "))


def test_page_in_words() -> None:
    page = unescape(page_html(*lopsided()).decode())
    table = page[page.index("<h2>Hoops as they hang</h2>") :]
    heads = re.findall(r'<th scope="col">([^<]*)</th>', table[: table.index("</thead>")])
    cells = re.findall(r"<t[hd][^>]*>([^<]*)<", table[table.index("<tbody>") : table.index("</tr>\n")])
    told = [cells[heads.index(side)] for side in ("Height front", "Her left", "Back", "Her right")]
    assert [float(cell) / 1e3 for cell in told] == pytest.approx(IN_ORDER, abs=NEAR)


def test_tables_of_the_tapes() -> None:
    told = rows("tapes")
    assert [row["side"] for row in told] == ["L"] * 4 + ["R"] * 4
    assert [float(row["finished_mm"]) for row in told] == pytest.approx([drop + 100 for drop in DROPS])
    sets = {row["set"]: row for row in rows("tape-marks") if row["hoop"] == "1"}
    assert [float(sets[row["set"]]["steel_mm"]) for row in told] == pytest.approx(DROPS)
    record = [row for row in rows("fitting-record") if row["hoop"] == "1"]
    assert [row["side"] for row in record] == ["L"] * 4 + ["R"] * 4
    assert [float(row["predicted_height_mm"]) / 1e3 for row in record] == pytest.approx(AT_TAPES, abs=NEAR)


def test_table_of_the_steels_marks() -> None:
    """From the cut end at centre back round by rising tapes: her right, the front, her left; 125 mm a step."""
    marks = {row["hoop"]: {} for row in rows("steel-marks")}
    for row in rows("steel-marks"):
        for name in row["mark"].split(" + "):
            marks[row["hoop"]].setdefault(name, []).append(float(row["from_cut_end_mm"]))
    lapped = {"CB": [25, 1025], "other end": [50, 1000], "CF": [525]}
    lapped |= {f"tape {tape}": [25 + 62.5 + 125 * step] for step, tape in enumerate((5, 6, 7, 8, 1, 2, 3, 4))}
    assert marks["1"] == lapped
    tube = {"CF": [0, 1000], "CB": [500]}
    assert marks["2"] == tube | {f"tape {tape}": [62.5 + 125 * (tape - 1)] for tape in range(1, 9)}


def test_making_sheets_name_the_sides_of_their_heights() -> None:
    text = "\n".join(page.text for page in pages_of(sheets().pdf))
    heights = text[re.search(r"Hoop Front Her left Back Her right", text).start() :]  # type: ignore[union-attr]
    told = re.search(r"^1 (\d+) (\d+) (\d+) (\d+)$", heights, re.MULTILINE)
    assert told is not None
    assert [int(height) / 1e3 for height in told.groups()] == pytest.approx(IN_ORDER, abs=NEAR)
    assert "1 L" in text
    assert "8 R" in text


# What is drawn.


def test_page_labels() -> None:
    found = labels(*lopsided())
    numbers = {int(label.text): label.path[0] for label in found if label.group == "tapes"}
    assert all(label.text == label.short == str(label.number) for label in found if label.group == "tapes")
    for tape in range(1, 9):
        turn = np.pi / 8 * (2 * tape - 1)
        place = [RADIUS * np.sin(turn), -RADIUS * np.cos(turn), AT_TAPES[tape - 1] - 0.1 - 0.03]
        assert numbers[tape] == pytest.approx(place, abs=0.015)
    (hoop,) = (label.path for label in found if label.group == "hoops" and label.number == 1)
    assert hoop[hoop[:, 0].argmax(), 2] == pytest.approx(SIDES["left"], abs=NEAR)
    assert hoop[hoop[:, 1].argmax(), 2] == pytest.approx(SIDES["back"], abs=2 * NEAR)
    (tie,) = (label.path[0] for label in found if label.group == "ties")
    assert tie[0] > 0.13


@pytest.mark.parametrize(
    ("look", "right", "left", "before"),
    [(DRAWN_FRONT, LEFT_TAPES, RIGHT_TAPES, FRONT_TAPES), (HER_LEFT, BACK_TAPES, FRONT_TAPES, LEFT_TAPES)],
    ids=["front", "her-left"],
)
def test_line_drawing(look: Any, right: Sequence[int], left: Sequence[int], before: Sequence[int]) -> None:
    """Tapes at the right of the picture end where they should, mm below those at its left; near ones are dark."""
    svg = drawing_svg(lopsided()[0], (look,))
    tapes = re.findall(r'<path d="(M[^"]*)" stroke="(#\w+)" stroke-width="4"/>', svg)
    ends = [([float(n) for n in path.rsplit("L", 1)[1].split()], colour) for path, colour in tapes]
    assert len(ends) == 8
    middle = np.mean([x for (x, _), _ in ends])
    at_right = np.mean([y for (x, y), _ in ends if x > middle])
    at_left = np.mean([y for (x, y), _ in ends if x < middle])
    lower = 1e3 * (mean(AT_TAPES, left) - mean(AT_TAPES, right))
    assert at_right - at_left == pytest.approx(lower, abs=1e3 * NEAR)
    floor = float(re.search(r'd="M0 ([\d.]+)H', svg)[1])  # type: ignore[index]
    near = np.mean([floor - y for (_, y), colour in ends if colour == DARK])
    assert near == pytest.approx(1e3 * (mean(AT_TAPES, before) - 0.1), abs=1e3 * NEAR)


def framed(view: View) -> tuple[Written, Frame, Hung]:
    settled, report = lopsided()
    frame = fitted(view, extent_of(scene_parts(settled, CAGE_KINDS)), (900, 900), Margins(160, 160, 60, 80))
    return Written(900, 900), frame, Hung.of(settled, report)


@pytest.mark.parametrize(
    ("view", "right", "left"),
    [(FRONT, "left", "right"), (SIDE, "back", "front"), (BACK, "right", "left")],
    ids=lambda value: getattr(value, "name", value),
)
def test_heights_beside_pictures(view: View, right: str, left: str) -> None:
    paper, frame, hung = framed(view)
    assert measured_at(view, hung, 0, 1)[2] == pytest.approx(SIDES[right], abs=NEAR)
    assert measured_at(view, hung, 0, -1)[2] == pytest.approx(SIDES[left], abs=NEAR)
    write_on(paper, frame, hung)
    beside = {int(text.split()[0]): x for text, (x, _) in paper.said.items() if re.fullmatch(r"\d+ mm", text)}
    assert max(beside[mm] for mm in beside if abs(mm - 1e3 * SIDES[right]) <= 1e3 * NEAR) > 600
    assert min(beside[mm] for mm in beside if abs(mm - 1e3 * SIDES[left]) <= 1e3 * NEAR) < 300
    named = {text.split()[-1]: x for text, (x, _) in paper.said.items() if text.startswith("at ")}
    assert named[right] > 600
    assert named[left] < 300


def test_seen_from_above() -> None:
    """Her left is at the right of the picture, her back at its top."""
    paper, frame, hung = framed(ABOVE)
    write_on(paper, frame, hung)
    tape_numbers(paper, frame, hung)
    x, y = {n: paper.said[str(n)][0] for n in range(1, 9)}, {n: paper.said[str(n)][1] for n in range(1, 9)}
    assert min(x[n] for n in LEFT_TAPES) > max(x[n] for n in RIGHT_TAPES)
    assert max(y[n] for n in BACK_TAPES) < min(y[n] for n in FRONT_TAPES)
    assert paper.said["her right"][0] < min(x.values())
    assert paper.said["her left"][0] > max(x.values())
    assert paper.said["back"][1] < max(y[n] for n in BACK_TAPES)
    assert paper.said["front"][1] > max(y[n] for n in FRONT_TAPES)


@pytest.mark.judge
@pytest.mark.parametrize(
    ("view", "higher"), [(FRONT, -1), (SIDE, 1), (BACK, 1)], ids=lambda v: getattr(v, "name", v)
)
def test_pictures(view: View, higher: int) -> None:
    """Hoop 1 alone, rendered: the side of the picture on which it stands higher."""
    parts = [part for part in scene_parts(lopsided()[0]) if part.name == "hoop 1"]
    frame = fitted(view, np.vstack([part.vertices for part in parts]), (400, 400), Margins(20, 20, 20, 20))
    try:
        (picture,) = rendered(parts, [frame])
    except DrawError:
        missing("a graphics library (libegl1, libgl1-mesa-dri)")
    y, x = np.nonzero((picture < 250).any(axis=2))
    right, left = y[x > x.max() - 4].mean(), y[x < x.min() + 4].mean()
    apart = frame.scale * abs(
        SIDES["left"] - SIDES["right"] if view != SIDE else SIDES["front"] - SIDES["back"]
    )
    assert (right - left) * -higher == pytest.approx(apart, rel=0.15)


# What is sent.


@cache
def glb() -> Any:
    return trimesh.load_scene(io.BytesIO(glb_bytes(lopsided()[0])), file_type="glb")


def outermost(points: Any, axis: int, side: int, up: int) -> float:
    """Height of the place that lies furthest out along an axis."""
    return float(points[(side * points[:, axis]).argmax(), up])


def test_glb() -> None:
    """Y up, her left on +X, her front on +Z; the strip's outermost edge lies 5 mm from its middle at most."""
    points = glb().geometry["hoop 1"].vertices
    sides = [outermost(points, axis, side, 1) for axis, side in ((2, 1), (0, 1), (2, -1), (0, -1))]
    assert sides == pytest.approx(IN_ORDER, abs=0.010)
    for tape in range(1, 9):
        ribbon = glb().geometry[f"tape {tape}"].vertices
        turn = np.pi / 8 * (2 * tape - 1)
        assert ribbon[:, 0].mean() == pytest.approx(RADIUS * np.sin(turn), abs=0.015)
        assert ribbon[:, 2].mean() == pytest.approx(RADIUS * np.cos(turn), abs=0.015)
    assert glb().geometry["tie 1"].vertices[:, 0].min() > 0.1
    assert glb().geometry["hoop 1 join"].vertices[:, 2].max() < -0.1
    assert glb().geometry["hoop 2 join"].vertices[:, 2].min() > 0.1


def test_glb_names_the_ends_of_an_open_hoop_by_her_sides() -> None:
    scene = trimesh.load_scene(io.BytesIO(glb_bytes(hung_sample(sample("f"))[0])), file_type="glb")
    assert scene.geometry["hoop 2 left tip"].vertices[:, 0].min() > 0.04
    assert scene.geometry["hoop 2 right tip"].vertices[:, 0].max() < -0.04


def test_stl() -> None:
    """Millimetres, z up, her left on +x and her back on +y."""
    solids = [part.solid for part in build_parts(lopsided()[0], {"hoops"}) if part.solid is not None]
    model = trimesh.load(io.BytesIO(stl_bytes(solids)), file_type="stl")
    hoop = max(model.split(only_watertight=False), key=lambda body: body.vertices[:, 2].mean())
    sides = [outermost(hoop.vertices, axis, side, 2) for axis, side in ((1, -1), (0, 1), (1, 1), (0, -1))]
    assert np.array(sides) / 1e3 == pytest.approx(IN_ORDER, abs=0.010)


def test_miniature() -> None:
    """A tenth of the size in mm; heights against their own middle, because it stands on its lowest place."""
    hoops = build_maquette(lopsided()[0], Order("1:10", "resin", ["hoops"])).bodies
    assert len(hoops) == 2
    for hoop in hoops:
        sides = [outermost(hoop.vertices, axis, side, 2) for axis, side in ((1, -1), (0, 1), (1, 1), (0, -1))]
        level = 100 * (np.array(IN_ORDER) - np.mean(IN_ORDER))
        assert np.array(sides) - np.mean(sides) == pytest.approx(level, abs=1.0)

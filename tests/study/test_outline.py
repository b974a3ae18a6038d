"""Outlines that are wanted: read, refused where they bound nothing, and met."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
import shapely
from settled import sample_path, settled_sample

from cage3d.design.read import read
from cage3d.errors import CageError
from cage3d.report.curves import curve_through
from cage3d.settle import settle
from cage3d.shape.arrays import Floats
from cage3d.shape.lay_out import lay_out
from cage3d.study.aiming.aim import aim
from cage3d.study.aiming.freedom import freedom_of
from cage3d.study.aiming.outline import Outline, outlines_of
from cage3d.study.aiming.outline_files import outlines_in
from cage3d.study.aiming.outline_wishes import with_outlines
from cage3d.study.aiming.wishes import Wish
from cage3d.study.figures import KINDS, Figure, figures_of
from cage3d.units import INCH

NODES = 48
# From the waist 10 in wide, 40 in up, straight to 30 in wide, 10 in up: two thirds of an inch more with each inch down.
CONE = "view,across,height\nfront,-5,40\nfront,5,40\nfront,15,10\nfront,-15,10\nfront,-5,40\n"
DRAWN = """<svg xmlns="http://www.w3.org/2000/svg" width="{width}" {box}>
<g transform="translate(7,3)"><path id="{id}" d="{path}"/></g></svg>"""
# The same at 1:10 on paper whose unit is 0.1 in: 10 in wide at the top, 30 in at the bottom, 30 in high.
PATH = "M 10 0 h 10 l 10 30 h -30 z"


def put(folder: Path, text: str, name: str = "shape.csv") -> Path:
    (folder / name).write_text(text, encoding="utf-8")
    return folder / name


def drawn(folder: Path, path: str = PATH, width: str = "5in", box: str = 'viewBox="0 0 50 50"') -> Path:
    return put(folder, DRAWN.format(path=path, width=width, box=box, id="front"), "shape.svg")


@pytest.mark.parametrize("drawing", [False, True])
def test_how_wide_an_outline_is(tmp_path: Path, drawing: bool):
    """At 25 in, half way down: 20 in."""
    file = drawn(tmp_path) if drawing else put(tmp_path, CONE)
    (outline,) = outlines_in(file, 0.1 if drawing else None, 40 * INCH, "in")
    assert outline.view == "front"
    ends = outline.ends_at(25 * INCH)
    assert ends is not None
    assert np.array(ends) / INCH == pytest.approx([-10.0, 10.0])
    assert outline.lowest_towards(1.0) / INCH == pytest.approx(10.0)
    assert outline.ends_at(9.9 * INCH) is None


def test_a_table_of_another_spreadsheet(tmp_path: Path):
    """Semicolons and decimal commas, in cm; the side runs from 20 cm in front to 30.5 cm behind the axis."""
    rows = [
        "View;Height;Across",
        "side;100;-20",
        "side;100;30,5",
        "side;25,4 cm;30.5",
        "side;10 in;-20",
        "side;100;-20",
    ]
    (outline,) = outlines_in(put(tmp_path, "\ufeff" + "\n".join(rows)), None, 1.0, "cm")
    assert outline.ends_at(0.5) == pytest.approx((-0.2, 0.305))
    assert outline.lowest_towards(-1.0) == pytest.approx(0.254)


@pytest.mark.parametrize(
    ("text", "why"),
    [
        (CONE.replace("front,-5,40\n", "", 1).replace("front,-5,40\n", "front,-14,12\n"), "lies open"),
        (CONE.replace("15,10\nfront,-15,10", "-15,10\nfront,15,10"), "crosses or touches itself"),
        (CONE.replace("front,15", "top,15"), "is no view"),
        (CONE.replace("5,40", "five,40", 1), "shape.csv:2"),
        (CONE.replace("view,", "face,"), "line of names first"),
        ("view,across,height\n", "no outline is in it"),
        ("view,across,height\nfront,0,1\nfront,0,1\n", "three corners"),
    ],
)
def test_outlines_that_bound_nothing(tmp_path: Path, text: str, why: str):
    with pytest.raises(CageError, match=why):
        outlines_in(put(tmp_path, text), None, 1.0, "in")


@pytest.mark.parametrize(
    ("drawing", "scale", "why"),
    [
        ({}, None, "has no scale of its own"),
        ({"width": "100%"}, 0.1, "no size on paper"),
        ({"path": "M 10 0 h 10 l 10 30 h -30"}, 0.1, "lies open"),
        ({"path": "M 10 0 h 10 l -20 30 h 30 z"}, 0.1, "crosses or touches itself"),
        ({"path": "M 10 0 q"}, 0.1, "cannot be read|lies open|three corners"),
    ],
)
def test_drawings_that_say_nothing(tmp_path: Path, drawing: dict[str, str], scale: float | None, why: str):
    with pytest.raises(CageError, match=why):
        outlines_in(drawn(tmp_path, **drawing), scale, 1.0, "in")


def test_a_drawing_without_names_or_broken(tmp_path: Path):
    with pytest.raises(CageError, match="no path is named front or side"):
        outlines_in(
            put(tmp_path, drawn(tmp_path).read_text("utf-8").replace('"front"', '"left"'), "a.svg"),
            0.1,
            1.0,
            None,
        )
    with pytest.raises(CageError, match="this is no SVG"):
        outlines_in(put(tmp_path, "<svg", "b.svg"), 0.1, 1.0, None)


def outline_round(points: list[Floats], across: int, band: Floats) -> Floats:
    """(n, 2) m round the ends of hoops from the top, in the plane of one level axis and the height."""
    rows = [band, *points]
    least = [row[row[:, across].argmin()][[across, 2]] for row in rows]
    most = [row[row[:, across].argmax()][[across, 2]] for row in rows]
    ring = np.array([*most, *least[::-1]])
    return np.vstack([ring, ring[:1]])


def test_a_settled_cage_is_found_again_from_its_outlines():
    """Outlines of sample C as it hangs, from C with hoops a twentieth shorter: each hoop on them, the hem right."""
    goal = settled_sample(sample_path("c"), NODES)
    hoops = [
        curve_through(goal.cage, goal.positions, hoop).points for hoop in range(len(goal.cage.design.hoops))
    ]
    band = goal.positions[goal.cage.connectivity.anchors]
    outlines = outlines_of(
        {"front": outline_round(hoops, 0, band), "side": outline_round(hoops, 1, band)}, "c"
    )
    design = read(sample_path("c"))
    shorter = design.model_copy(
        update={
            "hoops": tuple(hoop.model_copy(update={"length": 0.95 * hoop.length}) for hoop in design.hoops)
        }
    )

    wishes = with_outlines(settle(lay_out(shorter, NODES)), (), outlines, "c")
    found = aim(shorter, wishes, freedom_of(shorter), NODES)
    met = found.settled
    for outline, axis in zip(outlines, (0, 1), strict=True):
        ring = shapely.LinearRing(outline.points)
        for hoop in range(len(hoops)):
            points = curve_through(met.cage, met.positions, hoop).points[:, [axis, 2]]
            for place in (points[:, 0].argmin(), points[:, 0].argmax()):
                assert ring.distance(shapely.Point(points[place])) < INCH / 8
    figures = [Figure(len(hoops) - 1, kind) for kind in KINDS]
    assert figures_of(met, figures) == pytest.approx(figures_of(goal, figures), abs=INCH / 8)


def test_a_hoop_beyond_the_outline_is_told():
    settled = settled_sample(sample_path("a"), NODES)
    short = Outline("front", np.array([[-0.2, 1.1], [0.2, 1.1], [0.3, 0.7], [-0.3, 0.7], [-0.2, 1.1]]))

    wishes = [Wish(Figure(3, f"height {side}"), 0.4) for side in ("left", "right")]
    with pytest.raises(CageError, match=r"hoop 4 hangs .* where the outline has nothing"):
        with_outlines(settled, wishes, [short], "shape.csv")

"""The pictures: to scale, legible, the same every time."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from io import BytesIO
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from half_size import draw_half_size
from hung import hung
from judges import missing
from made import SAMPLES, hung_hard, hung_sample, sample
from PIL import Image

from cage3d.draw import pictures as drawing
from cage3d.draw.beside import picture_beside
from cage3d.draw.dimensions import margins_of
from cage3d.draw.hung import Hung
from cage3d.draw.overlay import ACCENT
from cage3d.draw.pictures import DRAWN, TEXT, draw_picture, draw_pictures, extent_of
from cage3d.draw.render import DrawError, rendered
from cage3d.draw.views import BACK, FRONT, SIDE, THREE_QUARTER, VIEWS, Frame, Margins, View, fitted
from cage3d.scene.looks import LOOKS
from cage3d.scene.shown import scene_parts

pytestmark = pytest.mark.judge  # the graphics libraries are not ours


@pytest.fixture(autouse=True, scope="module")
def _graphics() -> None:
    try:
        pictures(sample("a"))
    except DrawError:
        missing("a graphics library (libegl1, libgl1-mesa-dri)")


@cache
def pictures(path: Path) -> dict[str, bytes]:
    return draw_pictures(*hung_sample(path))


@cache
def smaller_pictures(path: Path) -> dict[str, bytes]:
    """Only where `half_size` holds."""
    assert drawing.TALL == 1000
    return draw_pictures(*hung_sample(path))


def pixels(png: bytes) -> np.ndarray[Any, Any]:
    return np.asarray(Image.open(BytesIO(png)).convert("RGB")).astype(int)


def assert_edges_free(image: np.ndarray[Any, Any]) -> None:
    """Nothing runs over an edge of the paper."""
    for edge in (image[:8], image[-8:], image[:, :8], image[:, -8:]):
        assert edge.min() > 250


@pytest.fixture
def half_size(monkeypatch: pytest.MonkeyPatch) -> None:
    draw_half_size(monkeypatch)


Asked = list[tuple[str, set[str]]]


@pytest.fixture
def asked(monkeypatch: pytest.MonkeyPatch, half_size: None) -> Asked:  # noqa: ARG001
    """What is asked of the graphics library, which leaves the paper white: every view with the kinds of its parts."""
    asked: Asked = []

    def draws(parts: Any, frames: Any, left_out: Any = None) -> Any:
        for frame, without in zip(frames, left_out or [frozenset()] * len(frames), strict=True):
            asked.append((frame.view.name, {part.group for part in parts if part.group not in without}))
        return [np.full((frame.height, frame.width, 3), 255, np.uint8) for frame in frames]

    monkeypatch.setattr(drawing, "rendered", draws)
    return asked


def assert_views_sheet_and_skirt(made: dict[str, bytes], tall: int) -> None:
    assert list(made) == [*(view.name for view in VIEWS), "sheet", "skirt"]
    for png in made.values():
        image = pixels(png)
        assert image.shape[0] >= tall
        assert 0.02 < (image.min(axis=2) < 250).mean() < 0.6
        assert_edges_free(image)
        assert len(png) < 400_000


def test_a_sample_has_five_views_a_sheet_and_its_skirt_in_their_size() -> None:
    assert_views_sheet_and_skirt(pictures(sample("a")), 2000)


@pytest.mark.usefixtures("half_size")
@pytest.mark.parametrize("path", SAMPLES[1:], ids=lambda path: path.stem)
def test_every_sample_has_five_views_a_sheet_and_its_skirt(path: Path) -> None:
    assert_views_sheet_and_skirt(smaller_pictures(path), 1000)


@cache
def steel_alone() -> dict[View, tuple[Frame, np.ndarray[Any, Any]]]:
    """The hoops of sample c from three sides, drawn in one go: the frame, and (height, width) where steel is."""
    hoops = scene_parts(hung_sample(sample("c"))[0], {"hoops"})
    extent = np.vstack([part.vertices for part in hoops])
    views = (FRONT, SIDE, BACK)
    frames = [fitted(view, extent, (1000, 1000), Margins(40, 40, 40, 40)) for view in views]
    steel = [image.min(axis=2) < 240 for image in rendered(hoops, frames)]
    return dict(zip(views, zip(frames, steel, strict=True), strict=True))


@pytest.mark.parametrize(("view", "axis"), [(FRONT, 0), (SIDE, 1), (BACK, 0)], ids=["front", "side", "back"])
def test_widths_and_heights_in_the_picture_are_those_of_the_report(view: View, axis: int) -> None:
    frame, steel = steel_alone()[view]
    for hoop in hung_sample(sample("c"))[1].hoops:
        middle = frame.on_paper(np.array([[0.0, 0.0, hoop.height_front_m]]))[0, 1]
        columns = np.nonzero(steel[round(middle) - 2 : round(middle) + 3].any(axis=0))[0]
        width = (hoop.width_side_side_m, hoop.width_front_back_m)[axis]
        assert np.ptp(columns) + 1 == pytest.approx(width * frame.scale, abs=3.0)


@pytest.mark.parametrize("view", [FRONT, THREE_QUARTER])
def test_what_is_drawn_lies_where_its_frame_has_it(view: View) -> None:
    """Also beside the middle of a paper of odd size, and cut off by its edge."""
    hoops = scene_parts(hung_sample(sample("a"))[0], {"hoops"})
    flat = np.vstack([part.vertices for part in hoops])
    frame = fitted(view, flat, (501, 402), Margins(120.0, 10.0, 5.0, 60.0))
    cut = replace(frame, centre=(frame.centre[0] + 0.3, frame.centre[1] - 0.2))
    for one, picture in zip((frame, cut), rendered(hoops, [frame, cut]), strict=True):
        assert picture.shape == (402, 501, 3)
        rows, columns = np.nonzero(picture.min(axis=2) < 240)
        places = one.on_paper(flat)
        seen = places[((places >= 0.0) & (places <= [501.0, 402.0])).all(axis=1)]
        found = (columns.min(), rows.min(), columns.max() + 1, rows.max() + 1)
        assert found == pytest.approx((*seen.min(axis=0), *seen.max(axis=0)), abs=3.0)
    assert columns.min() == 0


def test_scale_bar_is_as_long_as_it_says() -> None:
    settled, report = hung_sample(sample("a"))
    image = pixels(pictures(sample("a"))["front"])
    extent = extent_of(scene_parts(settled, DRAWN))
    frame = fitted(FRONT, extent, (2000, 2000), margins_of(FRONT, Hung.of(settled, report), TEXT))
    row = image[2000 - round(1.2 * TEXT), :700]
    dark = np.nonzero(row.max(axis=1) < 120)[0]
    dark = dark[
        : np.flatnonzero(np.append(np.diff(dark) > 3, True))[0] + 1
    ]  # the bar; its words stand beside it
    assert np.ptp(dark) == pytest.approx(6 * 0.0254 * frame.scale, abs=5.0)  # "6 in"


def test_hem_dimension_ends_at_the_hem() -> None:
    settled, report = hung_sample(sample("a"))
    image = pixels(pictures(sample("a"))["front"])
    extent = extent_of(scene_parts(settled, DRAWN))
    frame = fitted(FRONT, extent, (2000, 2000), margins_of(FRONT, Hung.of(settled, report), TEXT))
    blue = (np.abs(image - np.array(ACCENT)).max(axis=2) < 60).astype(int)
    half = report.hoops[-1].width_side_side_m / 2.0
    (left, _), (right, low) = frame.on_paper(
        np.array([[-half, 0, report.hem.lowest_m], [half, 0, report.hem.lowest_m]])
    )
    inside = blue[:, round(left) : round(right)].mean(axis=1)
    line = int(np.argmax(inside[round(low) : round(low) + 120])) + round(low)
    columns = np.nonzero(blue[line - 2 : line + 3].any(axis=0))[0]
    within = columns[(columns > left - 40) & (columns < right + 40)]
    assert within.min() == pytest.approx(left, abs=5.0)
    assert within.max() == pytest.approx(right, abs=5.0)


def share_of(image: np.ndarray[Any, Any], material: str, near: float = 40.0) -> float:
    """How much of a picture has the hue of a material, however it is lit."""
    wanted = np.array(LOOKS[material].srgb) * 255.0
    lit = image * (wanted.mean() / np.maximum(image.mean(axis=2, keepdims=True), 1.0))
    return float(((np.abs(lit - wanted).max(axis=2) < near) & (image.min(axis=2) < 245)).mean())


@pytest.mark.usefixtures("half_size")
def test_the_skirt_is_in_its_own_picture_alone() -> None:
    skirt, bare = (pixels(smaller_pictures(sample("d"))[name]) for name in ("skirt", "three-quarter"))
    assert share_of(skirt, "skirt") > 0.15
    assert share_of(bare, "skirt") < 0.01  # leaders are blue


def test_under_the_skirt_nothing_of_the_cage_is_drawn(asked: Asked) -> None:
    """Sample d has tapes so slack that they would stand out through the cloth."""
    draw_pictures(*hung_sample(sample("d")))
    assert asked[-1] == ("skirt", {"skirt", "form"})
    assert all("hoops" in drawn and "skirt" not in drawn for _, drawn in asked[:-1])


def test_without_a_skirt_there_is_no_picture_of_one(asked: Asked) -> None:
    report, settled = hung()
    assert not settled.cage.design.skirts
    assert "skirt" not in draw_pictures(settled, report)
    assert "skirt" not in [view for view, _ in asked]


@pytest.mark.usefixtures("half_size")
def test_she_stands_in_the_picture_in_place_of_her_form() -> None:
    """Legs and torso are more of her than a form from waist to hip, and they stand on the floor."""
    settled, report = hung_sample(sample("a"))
    whole = pixels(draw_picture(settled, report, "front", wearer=True))
    assert share_of(whole, "form", 20.0) > 1.3 * share_of(
        pixels(pictures(sample("a"))["front"]), "form", 20.0
    )
    assert_edges_free(whole)


@pytest.mark.parametrize("path", SAMPLES, ids=lambda path: path.stem)
def test_every_sample_has_a_picture_beside_it(path: Path) -> None:
    kept = path.with_suffix(".png")
    assert kept.stat().st_size < 200_000
    image = pixels(kept.read_bytes())
    assert image.shape == (900, 1800, 3)
    assert all((half.min(axis=2) < 250).mean() > 0.02 for half in (image[:, :900], image[:, 900:]))


def test_a_picture_is_put_beside_a_design(tmp_path: Path) -> None:
    path = tmp_path / "a.yaml"
    path.write_text(sample("a").read_text(encoding="utf-8"), encoding="utf-8")
    assert pixels(picture_beside(path).read_bytes()).shape == (900, 1800, 3)


@pytest.mark.usefixtures("half_size")
def test_same_cage_same_bytes() -> None:
    assert draw_picture(*hung_sample(sample("b"))) == smaller_pictures(sample("b"))["three-quarter"]


@pytest.mark.usefixtures("half_size")
def test_twelve_hoops_twenty_four_tapes_and_no_form_stay_within_their_edges() -> None:
    made = draw_pictures(*hung_hard())
    for png in made.values():
        assert_edges_free(pixels(png))


@pytest.mark.usefixtures("asked")  # names are written over what is drawn
@pytest.mark.parametrize("name", ["裙撑", "ثوب", "Zoë's " * 19, "½ ⅞ – Ω"])
def test_any_name_can_be_drawn(name: str) -> None:
    report, settled = hung(name=name)
    image = pixels(draw_picture(settled, report, "front"))
    assert_edges_free(image)
    assert image[: round(2 * drawing.TEXT), :500].min() < 100


def test_ties_get_their_room() -> None:
    settled, report = hung_sample(sample("e"))
    named = margins_of(THREE_QUARTER, Hung.of(settled, report), TEXT)
    bare = margins_of(THREE_QUARTER, replace(Hung.of(settled, report), ties_named=False), TEXT)
    assert named.left > bare.left + 3 * TEXT

"""The page opened in Chromium: pixels counted, requests counted, parts switched, the cage turned."""

from __future__ import annotations

from collections.abc import Callable
from io import BytesIO
from itertools import pairwise
from pathlib import Path
from typing import Any

import numpy as np
import pdfplumber
import pytest
from browser import DRAWS_NOT, Opened, opened
from hung import hung
from made import SAMPLES, hung_sample, sample

from cage3d.page.page import page_html

pytestmark = pytest.mark.judge

NASTY = "\"><img src=x onerror=alert(1)> & 'Zoë' 裙撑"
TIE = {"from": "hoop 2 tape 3", "to": "hoop 2 tape 6", "length": 18, "name": "</script><img>"}


def show(running: Any, folder: Path, page: bytes, **size: int) -> Opened:
    path = folder / "a page.html"
    path.write_bytes(page)
    return opened(running, path, **size)


@pytest.mark.parametrize("path", SAMPLES, ids=lambda path: path.stem)
def test_every_sample_is_drawn_turned_and_taken_apart_without_a_request(
    running: Any, tmp_path: Path, path: Path
) -> None:
    seen = show(running, tmp_path, page_html(*hung_sample(path)))
    first = seen.drawn()
    assert 0.05 < first.mean() < 0.6
    cloth = seen.page.locator('input[data-group="cloth"]')
    if cloth.count():  # hides what is under it
        cloth.uncheck()
    first = seen.drawn()
    seen.page.uncheck('input[data-group="form"]')
    bare = seen.drawn()
    assert bare.sum() < first.sum() - 5000
    seen.page.check('input[data-group="skirt"]')
    assert seen.drawn().sum() > bare.sum() + 5000
    before = seen.pixels()
    seen.page.click('button:text("Back")')
    assert (seen.pixels() != before).any(axis=2).sum() > 5000
    assert seen.complaints == []
    assert seen.requests == [(tmp_path / "a page.html").as_uri()]
    seen.page.close()


def test_her_left_is_on_the_viewers_right_and_up_is_up(running: Any, tmp_path: Path) -> None:
    seen = show(running, tmp_path, page_html(*hung_sample(sample("a"))))
    for group in ("hoops", "joins", "tapes", "casings", "waistband", "form", "floor"):
        seen.page.uncheck(f'input[data-group="{group}"]')
    assert seen.drawn().sum() == 0
    seen.page.uncheck("#marks-on")  # the middle of the cage is then that of the picture
    seen.page.click('button:text("Front")')
    tape_2 = seen.page.locator("label", has_text="tape 2").locator("input").first
    tape_2.evaluate("(box) => box.click()")
    rows, columns = np.nonzero(seen.drawn())
    height, width = seen.drawn().shape
    assert columns.min() > width / 2
    assert rows.mean() < height / 2  # this cage hangs high above the floor
    seen.page.click('button:text("Back")')
    assert np.nonzero(seen.drawn())[1].max() < width / 2
    seen.page.close()


def test_one_hoop_alone_can_be_left_out(running: Any, tmp_path: Path) -> None:
    seen = show(running, tmp_path, page_html(*hung_sample(sample("c"))))
    before = seen.drawn()
    seen.page.click('summary:text("each of the hoops")')
    seen.page.uncheck('input[data-of="hoops"] >> nth=6')
    changed = before != seen.drawn()
    assert changed.sum() > 500
    labels = seen.page.locator("#marks").evaluate("(marks) => marks.textContent")
    assert "Hoop 6: 108 in" in labels
    assert "Hoop 7: 110 in" not in labels
    seen.page.close()


def test_keys_turn_and_zoom(running: Any, tmp_path: Path) -> None:
    seen = show(running, tmp_path, page_html(*hung_sample(sample("b"))))
    first = seen.drawn()
    seen.page.focus("#view")
    seen.page.keyboard.press("ArrowLeft")
    turned = seen.drawn()
    assert (turned != first).sum() > 1000
    seen.page.keyboard.press("-")
    assert seen.drawn().sum() < 0.9 * turned.sum()
    seen.page.close()


def test_hand_turns_and_wheel_zooms(running: Any, tmp_path: Path) -> None:
    seen = show(running, tmp_path, page_html(*hung_sample(sample("b"))))
    first = seen.drawn()
    box = seen.page.locator("#view").bounding_box()
    middle = (box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)
    seen.page.mouse.move(*middle)
    seen.page.mouse.down()
    seen.page.mouse.move(middle[0] + 90, middle[1] + 20, steps=4)
    seen.page.mouse.up()
    turned = seen.drawn()
    assert (turned != first).sum() > 1000
    seen.page.mouse.wheel(0, 200)
    assert seen.drawn().sum() < 0.95 * turned.sum()
    seen.page.close()


@pytest.mark.parametrize(("width", "height"), [(1600, 1000), (900, 700), (390, 800)])
def test_labels_stand_inside_the_frame_and_not_on_each_other(
    running: Any, tmp_path: Path, width: int, height: int
) -> None:
    seen = show(running, tmp_path, page_html(*hung_sample(sample("e"))), width=width, height=height)
    boxes = seen.page.evaluate(
        "() => [...document.querySelectorAll('#marks .said')].map((it) => it.getBoundingClientRect().toJSON())"
    )
    frame = seen.page.locator("#view").bounding_box()
    assert len(boxes) >= 5
    for box in boxes:
        assert box["left"] >= frame["x"]
        assert box["right"] <= frame["x"] + frame["width"]
        assert box["bottom"] <= frame["y"] + frame["height"]
    for side in (True, False):
        middle = frame["x"] + frame["width"] / 2
        column = sorted(box["top"] for box in boxes if (box["left"] < middle) == side)
        assert all(lower - upper >= 14 for upper, lower in pairwise(column))
    assert seen.page.evaluate("() => document.documentElement.scrollWidth <= window.innerWidth")
    seen.page.close()


def test_a_name_cannot_break_out_of_its_place(running: Any, tmp_path: Path) -> None:
    report, settled = hung(name=NASTY, ties=[TIE])
    seen = show(running, tmp_path, page_html(settled, report))
    assert seen.page.locator("h1").inner_text() == NASTY
    assert seen.page.title() == NASTY
    assert seen.page.locator("img").count() == 0
    assert "</script><img>: 18 in" in seen.page.locator("#marks").evaluate("(marks) => marks.textContent")
    assert seen.complaints == []
    assert len(seen.requests) == 1
    assert seen.drawn().mean() > 0.05
    seen.page.close()


def test_without_three_dimensions_there_is_a_drawing(start: Callable[..., Any], tmp_path: Path) -> None:
    flat = start(DRAWS_NOT)
    seen = show(flat, tmp_path, page_html(*hung_sample(sample("d"))))
    assert seen.page.locator("svg.drawing").is_visible()
    assert not seen.page.locator("#view").is_visible()
    assert "Hoops as they hang" in seen.page.locator("article").inner_text()
    assert seen.complaints == []
    flat.close()


def test_a_foreign_script_or_style_does_nothing_and_the_page_prints(running: Any, tmp_path: Path) -> None:
    page = page_html(*hung_sample(sample("a")))
    foreign = b"<script>document.title='foreign'</script><style>h1{display:none}</style>"
    seen = show(running, tmp_path, page.replace(b"<h1>", foreign + b"<h1>", 1))
    assert seen.page.title() != "foreign"
    assert seen.page.locator("h1").is_visible()
    assert len(seen.complaints) == 2
    swatch = seen.page.locator(".swatch rect").first.bounding_box()
    assert min(swatch["width"], swatch["height"]) > 8
    printed = seen.page.pdf()
    with pdfplumber.open(BytesIO(printed)) as pdf:
        words = "".join(sheet.extract_text() for sheet in pdf.pages)
    assert "Hoops as they hang" in words
    seen.page.close()


@pytest.mark.parametrize("letter", ["a", "d", "e"])
@pytest.mark.parametrize("side", ["Three-quarter", "Front", "Above"])
def test_numbers_of_tapes_stand_on_nothing_that_is_said(
    running: Any, tmp_path: Path, letter: str, side: str
) -> None:
    """A number's ring, 9 px round, keeps off leaders, their dots and the other rings."""
    seen = show(running, tmp_path, page_html(*hung_sample(sample(letter))))
    seen.page.click(f'.views button:text-is("{side}")')
    seen.settled()
    rings, leaders = seen.page.evaluate("""() => [
        [...document.querySelectorAll("#marks .badge")].map((it) => [it.cx.baseVal.value, it.cy.baseVal.value]),
        [...document.querySelectorAll("#marks .leader")].map((it) => [...it.points].map(({x, y}) => [x, y]))]""")
    assert len(rings) >= 5
    for place in np.array(rings):
        for line in np.array(leaders):
            between = [
                start + share * (end - start)
                for start, end in pairwise(line)
                for share in np.linspace(0, 1, 200)
            ]
            assert np.linalg.norm(np.array(between) - place, axis=1).min() > 10
    apart = np.linalg.norm(np.array(rings)[:, None] - np.array(rings)[None], axis=2)
    assert apart[~np.eye(len(rings), dtype=bool)].min() > 18
    seen.page.close()

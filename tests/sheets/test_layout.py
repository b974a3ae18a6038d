"""No word over another, nothing off the paper, names of any length and script."""

from __future__ import annotations

from itertools import combinations, pairwise
from pathlib import Path
from typing import Any

import pytest
from fontTools.fontBuilder import FontBuilder
from fontTools.pens.ttGlyphPen import TTGlyphPen
from hypothesis import given
from hypothesis import strategies as st
from made import SAMPLES, Page, pages_of, renamed, sample, sheets_of, sheets_of_hard

from cage3d.errors import CommandError
from cage3d.sheets import make_sheets
from cage3d.sheets.paper.fonts import letters
from cage3d.sheets.paper.sizes import MARGIN
from cage3d.sheets.strips import spread

SLACK = 0.8  # pt, of the boxes of letters, which are taller than the letters
LONG = "An evening cage whose name goes on until nobody can say it in one breath, and then on a little more"
NAMES = {
    "one long word": "Petticoat" * 13,
    "many words": LONG,
    "Greek": "Κρινολίνο της Ελένης",
    "Cyrillic": "Кринолин для второго акта",
    "Arabic": "فستان للفصل الثاني",
    "Hebrew and Latin": "חצאית Act II",
    "Vietnamese": "Váy phồng của diễn viên múa",
    "Polish": "Żółta halka na obręczach – próba łączna",
}


def overlapping(words: list[dict[str, Any]]) -> list[tuple[str, str]]:
    """Pairs of words whose boxes lie over one another."""
    boxes = [
        (
            word["x0"] + SLACK,
            word["x1"] - SLACK,
            word["top"] + 2 * SLACK,
            word["bottom"] - 2 * SLACK,
            word["text"],
        )
        for word in words
    ]
    return [
        (a[4], b[4])
        for a, b in combinations(boxes, 2)
        if a[0] < b[1] and b[0] < a[1] and a[2] < b[3] and b[2] < a[3]
    ]


def off_the_paper(page: Page) -> list[str]:
    """Words and lines that reach into the margin that printers leave blank."""
    things = [*page.words, *page.lines, *page.rects, *page.curves]
    edge = MARGIN - 1.5
    return [
        str(thing.get("text") or thing["object_type"])
        for thing in things
        if thing["x0"] < edge or thing["x1"] > page.width - edge
        or thing["top"] < edge or thing["bottom"] > page.height - edge
    ]  # fmt: skip


def assert_laid_out(pdf: bytes) -> list[Page]:
    pages = pages_of(pdf)
    for number, page in enumerate(pages, start=1):
        assert overlapping(page.words) == [], f"page {number}"
        assert off_the_paper(page) == [], f"page {number}"
        assert f"Page {number} of {len(pages)}" in page.text
    return pages


def test_words_over_one_another_are_found() -> None:
    one = {"x0": 10.0, "x1": 40.0, "top": 10.0, "bottom": 22.0, "text": "one"}
    beside = one | {"x0": 41.0, "x1": 60.0, "text": "beside"}
    over = one | {"top": 15.0, "bottom": 27.0, "text": "over"}
    assert overlapping([one, beside]) == []
    assert overlapping([one, beside, over]) == [("one", "over")]


@given(st.lists(st.floats(0.0, 700.0), max_size=20))
def test_figures_are_moved_apart_and_stay_in_order(places: list[float]) -> None:
    levels = sorted(places, reverse=True)
    moved = spread(levels, 10.0, 0.0, 700.0)
    assert all(above - below >= 10.0 - 1e-9 for above, below in pairwise(moved))
    assert all(-1e-9 <= level <= 700.0 + 1e-9 for level in moved)
    if all(above - below >= 10.0 for above, below in pairwise(levels)):
        assert moved == levels


EVERY = [(path, "a4") for path in SAMPLES] + [(sample("d"), "letter"), (sample("d"), "a3")]


@pytest.mark.parametrize(("path", "paper"), EVERY, ids=lambda value: getattr(value, "stem", value))
def test_samples_are_laid_out(path: Path, paper: str) -> None:
    assert_laid_out(sheets_of(path, paper).pdf)


@pytest.mark.parametrize("paper", ["a4", "a3"])
def test_twelve_hoops_on_twenty_four_tapes_are_laid_out(paper: str) -> None:
    pages = assert_laid_out(sheets_of_hard(paper).pdf)
    strips = [word["text"] for page in pages if "Full size. Casings" in page.text for word in page.words]
    assert [letter for letter in "ABCDEFGHIJKL" if letter not in strips] == []


@pytest.mark.parametrize("name", NAMES.values(), ids=NAMES.keys())
def test_names_are_laid_out_and_whole(name: str) -> None:
    settled, report = renamed(name=name, production=name, code=name)
    first = assert_laid_out(make_sheets(settled, report).pdf)[0]
    assert letters().missing(name) == ()
    assert "□" not in first.text


def test_a_production_of_two_lines_stands_on_one() -> None:
    settled, report = renamed(production="Act I\nAct II")
    first = assert_laid_out(make_sheets(settled, report).pdf)[0]
    assert "Act I Act II" in first.text
    assert "□" not in first.text


def test_letters_that_the_font_lacks_are_said_aloud() -> None:
    settled, report = renamed(name="第二幕の裙")
    first = assert_laid_out(make_sheets(settled, report).pdf)[0]
    assert "□" in first.text
    assert "U+88D9" in first.text
    assert "--font" in first.text


def build_font(path: Path, sign: str) -> None:
    """A TrueType font with one letter, a square."""
    pen = TTGlyphPen(None)
    pen.moveTo((100, 0))
    for corner in ((100, 700), (800, 700), (800, 0)):
        pen.lineTo(corner)
    pen.closePath()
    font = FontBuilder(1000, isTTF=True)
    font.setupGlyphOrder([".notdef", "square"])
    font.setupCharacterMap({ord(sign): "square"})
    font.setupGlyf({".notdef": TTGlyphPen(None).glyph(), "square": pen.glyph()})
    font.setupHorizontalMetrics({".notdef": (900, 0), "square": (900, 100)})
    font.setupHorizontalHeader(ascent=800, descent=-200)
    font.setupNameTable({"familyName": "One", "styleName": "Regular", "psName": "One-Regular"})
    font.setupOS2()
    font.setupPost()
    font.save(path)


def test_a_second_font_is_taken_for_what_the_first_lacks(tmp_path: Path) -> None:
    """The test's font is made here: one square, for a letter that the built-in font has not."""
    font = tmp_path / "one.ttf"
    build_font(font, "裙")
    both = letters(font)
    assert both.missing("第裙") == ("第",)
    assert [run for _, run in both.runs("a裙b")] == ["a", "裙", "b"]
    settled, report = renamed(name="a裙b")
    first = assert_laid_out(make_sheets(settled, report, font=font).pdf)[0]
    assert "a裙b" in first.text.replace(" ", "")
    assert "□" not in first.text


@pytest.mark.parametrize("content", [b"", b"no font at all", b"\x00\x01\x00\x00" + bytes(40)])
def test_a_file_that_is_no_font_is_refused(tmp_path: Path, content: bytes) -> None:
    file = tmp_path / "letters.ttf"
    file.write_bytes(content)
    with pytest.raises(CommandError, match="TrueType"):
        letters(file)


def test_a_missing_font_is_refused(tmp_path: Path) -> None:
    with pytest.raises(CommandError, match=r"none\.ttf"):
        letters(tmp_path / "none.ttf")

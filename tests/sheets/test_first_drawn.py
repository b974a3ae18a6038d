"""The first page as drawn: its name, squares and lines to measure, and what stands round them, by hand."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any, cast

import numpy as np
import pytest
from on_paper import MM, Drawn, Told, assert_words, drawn

from cage3d.report.foreseen import CertaintyReport
from cage3d.sheets.making import Making
from cage3d.sheets.outline import Outline
from cage3d.sheets.pages import first
from cage3d.sheets.pages.first import PRINTING, VERSION, FirstPage, between, cage_figures
from cage3d.sheets.paper.fonts import letters
from cage3d.sheets.paper.frame import Identity, Numbering
from cage3d.sheets.paper.sizes import paper_named
from cage3d.sheets.writing import Writing

INCH = 72.0  # pt
WIDTH, TALL = 186 * MM, 256 * MM - 1
# Of the cage only its size counts here: 1.2 m wide, 0.8 m deep, 1 m high.
BOX = np.array([(-0.6, -0.4, 1.0), (0.6, 0.4, 1.0)])
CAGE = Outline(BOX, (BOX,), (BOX,), ())


SURE = CertaintyReport(0.9, (), 0.0021, 0.0034, 0.0052, 0.0051, 0.0049, "sewing", ())


def making_of(ties: bool = False, notes: str = "", certainty: CertaintyReport | None = None) -> Making:
    """A cage of two hoops on eight tapes, as far as the first page asks."""
    hem = SimpleNamespace(lowest_m=0.2, highest_m=0.2254, widest_m=0.9)
    report = SimpleNamespace(
        hem=hem,
        width_side_side_m=0.91,
        width_front_back_m=0.85,
        back_share=0.546,
        certainty=certainty,
        units="mm",
    )
    design = SimpleNamespace(
        stuff="steel", wearer=SimpleNamespace(waist=0.66), hoops=(1, 2), tapes=SimpleNamespace(count=8),
        notes=notes, ties=(SimpleNamespace(name="uns"), SimpleNamespace(name=None)) if ties else (),
    )  # fmt: skip
    return cast(
        Making,
        SimpleNamespace(
            design=design, report=report, writing=Writing(False), weight_kg=0.456, gores=(),
            plans=(SimpleNamespace(cut=1.65), SimpleNamespace(cut=1.85)),
        ),
    )  # fmt: skip


FIGURES = [
    ("Waist", "660 mm"),
    ("Made of", "2 hoops on 8 tapes"),
    ("Steel to cut", "3500 mm"),
    ("Weight, with its waistband", "0.46 kg"),
    ("Hem above the floor", "200 to 225 mm"),
    ("Hem at its widest", "900 mm"),
    ("Whole cage, side to side", "910 mm"),
    ("Front to back", "850 mm"),
    ("Of that behind the waist", "55 %"),
]


def test_the_cage_in_figures() -> None:
    assert cage_figures(making_of()) == FIGURES
    assert between(0.2004, 0.2003, Writing(False)) == "200 mm", "a level hem has one figure"
    assert cage_figures(making_of(ties=True)) == [*FIGURES[:2], ("Tied by", "2 ties"), *FIGURES[2:]]


def test_how_sure_the_figures_are() -> None:
    """Rounded up to a millimetre; of the hem's two edges the one that is less sure."""
    told = dict(cage_figures(making_of(certainty=SURE)))
    assert told["Hem above the floor (± nine times in ten)"] == "200 to 225 mm (±4)"
    assert told["Hem at its widest"] == "900 mm (±6)"
    assert (told["Whole cage, side to side"], told["Front to back"]) == ("910 mm (±6)", "850 mm (±5)")


KNOWN = Numbering(9, {first.TITLE: 1, "1 Steel": 2, "3 Tapes": 5})


def first_page(name: str = "Gown", **more: Any) -> Drawn:
    identity = Identity(name, more.pop("production", "Act I"), more.pop("wearer", "W-07"), "0123abcd")
    page = FirstPage(
        making_of(notes=more.pop("notes", "")), CAGE, identity, paper_named("a4"), letters(), KNOWN
    )
    assert page.wrap(1, 1) == pytest.approx((WIDTH, TALL))
    return drawn(page, WIDTH, TALL)


# The name's foot 13 + 26 pt under the top; who it is for a line of 35.1 pt lower, moved up by 35.1 and down 18.
WHO = TALL - 13 - 26 - 18
VIEWS_TOP = WHO - 8 * MM
FULL_SCALE = min((WIDTH - 20 - 90) / 3.2, 235 - 44)
SQUARES_TOP = VIEWS_TOP - (FULL_SCALE + 44) - 6 * MM
LOW = SQUARES_TOP - 2 * INCH


def test_the_name_and_who_it_is_for() -> None:
    assert_words(
        first_page(),
        [
            ("MAKING SHEETS", "left", 0, TALL - 9, 8, True, 0.35),
            ("Gown", "left", 0, TALL - 39, 26, True, 0),
            ("Act I · W-07", "left", 0, WHO, 11, False, 0),
            ("From the front", "middle", (1.2 * FULL_SCALE + 30) / 2, VIEWS_TOP - 8, 8, True, 0),
        ],
    )
    alone = first_page(production="", wearer="W-07")
    assert_words(alone, [("W-07", "left", 0, WHO, 11, False, 0)])


@pytest.mark.parametrize(
    ("share", "lines", "size"),
    [(1.0, 1, 26.0), (26 / 20, 1, 20.0), (26 / 14.5, 2, 15.0), (26 * 3.3 / 10, 4, 10.0)],
)
def test_a_long_name_is_smaller_and_then_on_several_lines(share: float, lines: int, size: float) -> None:
    """share: of the page's width that the name takes at 26 pt. On one line down to 16 pt, then on up to three, and at
    10 pt on as many as it takes.
    """
    name, own = "a", letters()
    while own.width(name + " a", 26.0, True) <= share * WIDTH:
        name += " a"
    page = first_page(name)
    told = [words for words in page.words if words.bold and words.said.replace(" ", "").strip("a") == ""]
    assert (len(told), told[0].size) == (lines, size)
    assert told[0].foot == pytest.approx(TALL - 13 - size, abs=0.02)
    assert_words(page, [("Act I · W-07", "left", 0, told[-1].foot - 18, 11, False, 0)])


def test_squares_and_lines_to_measure() -> None:
    page = first_page()
    squares = {round(block.wide, 2): block for block in page.blocks if round(block.line, 3) == 0.6}
    assert {
        size: (round(b.x, 2), round(b.y, 1), round(b.tall, 2), round(b.line, 3))
        for size, b in squares.items()
    } == {
        round(50 * MM, 2): (0, round(SQUARES_TOP - 50 * MM, 1), round(50 * MM, 2), 0.6),
        144.0: (round(53 * MM, 2), round(LOW, 1), 144.0, 0.6),
    }
    wanted: list[Told] = []
    for left, side, said in ((0.0, 50 * MM, "50 mm"), (53 * MM, 144.0, "2 in")):
        centre, middle = left + side / 2, SQUARES_TOP - side / 2
        wanted += [
            (said, "middle", centre, middle + 14, 20, True, 0),
            ("measure me before", "middle", centre, middle - 4, 8.5, True, 0),
            ("you use this", "middle", centre, middle - 16, 8.5, True, 0),
            (
                "from middle of line to middle of line",
                "middle",
                centre,
                SQUARES_TOP - side + 10,
                6,
                False,
                0.35,
            ),
        ]
    for row, (long, said) in enumerate(((100 * MM, "100 mm"), (288.0, "4 in")), start=1):
        level = LOW - 15 * row
        wanted.append((said, "middle", long / 2, level + 2.5, 7.5, True, 0))
        lines = [
            (line.x, line.y, line.to_x, line.to_y) for line in page.lines if line.wide == pytest.approx(0.6)
        ]
        for line in (
            (0, level, long, level),
            (0, level - 3, 0, level + 3),
            (long, level - 3, long, level + 3),
        ):
            assert any(own == pytest.approx(line, abs=0.02) for own in lines), line
    assert_words(page, wanted)


def heads(page: Drawn) -> dict[str, tuple[float, float]]:
    """Left and foot of each heading of 10.5 pt."""
    return {words.said: (words.left, words.foot) for words in page.words if words.size == 10.5}


def test_what_stands_under_the_squares() -> None:
    """The first rule 3 mm under the lower line, 13 pt over its heading; figures 12.5 pt apart from 15 pt under it."""
    page = first_page()
    start = LOW - 30 - 13 - 3 * MM
    assert heads(page)["The cage in figures"] == pytest.approx((0, start), abs=0.02)
    rules = [(line.x, line.y, line.to_x) for line in page.lines if line.wide == 1.6 and line.y == line.to_y]
    assert any(rule == pytest.approx((0, start + 13, 288), abs=0.02) for rule in rules)
    wanted: list[Told] = []
    for row, (word, figure) in enumerate(FIGURES):
        foot = start - 15 - 12.5 * row
        wanted += [(word, "left", 0, foot, 8.5, False, 0), (figure, "right", 288, foot, 8.5, True, 0)]
    assert_words(page, wanted)
    assert "Notes" not in heads(page)
    after, noted = start - 15 - 12.5 * len(FIGURES) - 10, first_page(notes="Let out")
    assert heads(noted)["Notes"] == pytest.approx((0, after), abs=0.02)
    assert_words(noted, [("Let out", "left", 0, after - 15, 8.5, False, 0)])
    # Notes go down to the page's foot and not beyond, the last line telling where they go on.
    long = first_page(notes="word " * 600)
    under = (words for words in long.words if words.size == 8.5 and words.left < 1)
    last = min(under, key=lambda words: words.foot)
    assert last.said.endswith("goes on in the fitting record.")
    assert -8.5 * 1.35 < last.foot < 3 * 8.5 * 1.35


def test_what_stands_beside_the_squares() -> None:
    """From 9 mm right of the longest line to the edge; its rule level with the squares' top."""
    page = first_page()
    left, foot = 288 + 9 * MM, SQUARES_TOP - 13
    assert heads(page)["Print at 100 %"] == pytest.approx((left, foot), abs=0.02)
    lines = letters().wrapped(PRINTING, 8.5, WIDTH - left)
    wanted: list[Told] = [
        (line, "left", left, foot - 15 - 8.5 * 1.35 * row, 8.5, False, 0) for row, line in enumerate(lines)
    ]
    contents = foot - 15 - 8.5 * 1.35 * len(lines) - 10
    assert heads(page)["In here"] == pytest.approx((left, contents), abs=0.02)
    for row, (title, number) in enumerate((("1 Steel", "2"), ("3 Tapes", "5"))):
        wanted.append((title, "left", left, contents - 15 - 12.5 * row, 8.5, False, 0))
        wanted.append((number, "right", WIDTH, contents - 15 - 12.5 * row, 8.5, True, 0))
    assert_words(page, wanted)
    version = contents - 15 - 12.5 * 2 - 10
    assert heads(page)["Which sheets these are"] == pytest.approx((left, version), abs=0.02)
    said = letters().wrapped(VERSION, 8.5, WIDTH - left)
    assert_words(page, [(said[-1], "left", left, version - 15 - 8.5 * 1.35 * (len(said) - 1), 8.5, False, 0)])
    after = version - 15 - 8.5 * 1.35 * len(said) - 10
    assert heads(page)["By hand"] == pytest.approx((left, after), abs=0.02)
    lines_to_fill = [(line.x, line.y, line.to_x) for line in page.lines if line.wide == 0.4]
    for row, word in enumerate(("50 mm and 100 mm measured", "2 in and 4 in measured", "Made by, date")):
        level = after - 15 - 6 - 8.5 * MM * row
        assert_words(page, [(word, "left", left, level, 8, False, 0.3)])
        assert any(line == pytest.approx((left, level - 4, WIDTH), abs=0.02) for line in lines_to_fill)


def test_letters_that_are_missing_stand_under_the_figures() -> None:
    """Below the last of the rows of figures, 12.5 points each, under their heading."""
    assert "Letters that are missing" not in heads(first_page())
    missing = first_page("裙")
    figures = heads(missing)["The cage in figures"][1]
    rows = [
        words for words in missing.words if words.left == 0.0 and words.size == 8.5 and words.foot < figures
    ]
    after = figures - 15 - 12.5 * len(rows) - 10
    assert heads(missing)["Letters that are missing"] == pytest.approx((0.0, after), abs=0.02)
    (told,) = (words for words in missing.words if words.said.startswith("Shown as"))
    assert (told.size, told.left, told.foot) == pytest.approx((7.5, 0.0, after - 15), abs=0.02)

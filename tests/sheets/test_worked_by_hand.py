"""What the sheets work out, on small cases by hand: lengths on a page, offers of steel, marks, tapes, words."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from types import SimpleNamespace
from typing import Any, cast

import pytest

from cage3d.design.models import Steel, Stock, Tie
from cage3d.shape.section import Section
from cage3d.shape.steels import SteelJoin
from cage3d.sheets.assembly.hanging import fixing_steps
from cage3d.sheets.assembly.step import Step
from cage3d.sheets.assembly.threading import threading_steps
from cage3d.sheets.assembly.ties import tie_step
from cage3d.sheets.balancing import if_it_hangs_off
from cage3d.sheets.delivery import spares
from cage3d.sheets.least_steel import first_fit, offers_of
from cage3d.sheets.making import Making
from cage3d.sheets.paper.fonts import letters, missing_signs
from cage3d.sheets.paper.sizes import paper_named
from cage3d.sheets.steel import SteelCut, gathered
from cage3d.sheets.strips import pages_of_tiles
from cage3d.sheets.tapes import Casing, TapeSet, unsewable
from cage3d.sheets.writing import Writing, plural, ranges, typeset

INCH = 0.0254
MM, IN = Writing(False), Writing(True)
LAP = cast(SteelJoin, SimpleNamespace(overlap=0.05, length=0.05, lapped=True))
TUBE = cast(SteelJoin, SimpleNamespace(overlap=0.0, length=0.03, lapped=False))
STRAIGHT = cast(
    Section,
    SimpleNamespace(set_curvature=0.0, pieces=1, socket="tube", steel=Steel(width=0.007, thickness=0.0005)),
)


def cut(number: int, length: float = 1.65, **more: Any) -> SteelCut:
    """A hoop cut to `length`, lapped by 50 mm at centre back unless said otherwise."""
    plain = SteelCut(number, STRAIGHT, "none", length - 0.05, LAP, "back", length, length, ())
    return replace(plain, **more)


def cuts_of(lengths: Sequence[float]) -> list[SteelCut]:
    return [cut(number, length) for number, length in enumerate(lengths, start=1)]


@pytest.mark.parametrize(
    ("metres", "millimetres", "down", "sixteenths", "down_in"),
    [
        (0.1004, "100", 0.100, "3¹⁵⁄₁₆", 63 / 16 * INCH),  # 3.9528 in, 63.24 sixteenths
        (0.1006, "101", 0.100, "3¹⁵⁄₁₆", 63 / 16 * INCH),
        (0.1020, "102", 0.102, "4", 64 / 16 * INCH),  # 4.0157 in, 64.25
        (0.1026, "103", 0.102, "4¹⁄₁₆", 64 / 16 * INCH),  # 64.63
        (8 * INCH, "203", 0.203, "8", 8 * INCH),
    ],
)
def test_lengths_are_rounded_to_what_can_be_written(metres, millimetres, down, sixteenths, down_in) -> None:
    assert (MM.figure(metres), IN.figure(metres)) == (millimetres, sixteenths)
    assert MM.rounded(metres) == pytest.approx(int(millimetres) / 1000)
    assert IN.rounded(metres) / INCH * 16 == pytest.approx(round(metres / INCH * 16))
    assert (MM.down(metres), IN.down(metres)) == (pytest.approx(down), pytest.approx(down_in))


def test_units_by_which_things_are_measured_and_bought() -> None:
    assert [Writing.of(unit).inches for unit in ("in", "ft", "mm", "cm", "m", None)] == [True, True] + [
        False
    ] * 4
    assert (MM.unit, IN.unit, MM.step, IN.step) == ("mm", "in", 0.001, pytest.approx(INCH / 16))
    assert (MM.buying_unit, IN.buying_unit) == (("m", 1.0), ("yd", pytest.approx(0.9144)))
    assert (MM.height(0.4321), IN.height(0.4321)) == ("432 mm", "17 in")  # 17.01 in
    assert typeset("-7 1/2 to 13/16") == "−7¹⁄₂ to ¹³⁄₁₆"


def test_numbers_in_words() -> None:
    for numbers, words in (
        ((4,), "4"),
        ((1, 2), "1, 2"),
        ((1, 2, 3), "1–3"),
        ((1, 3, 4, 5, 6, 8, 9), "1, 3–6, 8, 9"),
    ):
        assert ranges(numbers) == words
    assert (plural(0, "hoop"), plural(1, "hoop"), plural(2, "hoop")) == ("0 hoops", "1 hoop", "2 hoops")


def test_signs_that_are_missing_are_named_up_to_six() -> None:
    assert missing_signs(("裙",)) == "U+88D9 (cjk unified ideograph-88d9)"
    six, seven = missing_signs(tuple("ABCDEF")), missing_signs(tuple("ABCDEFG"))
    assert six.endswith("U+0046 (latin capital letter f)")
    assert seven == f"{six} and 1 more"
    assert letters().missing("a裙b第裙") == ("裙", "第")


def tape(letter: str, parts: int) -> TapeSet:
    """As long as so many pages of A4 hold; a page holds 238.15 mm, 8 of them twice."""
    finished = (230.0 * parts - 50.0) / 1000
    casing = Casing(1, finished - 0.02, finished, finished + 0.005)
    return TapeSet(letter, (1,), ("L",), (casing,), finished, 0.025, 0.015, 1, finished + 0.04)


@pytest.mark.parametrize(
    ("parts", "pages"),
    [
        ([1, 1], ["AB"]),
        ([2, 2, 2], ["AABBCC"]),
        ([3, 4], ["AAABBBB"]),
        ([4, 4, 4], ["AAAABBBB", "CCCC"]),  # 186 mm hold eight strips of 20 mm and their gaps of 1
        ([5, 5], ["AAAAABBB", "BB"]),  # over two pages, as it needs
        ([7, 9, 1], ["AAAAAAAB", "BBBBBBBB", "C"]),
        ([7, 10], ["AAAAAAA", "BBBBBBBB", "BB"]),
    ],
)  # fmt: skip
def test_strips_stand_abreast_and_are_torn_over_no_more_pages_than_need_be(parts, pages) -> None:
    sets = [tape(letter, count) for letter, count in zip("ABC", parts, strict=False)]
    laid = pages_of_tiles(sets, 0.020, paper_named("a4"))
    assert ["".join(tile.one.letter for tile in page) for page in laid] == pages
    for one, count in zip(sets, parts, strict=True):
        own = [tile for page in laid for tile in page if tile.one is one]
        assert [(tile.part, tile.parts) for tile in own] == [(n + 1, count) for n in range(count)]


def test_marks_in_one_place_are_one() -> None:
    """Within half a millimetre of the first; names in the order of their places."""
    marks = gathered([("b", 0.1003), ("a", 0.1), ("c", 0.10055), ("d", 0.2), ("e", 0.2)])
    assert [(mark.names, mark.at) for mark in marks] == [
        (("a", "b"), 0.1),
        (("c",), 0.10055),
        (("d", "e"), 0.2),
    ]


@pytest.mark.parametrize(("lengths", "length", "count"), [
    ([1.0, 1.0, 1.0], 3.0, 1), ([1.0, 1.0, 1.0], 2.9, 2), ([2.0, 1.5, 1.5, 1.0], 3.0, 2), ([4.0, 1.0], 3.0, 1),
    ([4.0], 3.0, 0),
    ([1.6, 1.6, 1.4, 1.4], 3.0, 2), ([3.0000005], 3.0, 1), ([3.00001], 3.0, 0), ([2.0, 1.0000005], 3.0, 1),
])  # fmt: skip
def test_how_many_lengths_hold_the_hoops_longest_first(lengths, length, count) -> None:
    assert first_fit(cuts_of(lengths), length) == count


def test_as_many_of_each_length_are_offered_as_could_be_bought() -> None:
    """Three hoops of 2 m: three lengths of 3 m, two of 4 m; to buy 13 m takes five and four; no more than there are."""
    stock = [Stock(length=3.0, price=2.0), Stock(length=4.0, count=1), Stock(length=1.9)]
    cuts = cuts_of([2.0, 2.0, 2.0])
    told = [(offer.length, offer.price, offer.turn) for offer in offers_of(cuts, stock, 6.0, MM)]
    assert told[:3] == [(3.0, 2.0, 0), (3.0, 2.0, 1), (3.0, 2.0, 2)]
    assert told[3] == (4.0, None, 0)
    more = [offer.turn for offer in offers_of(cuts, stock, 13.0, MM) if offer.length == 3.0]
    assert more == [0, 1, 2, 3, 4]


def sewn(upper: float, lower: float, bottom: float = 0.02) -> list[str]:
    """What is wrong with a tape of two casings, hoop 2's from `upper` to `lower`."""
    casings = (Casing(1, 0.1, 0.11, 0.12), Casing(2, upper, 0.2, lower))
    return [
        problem.why
        for problem in unsewable(TapeSet("A", (3,), ("L",), casings, 0.2, 0.02, bottom, 1, 0.24), MM)
    ]


def test_casings_may_touch_and_the_ribbon_may_just_do() -> None:
    assert sewn(0.12, 0.22) == []
    assert sewn(0.119995, 0.220005) == [], "a hundredth of a millimetre is none"
    assert sewn(0.118, 0.22) == [
        "the casing of hoop 2 would begin 2 mm above the end of the casing of hoop 1"
    ]
    assert sewn(0.19, 0.223) == ["tape 3 would end 3 mm above the lowest line of its last casing"]


def titles(steps: list[Step]) -> list[str]:
    return [step.title for step in steps]


def making(*cuts: SteelCut, tapes: int = 8, **more: Any) -> Making:
    design = SimpleNamespace(
        line="tape", stuff="steel", tapes=SimpleNamespace(count=tapes), ties=more.pop("ties", ())
    )
    casings = tuple(SimpleNamespace(hoop=cut.hoop, meeting=()) for cut in cuts)
    sets = (SimpleNamespace(tapes=range(tapes), casings=casings),)
    known = {"cuts": cuts, "design": design, "writing": MM, "tapes": sets, "gores": (), "says": str}
    return cast(Making, SimpleNamespace(**(known | more)))


def test_like_hoops_are_threaded_in_one_step() -> None:
    front = cut(3, join_at="front")
    assert titles(threading_steps((cut(1), cut(2), front, cut(4)))) == [
        "Thread hoops 1, 2",
        "Thread hoop 3",
        "Thread hoop 4",
    ]
    opened = cut(1, opening="back", join=None)
    (step,) = threading_steps((opened,))
    assert step.text.startswith("Open: thread from the front, end at centre back")


def test_a_tie_is_cut_longer_for_its_knots() -> None:
    """6 in more (common practice): 300 mm and 152.4."""
    tie = SimpleNamespace(name="upper", length=0.3, from_="hoop 1 tape 2", to="hoop 1 tape 7", runs=None)
    step = tie_step(2, cast(Tie, tie), MM)
    assert step == Step(
        "Tie 2, upper", "From hoop 1 tape 2 to hoop 1 tape 7: 300 mm between the steels, cut 452 mm."
    )
    unnamed = SimpleNamespace(name="tie 2", length=0.3, from_="a", to="b", runs="behind")
    behind = tie_step(2, cast(Tie, unnamed), MM)
    assert behind == Step("Tie 2", "From a to b, behind her: 300 mm between the steels, cut 452 mm.")


def test_what_is_made_fast_in_the_end() -> None:
    lapped, tubed = cut(1), cut(2, join=TUBE)
    opened = cut(3, opening="front", join=None)
    both = fixing_steps(making(lapped, tubed, opened))
    assert titles(both) == ["Joins", "Casings"]
    assert both[0].text == "Clamp or crimp the 2 joins of hoops 1, 2; cover with tape."
    assert "Stitch each of the 24 casings" in both[1].text
    assert both[1].text.endswith("Sew the casings over tips shut.")
    one = fixing_steps(making(tubed))
    assert one[0] == Step("Join", "Crimp the join of hoop 2; cover it with tape.")
    assert "tips" not in one[1].text
    assert titles(fixing_steps(making(opened))) == ["Casings"]


def test_how_much_a_mark_tips_a_hoop() -> None:
    """10 mm across a hoop of 1600 mm (509.3 mm wide) is 1.1 degrees; half an inch of 12.7 mm 1.4."""
    for writing, words in (
        (MM, "10 mm across hoop 6 tips it 1.1°"),
        (IN, "¹⁄₂ in across hoop 6 tips it 1.4°"),
    ):
        own = making(cut(1), cut(6), writing=writing, report=SimpleNamespace(hoops=(), tapes=()))
        told = dict(if_it_hangs_off(own))
        assert words in told["One side low"]


def test_what_is_sent_along() -> None:
    """The hem's steel, ribbon for the longest tape, two of each small thing that the cage has, one tie and its ends."""
    tapes = (SimpleNamespace(cut=0.4, ribbon=0.8), SimpleNamespace(cut=0.5, ribbon=1.0))
    ties = (SimpleNamespace(length=0.3), SimpleNamespace(length=0.4))
    all_of_them = making(cut(1), cut(2, join=TUBE), cut(3, opening="front", join=None), ties=ties)
    words = spares(cast(Making, SimpleNamespace(**(vars(all_of_them) | {"tapes": tapes}))))
    assert "a spare steel for hoop 3, cut 1650 mm and capped" in words
    assert "ribbon for one tape, 1000 mm" in words
    assert "2 tips, 2 connectors, 2 tubes and tape for one tie, 552 mm" in words
    plain = spares(cast(Making, SimpleNamespace(**(vars(making(cut(1))) | {"tapes": tapes}))))
    assert "2 connectors" in plain
    assert all(word not in plain for word in ("tips", "tubes", "tie,"))

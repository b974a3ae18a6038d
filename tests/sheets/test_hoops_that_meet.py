"""The sheets of the fan: one casing at centre front that five hoops share, and in which they turn."""

from __future__ import annotations

from functools import cache

from made import pages_of, sample, sheets_of


@cache
def words() -> str:
    return " ".join(" ".join(page.text.split()) for page in pages_of(sheets_of(sample("j")).pdf))


def test_their_casing_is_named_in_short_across_its_strip() -> None:
    assert "hoops 1–5 " in words().split("Full size.")[0]


def test_they_are_threaded_together_and_nothing_is_sewn_to_them_there() -> None:
    """By hand: six tapes with a casing for each of five hoops; the seventh has one in which they turn."""
    assert "On tape 1 they lie in one casing, one steel over the" in words()
    assert "Stitch each of the 30 casings to its steel" in words()
    assert "Those in which hoops meet stay free of them." in words()


def test_the_tape_at_centre_front_lies_on_neither_side_of_her() -> None:
    text = words()
    assert "tape 1 at centre front, tape 2 next to it on the wearer's left and tape 7 on her right" in text
    assert "tape 1 beside centre front" not in text

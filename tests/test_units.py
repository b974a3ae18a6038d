"""Lengths and weights as makers write them, to SI and back."""

from __future__ import annotations

import contextlib
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cage3d import units
from cage3d.units import INCH, NoUnitsError, UnitError


@pytest.mark.parametrize(
    "text",
    [
        "7 1/2",
        "7½",
        "7 ½",
        "7-1/2",
        "7.5",
        '7.5"',
        "7 1/2 in",
        "7½″",
        "7 1/2 inches",
        "7.5in",
        "15/2",
        "7 1⁄2",
        "+7.5",
        "7 1/2\u00a0in",
        " 7.5 In. ",
        "0' 7 1/2\"",
        "7.50''",
        "75e-1",
    ],
)
def test_seven_and_a_half_inches(text: str) -> None:
    assert units.length(text, "in") == pytest.approx(0.1905, abs=1e-12)


@pytest.mark.parametrize(
    ("text", "metres"),
    [
        ("1' 6\"", 0.4572),
        ("1′ 6″", 0.4572),
        ("1 ft 6 in", 0.4572),
        ("1 foot 6", 0.4572),
        ("1'6 1/2\"", 0.4699),
        ("2 ft", 0.6096),
        ("2'", 0.6096),
        ("1 1/2 ft", 0.4572),
        ("19 cm", 0.19),
        ("5 mm", 0.005),
        ("1.2 m", 1.2),
        ("2 yd", 1.8288),
        ("3 yards", 2.7432),
        ("12 millimetres", 0.012),
        ("1e2 mm", 0.1),
        (".5 in", 0.0127),
        ("5. cm", 0.05),
    ],
)
def test_lengths_that_carry_their_unit(text: str, metres: float) -> None:
    assert units.length(text) == pytest.approx(metres, abs=1e-12)
    assert units.length(text, "cm") == units.length(text), "the design's units do not matter here"


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("7,5", "comma"),
        ("1,000 mm", "comma"),
        ("7 1/0", "0 below the line"),
        ("7 3/2", "not smaller than one"),
        ("nan", "NaN"),
        ("-.inf", "infinite"),
        ("", "missing"),
        ("3 elephants", "'elephants' is not a unit"),
        ("7 1", "'1' is not a unit"),
        ("7 1/2 1/2", "not a unit"),
        ("in 7", "this is not a length"),
        ("5 kg", "kg is the unit of a weight"),
        ("5 MPa", "MPa is the unit of a stress"),
        ("1e999 in", "far too large"),
        ("1/" + "9" * 400, "far too long"),
        ("٧", "this is not a length"),
        ("1' 6' 2\"", "not a unit"),
    ],
)
def test_what_is_not_a_length(text: str, message: str) -> None:
    with pytest.raises(UnitError, match=message) as caught:
        units.length(text, "in")
    assert caught.value.try_this


def test_a_bare_number_needs_units() -> None:
    with pytest.raises(NoUnitsError):
        units.length("7 1/2")
    assert units.length("0") == 0.0
    assert units.length(19, "cm") == pytest.approx(0.19)


def test_other_quantities() -> None:
    assert units.mass("0.8 kg") == 0.8
    assert units.mass("250 g") == pytest.approx(0.25)
    assert units.mass("2 lb") == pytest.approx(0.90718474)
    assert units.mass("4 ounces") == pytest.approx(0.1133980925)
    assert units.quantity("12 g/m", units.PER_LENGTH) == pytest.approx(0.012)
    assert units.quantity("1 oz/yd", units.PER_LENGTH) == pytest.approx(0.028349523125 / 0.9144)
    assert units.quantity("120 g per m", units.PER_LENGTH) == pytest.approx(0.12)
    assert units.quantity("120 g/m2", units.PER_AREA) == pytest.approx(0.12)
    assert units.quantity("4 oz/yd²", units.PER_AREA) == pytest.approx(4 * 0.028349523125 / 0.9144**2)
    assert units.quantity("1200 MPa", units.PRESSURE) == pytest.approx(1.2e9)
    assert units.quantity("205 GPa", units.PRESSURE) == pytest.approx(205e9)
    assert units.share("10 %") == units.share("0.1") == units.share("1/10") == pytest.approx(0.1)
    assert units.money("12.50") == 12.5


@pytest.mark.parametrize(
    ("inches", "text"),
    [
        (7.5, "7 1/2"),
        (0.0, "0"),
        (0.125, "1/8"),
        (48.0, "48"),
        (-0.25, "-1/4"),
        (7.49, "7 1/2"),
        (19.97, "20"),
        (-0.01, "0"),
    ],
)
def test_inches_shown_to_the_eighth(inches: float, text: str) -> None:
    assert units.show_inches(inches * INCH) == text


def test_lengths_shown() -> None:
    assert units.show_length(0.1905, "in") == "7 1/2 in"
    assert units.show_length(0.1905, "in", unit=False) == "7 1/2"
    assert units.show_length(7.0625 * INCH, "in", 1 / 16) == "7 1/16 in"
    assert units.show_length(0.1905, "cm") == "19.1 cm"
    assert units.show_length(0.1904, None) == "190 mm"
    assert units.show_length(0.19, "m") == "0.19 m"
    assert units.show_length(18.5 * INCH, "ft") == "1' 6 1/2\""
    assert units.show_length(11.99 * INCH, "ft") == "1' 0\""
    assert units.both(0.1905) == "7 1/2 in (190.5 mm)"
    assert units.show_mm(100.0) == "100000"


HALF_STEP = {"in": INCH / 16, "ft": INCH / 16, "mm": 0.0005, "cm": 0.0005, "m": 0.0005}


@given(st.floats(0.0, 50.0), st.sampled_from(sorted(HALF_STEP)))
def test_what_is_shown_reads_back(metres: float, unit: str) -> None:
    shown = units.show_length(metres, unit)
    assert units.length(shown) == pytest.approx(metres, abs=HALF_STEP[unit] * 1.000001)


@given(st.integers(0, 2000), st.integers(0, 15), st.sampled_from([" ", "-"]))
def test_sixteenths_are_read_exactly(whole: int, sixteenths: int, between: str) -> None:
    text = f"{whole}{between}{sixteenths}/16"
    metres = units.length(text, "in")
    assert metres == pytest.approx((whole + sixteenths / 16) * INCH, rel=1e-15)
    assert units.length(units.show_inches(metres, 1 / 16), "in") == pytest.approx(metres, abs=1e-12)


@given(st.text(max_size=20))
def test_any_text_is_a_length_or_a_plain_refusal(text: str) -> None:
    # Any other error than UnitError fails this test.
    with contextlib.suppress(UnitError):
        assert math.isfinite(units.length(text, "in"))

"""Lengths as they are written into a design and told beside it."""

from __future__ import annotations

import pytest

from cage3d.study.aiming.writing import in_full, length_text

INCH = 0.0254


@pytest.mark.parametrize(
    ("metres", "units", "told"),
    [
        (7.53125 * INCH, "in", "7 17/32 in"),
        (42.2 * INCH, "in", "42.2 in"),
        (60 * INCH, "ft", "60 in"),
        (0.4855, "mm", "485.5 mm"),
        (0.4855, None, "485.5 mm"),
        (0.4855, "cm", "48.55 cm"),
    ],
)
def test_a_number_is_told_to_the_last_digit_that_is_cut_by(metres: float, units: str | None, told: str):
    assert in_full(metres, units) == told


@pytest.mark.parametrize(
    ("written", "units", "step", "text"),
    [
        ("62", "in", INCH / 8, "60 1/2"),
        ("62 in", "mm", INCH / 8, "60 1/2 in"),
        ("1574.8", "mm", None, "1536.7"),
        ("157.5 cm", "in", 1e-3, "153.67 cm"),
        ("5 ft 2", "ft", INCH / 8, "60 1/2 in"),
    ],
)
def test_a_length_keeps_the_unit_it_was_written_in(written: str, units: str, step: float | None, text: str):
    """60 1/2 in are 1536.7 mm."""
    assert length_text(60.5 * INCH, written, units, step) == text

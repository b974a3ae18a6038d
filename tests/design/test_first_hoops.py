"""Hoops and drops of first designs, worked by hand from the silhouettes' words, and the bounds of what makes one."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import pytest

from cage3d.design.first.body import hip_half_breadth
from cage3d.design.first.brief import Brief
from cage3d.design.first.profile import SILHOUETTES, levels
from cage3d.design.first.rounds import drops_for, hoop_lengths
from cage3d.design.first.starter import first_design
from cage3d.design.first.text import hip_words, line, quoted
from cage3d.errors import DesignError

INCH = 0.0254
# 41 1/2 less half a band and 17 3/4 leave 23 1/4 in from the band's edge to the hem.
SHORT = Brief(26 * INCH, 41.5 * INCH, 74 * INCH, (17 * INCH, 18.5 * INCH))
# And 41 1/2 less 1/2 and 9 are 32 in.
HIPPED = replace(
    SHORT, hip=39 * INCH, hip_drop=8 * INCH, hem=90 * INCH, clearance=(8 * INCH, 10 * INCH), hoops=5
)


def in_inches(lengths: list[float]) -> list[float]:
    return [round(length / INCH, 6) for length in lengths]


@pytest.mark.parametrize(
    ("name", "rounds"),
    [
        # Of a waist of three tenths: 0.3 + 0.7 sin 45, 0.3 + 0.7 x 0.5^1.5, 0.3 + 0.7 x 0.5.
        ("dome", 0.794975),
        ("bell", 0.547487),
        ("cone", 0.65),
        ("drum", 1.0),
        # The widest is 1 / 0.87 of the hem: narrow 0.261, and half the turn of 124.5 degrees: sin 62.26 = 0.8851.
        ("lantern", 1.051745),
    ],
)
def test_silhouettes_half_way_down(name: str, rounds: float) -> None:
    assert SILHOUETTES[name](0.5, 0.3) == pytest.approx(rounds, abs=1e-6)


def test_levels_of_hoops() -> None:
    """The first stretch 1.5, the others from 1.1 evenly down to 0.85: of four 1.1, 0.975, 0.85, together 4.425."""
    assert levels(1) == [1.0]
    assert levels(2) == pytest.approx([1.5 / 2.6, 1.0])
    assert levels(3) == pytest.approx([1.5 / 3.45, 2.6 / 3.45, 1.0])
    assert levels(4) == pytest.approx([1.5 / 4.425, 2.6 / 4.425, 3.575 / 4.425, 1.0])


def test_half_the_breadth_of_a_hip() -> None:
    """An ellipse of 1 to 0.658 is pi (3 x 1.658 - sqrt(3.658 x 2.974)) = 5.26436 half breadths round, a hip 1.097."""
    assert hip_half_breadth(39.0) == pytest.approx(39 / 1.097 / 5.26436, rel=1e-5)


def test_a_dome_in_inches() -> None:
    """26 + 48 sin(90 s): 50.4, 64.3, 71.8, 74."""
    assert in_inches(hoop_lengths(SHORT)) == [50, 64, 72, 74]


def test_a_cone_in_centimetres() -> None:
    """66 + 114 s at 0.4348, 0.7536 and 1: 115.6, 151.9, 180. Down 105 - 1.27 - 22 = 81.73.

    Steps 7.96, 5.73 and 4.46 out; hypot(35.54, 7.96) = 36.4, so 36.5, which reaches 35.62; then hypot(61.59 - 35.62,
    5.73) = 26.6 and hypot(81.73 - 61.50, 4.46) = 20.7: to half centimetres 26.5 and 20.5.
    """
    brief = Brief(0.66, 1.05, 1.8, (0.20, 0.24), "cone", hoops=3, units="cm")
    assert hoop_lengths(brief) == pytest.approx([1.16, 1.52, 1.80])
    assert drops_for(brief, hoop_lengths(brief)) == pytest.approx([0.365, 0.265, 0.205])
    text = first_design(brief)
    assert "drops: [36.5, 26.5, 20.5]" in text
    assert "hem: {clearance: [20, 24]}" in text
    # What a first design takes where nobody says otherwise.
    assert "steel: {width: 7 mm, thickness: 0.5 mm}" in text
    assert "count: 8" in text
    assert len(hoop_lengths(SHORT)) == 4
    assert "waistband: {depth: 2.5, overlap: 15.2}" in text


def test_the_first_tapes_of_a_drum_hang_steeply_and_the_others_share_what_is_left() -> None:
    """(110 - 26) / 2 pi = 13.37 out, nine tenths of it down: 18 in of tape. The rest of the way, 11.2 in, is shared
    as 0.376, 0.333, 0.291: 4.20, 3.69 and 3.32 with what rounding left over."""
    drum = replace(SHORT, silhouette="drum", hem=110 * INCH)
    assert in_inches(hoop_lengths(drum)) == [110] * 4
    assert in_inches(drops_for(drum, hoop_lengths(drum))) == [18, 4.25, 3.625, 3.375]


def test_one_hoop_hangs_at_the_hem() -> None:
    """48 / 2 pi = 7.64 out and 23 1/4 down: 24.47."""
    one = replace(SHORT, hoops=1)
    assert in_inches(drops_for(one, hoop_lengths(one))) == [24.5]


def test_a_lantern_is_drawn_in_at_the_hem() -> None:
    """Narrow 0.3057, half turn less 0.9488: at 0.8079 of the way (0.3057 + 0.6943 sin 101.5) / 0.87
    is 83.9 / 74."""
    assert in_inches(hoop_lengths(replace(SHORT, silhouette="lantern")))[2:] == [84, 74]


def test_a_bell_from_the_hip() -> None:
    """2 pi (6.7533 + 1) = 48.72 at the hip, 7 1/2 of 32 in down: 0.2344. From there 41.28 u sqrt(u), where u is
    0.0567, 0.3228, 0.5687, 0.7944 and 1: 49.3, 56.3, 66.4, 77.9, 90."""
    bell = replace(HIPPED, silhouette="bell")
    assert in_inches(hoop_lengths(bell)) == [49, 56, 66, 78, 90]
    # From the waist 26 + 64 s sqrt(s) at 0.2778 and 0.4815: 35.37 and 47.38; the third, 61.1, is wide enough.
    assert "hoops 1 and 2: a bell from the waist would measure 35 3/8 and 47 3/8 in round" in (
        hip_words(bell) or ""
    )


def test_hoops_above_the_hip_clear_what_is_there() -> None:
    """Of twelve the first two hang 3.93 and 6.81 in below the band's edge, the hip 7.5: 26 + 13 x (1 - 0.4765^2) = 36.0
    and 38.9 in round her, 6.244 and 6.736 half broad, with an inch of room 45.5 and 48.6 round. The third hangs under
    the hip: 48.72 + 41.28 x 0.0865 = 52.3."""
    cone = replace(HIPPED, silhouette="cone", hoops=12)
    assert in_inches(hoop_lengths(cone))[:3] == [46, 49, 52]


def test_a_hem_too_wide_is_told_with_what_it_needs() -> None:
    """374 / 2 pi = 59.52 out, nine tenths of it down: 80 1/8 in of tape reach 53.64; three more tapes of 1/2 in."""
    with pytest.raises(
        DesignError, match=r"4 hoops needs 55 1/8 in \(1400\.5 mm\) of height and has 23 1/4 in \(590"
    ):
        first_design(replace(SHORT, hem=400 * INCH, silhouette="drum"))


def refused(**change: Any) -> set[str]:
    try:
        first_design(replace(SHORT, **change))
    except DesignError as fault:
        return {problem.where for problem in fault.problems}
    return set()


@pytest.mark.parametrize(
    ("key", "within", "beyond"),
    [
        ("hoops", 1, 0),
        ("hoops", 20, 21),
        ("tapes", 3, 2),
        ("tapes", 40, 41),
        ("hem", 26.1 * INCH, 26 * INCH),
        ("hip_drop", 50.0, 50.1),
        ("waist", 0.001, 0.0),
        ("clearance", (0.2, 0.2), (0.201, 0.2)),
        # 41 1/2 in less half an inch less 0.1 m, 0.9414 m, and twice the most of nothing.
        ("clearance", (0.94, 0.94), (0.942, 0.942)),
        ("clearance", (0.0, 0.5), (0.0, 0.0)),
        ("clearance", (0.0, 0.5), (0.0, 50.1)),
    ],
)
def test_bounds_of_a_first_design(key: str, within: Any, beyond: Any) -> None:
    with_hip = {"hip": 39 * INCH} if key == "hip_drop" else {}
    assert key not in refused(**with_hip, **{key: within})
    assert key in refused(**with_hip, **{key: beyond})


def test_a_hip_and_its_depth_go_together_either_way() -> None:
    assert refused(hip=39 * INCH) == refused(hip_drop=8 * INCH) == {"hip"}
    assert refused(hip=39 * INCH, hip_drop=8 * INCH) == set()


def test_remarks_stand_below_one_another() -> None:
    assert line("hem:", "low") == "hem:" + " " * 38 + "# low"
    assert line("x" * 41, "a") == "x" * 41 + " # a"
    assert line("x" * 42, "a") == "x" * 42 + "  # a"
    assert quoted('a "b" \\ \x07') == '"a \\"b\\" \\\\ \\U00000007"'


def test_a_skirt_is_written_to_three_figures() -> None:
    assert "skirt: {weight: 1.23 kg}" in first_design(replace(SHORT, skirt=1.2345))
    assert "skirt" not in first_design(SHORT)


def test_numbers_of_the_lantern() -> None:
    """Two rounds of a sine: it starts at the waist's share and ends at the hem's."""
    lantern = SILHOUETTES["lantern"]
    assert lantern(0.0, 0.3) == pytest.approx(0.3)
    assert lantern(1.0, 0.3) == pytest.approx(1.0)
    turn = math.pi - math.asin((0.87 - 0.261) / 0.739)
    assert max(lantern(s / 1000, 0.3) for s in range(1001)) == pytest.approx(1 / 0.87, rel=1e-5)
    assert turn == pytest.approx(math.radians(124.5), abs=1e-3)

"""The court oval by hand: laps, sixteenths, ten ties."""

from __future__ import annotations

from dataclasses import replace

import pytest
from jobs.done import INCH, MASQUE

from cage3d.errors import OutputError
from cage3d.results.made import miniature


def test_what_is_cut_and_bought() -> None:
    """Each hoop and 2 in of lap: 68 + 86 + 100 + 112 + 122 = 488 in.

    No length is listed: one coil with a tenth to spare, 536.8 in, to the sixteenth above: 536 13/16.
    """
    assert MASQUE.cells("cutting", "cut_written_in") == ["68", "86", "100", "112", "122"]
    assert set(MASQUE.cells("order-of-cutting", "bought_written_in")) == {"536 13/16"}
    assert "cut 488 + left over 48¹³⁄₁₆ = bought 536¹³⁄₁₆ in" in MASQUE.words


def test_marks_of_a_lapped_hoop() -> None:
    """Centre back lies an inch from either end, tape 7 a twenty-fourth of 98 beyond, 4 1/12; then 8 1/6 a tape.

    5.08, 13.25, 21.42, 29.58, 37.75, 45.92 in; centre front at 1 + 49; the other end at 2 and at 98.
    """
    marks = dict(
        zip(
            MASQUE.cells("steel-marks", "mark", hoop="3"),
            MASQUE.cells("steel-marks", "from_cut_end_written_in", hoop="3"),
            strict=True,
        )
    )
    right = [marks[f"tape {tape}"] for tape in range(7, 13)]
    assert right == ["5 1/16", "13 1/4", "21 7/16", "29 9/16", "37 3/4", "45 15/16"]
    assert marks["CF"] == "50"
    assert [
        row["from_cut_end_written_in"] for row in MASQUE.rows("steel-marks", hoop="3", mark="other end")
    ] == [
        "2",
        "98",
    ]


def test_three_sets_of_tapes() -> None:
    """6 1/2 + 6 + 6 1/2 + 6 3/4 + 7 1/2 = 33 1/4; 35 3/8; 38 1/4; each 2 in longer to cut.

    Four tapes of two layers each: 8 x (35 1/4 + 37 3/8 + 40 1/4) = 903 in, 22.936 m.
    """
    sets = [MASQUE.cells("tapes", "set", tape=str(tape))[0] for tape in range(1, 13)]
    assert sets == list("ABCCBAABCCBA")
    cuts = [MASQUE.cells("tapes", "cut_written_in", set=one)[0] for one in "ABC"]
    assert cuts == ["35 1/4", "37 3/8", "40 1/4"]
    assert MASQUE.figures("materials", "needed", material="Ribbon for the tapes") == [22.936]


def test_casing_lines() -> None:
    """Strip of 10 mm: its middle 0.197 in above the lower line, the upper line an inch over that.

    Set A: 6.697, 12.697, 19.197, 25.947 and 33.447 in.
    """
    lower = MASQUE.cells("tape-marks", "lower_line_written_in", set="A")
    assert lower == ["6 11/16", "12 11/16", "19 3/16", "25 15/16", "33 7/16"]
    upper = MASQUE.cells("tape-marks", "upper_line_written_in", set="A")
    assert upper == ["5 11/16", "11 11/16", "18 3/16", "24 15/16", "32 7/16"]


def test_the_waistband() -> None:
    """It opens at centre back: 1 in turned, tape 7 a twenty-fourth of 27 in on, then every 2 1/4 in."""
    names = MASQUE.cells("waistband-marks", "mark")
    assert names[:3] == ["CB, buckle", "tape 7", "tape 8"]
    places = MASQUE.cells("waistband-marks", "from_cut_end_written_in")
    assert places[:7] == ["1", "2 1/8", "4 3/8", "6 5/8", "8 7/8", "11 1/8", "13 3/8"]
    assert places[-2:] == ["28", "33"]
    assert "doubled, 1 1/4 in deep, with 6 in for the buckle" in MASQUE.cells("materials", "detail")


def test_ties_are_cut_six_inches_longer() -> None:
    """17, 17, 19, 19, 20, 20, 22, 22, 24 and 24 are 204 in, 5.182 m."""
    for number, cut in enumerate((17, 17, 19, 19, 20, 20, 22, 22, 24, 24), start=1):
        assert f"Tie {number}. From hoop" in MASQUE.words
        assert f"{cut - 6} in between the steels, cut {cut} in." in MASQUE.words
    assert MASQUE.figures("materials", "needed", material="Tie tape") == [5.182]
    assert MASQUE.words.count("with a bow, not a knot") == 1


def test_ties_hold_the_oval() -> None:
    """Front to back the hoop is no deeper between the tied tapes than the tie is long."""
    for hoop, length in enumerate((11, 13, 14, 16, 18), start=1):
        points = {point.tape: point for point in MASQUE.report.hoops[hoop - 1].at_tapes}
        assert points[5].y_m - points[2].y_m <= length * INCH + 1e-5
    assert all(hoop.width_side_side_m > 1.9 * hoop.width_front_back_m for hoop in MASQUE.report.hoops)


def test_what_it_weighs() -> None:
    """Strip of 10 x 0.6 mm is 47.1 g/m: 488 in, 12.395 m, weigh 583.8 g. The skirt as written."""
    assert MASQUE.figures("materials", "weight_kg", material="Spring steel 10 × 0.6 mm") == [0.5838]
    assert MASQUE.report.skirt_kg == pytest.approx(3.0)


def test_what_the_draper_gets() -> None:
    """A twelfth of each length; the knee, 3 1/4 in below hoop 3 of 6 1/2 to hoop 4, half way from 98 to 110.

    Over the cage at tape 3: half the band and the tape, 5/8 + 38 1/4 in, and less where the cloth bridges.
    """
    gores = MASQUE.cells("draper", "length_written_in", measure="gore 3–4, spread")
    assert gores == ["2 1/4", "5 1/2", "7", "8 3/16", "9 3/16", "10"]
    (knee,) = MASQUE.figures("draper", "length_mm", measure="girth", at="knee")
    assert knee / 25.4 == pytest.approx(104, abs=0.4)
    (over,) = MASQUE.figures("draper", "length_mm", measure="waist to hem", at="tape 3 L")
    assert 38.875 - 0.4 < over / 25.4 < 38.875 + 0.02


def test_door_and_stairs() -> None:
    """Sideways it passes a door of 34 in; the hem clears a step of 7 by less than an inch."""
    assert "Sideways she passes" in MASQUE.warning("door")
    assert "clears it by only" in MASQUE.warning("riser")
    assert "Swinging it catches all the same" in MASQUE.warning("riser")
    assert "does not clear" not in MASQUE.warning("riser")


def test_its_miniature_is_as_large_as_the_usual_bed_holds() -> None:
    """50 5/8 in and the base are more than 220 mm at 1:6; at 1:8, the next scale offered, 161 mm and the base."""
    files = miniature(*MASQUE.hung)
    assert all("-1-8-filament" in name for name in files)
    (told,) = (data.decode() for name, data in files.items() if name.endswith(".txt"))
    assert "Made at 1:8, because at 1:6" in told


def test_a_scale_that_is_written_is_kept() -> None:
    settled, report = MASQUE.hung
    printing = settled.cage.design.printing.model_copy(update={"scale": "1:6"})
    design = settled.cage.design.model_copy(update={"printing": printing})
    with pytest.raises(OutputError, match="too large for 220x220x250 mm, the usual bed of filament"):
        miniature(replace(settled, cage=replace(settled.cage, design=design)), report)

"""The bell with a train by hand: two sizes of steel, five lengths of tape, a hem that falls behind."""

from __future__ import annotations

import pytest
from jobs.done import TRAIN


def test_two_coils_are_bought() -> None:
    """Laps of 2 in unless written. Hoops 1 to 5: 54 + 62 + 72 + 85 + 98 = 371 in, with a tenth 408.1.

    To the sixteenth above 408 1/8. Hoop 6 is 110 in of stouter steel, with a tenth 121.
    """
    assert TRAIN.cells("cutting", "cut_written_in") == ["54", "62", "72", "85", "98", "110"]
    assert set(TRAIN.cells("order-of-cutting", "bought_written_in", steel="7 × 0.5 mm")) == {"408 1/8"}
    assert set(TRAIN.cells("order-of-cutting", "bought_written_in", steel="10 × 0.6 mm")) == {"121"}


def test_each_size_weighs_its_own() -> None:
    """27.475 g/m x 9.4234 m and 47.1 g/m x 2.794 m."""
    assert TRAIN.figures("materials", "weight_kg", material="Spring steel 7 × 0.5 mm") == [0.2589]
    assert TRAIN.figures("materials", "weight_kg", material="Spring steel 10 × 0.6 mm") == [0.1316]


def test_five_sets_of_tapes() -> None:
    """Sums of the drops 34, 34 1/2, 36, 37 3/8, 38 3/8; cut 2 in longer; two tapes of two layers of each: 761 in."""
    sets = [TRAIN.cells("tapes", "set", tape=str(tape))[0] for tape in range(1, 11)]
    assert sets == list("ABCDEEDCBA")
    finished = [TRAIN.cells("tapes", "finished_written_in", set=one)[0] for one in "ABCDE"]
    assert finished == ["34", "34 1/2", "36", "37 3/8", "38 3/8"]
    assert [TRAIN.cells("tapes", "cut_written_in", set=one)[0] for one in "ABCDE"] == [
        "36", "36 1/2", "38", "39 3/8", "40 3/8",
    ]  # fmt: skip
    assert TRAIN.figures("materials", "needed", material="Ribbon for the tapes") == [19.329]


def test_the_stouter_strip_moves_its_marks() -> None:
    """Half of 7 mm is 0.138 in, half of 10 mm 0.197. Tape 1: 8.388 for hoop 1, 34.197 for hoop 6."""
    lower = TRAIN.cells("tape-marks", "lower_line_written_in", set="A")
    assert (lower[0], lower[-1]) == ("8 3/8", "34 3/16")
    assert TRAIN.cells("tape-marks", "steel_written_in", set="A")[-1] == "34"


def test_the_waistband() -> None:
    """Tape 6 a twentieth of 28 in beyond the buckle at 1 in, 2.4; then every 2.8 in."""
    places = TRAIN.cells("waistband-marks", "from_cut_end_written_in")
    assert places[:3] == ["1", "2 3/8", "5 3/16"]
    assert places[-1] == "34"


def test_the_skirt_by_its_cloth() -> None:
    """Mean drops 8.725, 5.75, 5.725, 5.55, 5.275, 5.025 in between girths of 28, 52, 60, 70, 83, 96, 108.

    Half of 349, then 322, 372.1, 424.6, 472.1, 512.6 and 648 below the hem: 2925.9 sq in, 1.8877 m2. Two and a half
    times as full, of 275 g/m2, seven tenths on the cage: 0.908 kg.
    """
    assert TRAIN.report.skirt_kg == pytest.approx(0.9084, abs=0.0005)


def test_the_hem_falls_behind() -> None:
    """The longest tapes are 4 3/8 in longer than the shortest: so much lower hangs the back, and 5/8 more at most."""
    hem = TRAIN.report.hoops[-1]
    fall = (hem.height_front_m - hem.height_back_m) / 0.0254
    assert 4.375 - 0.1 < fall < 5.1
    assert "5 in to 10 in is wanted" in TRAIN.warning("hem_clearance")
    assert "Lengthen the drops by 3/8 in all round" in TRAIN.warning("hem_clearance")


def test_stairs_floor_and_door() -> None:
    """A back 5 3/8 in up does not clear a step of 7, a front of 10 3/8 does; 6 in of cloth lie on the floor behind."""
    assert "coming down, the back of the hem, 5 3/8 in above the floor, does not clear it" in TRAIN.warning(
        "riser"
    )
    assert "front" not in TRAIN.warning("riser")
    assert "at the back, by up to 5/8 in" in TRAIN.warning("skirt_on_floor")
    assert "tilt or squeeze" in TRAIN.warning("door")


def test_what_the_draper_gets() -> None:
    """A tenth of each length. The back is longer to the hem and, from the waist's height on, alike to the floor."""
    gores = TRAIN.figures("draper", "length_mm", measure="gore 5–6, spread")
    assert [gore / 25.4 for gore in gores] == pytest.approx([2.8, 5.2, 6, 7, 8.3, 9.6, 10.8], abs=0.01)
    (front,) = TRAIN.figures("draper", "length_mm", measure="waist to hem", at="front")
    (back,) = TRAIN.figures("draper", "length_mm", measure="waist to hem", at="back")
    assert back - front == pytest.approx(4.375 * 25.4, abs=8)

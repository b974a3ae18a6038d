"""The harvest cage by hand: open hoops, tubes, prices, millimetres."""

from __future__ import annotations

import pytest
from jobs.done import HARVEST


def test_what_is_cut_and_bought() -> None:
    """An open hoop takes nothing more, nor do ends that meet in a tube.

    1080 + 1250 + 1480 + 1650 = 5460; with a tenth to spare 6006. One length of 10 m holds it for 14; two of
    5 m hold it too and cost 16. 10000 - 5460 = 4540 is left.
    """
    assert HARVEST.figures("cutting", "cut_mm") == [1080, 1250, 1480, 1650]
    assert HARVEST.cells("cutting", "ends") == ["2 tips", "2 tips", "1 tube 30 mm", "1 tube 30 mm"]
    assert set(HARVEST.figures("order-of-cutting", "bought_mm")) == {10000}
    assert "cut 5460 + left over 4540 = bought 10000 mm (10.00 m)" in HARVEST.words


def test_marks_of_the_open_hoops() -> None:
    """Seven stretches between eight tapes share what lies between the overhangs, 12.7 mm unless written.

    (1080 - 2 x 12.7) / 7 = 150.66 and (1250 - 2 x 15) / 7 = 174.29; centre back half way along.
    """
    first = [12.7, 163.4, 314.0, 464.7, 540, 615.3, 766.0, 916.6, 1067.3]
    assert HARVEST.figures("steel-marks", "from_cut_end_mm", hoop="1") == pytest.approx(first, abs=0.1)
    second = [15, 189.3, 363.6, 537.9, 625, 712.1, 886.4, 1060.7, 1235]
    assert HARVEST.figures("steel-marks", "from_cut_end_mm", hoop="2") == pytest.approx(second, abs=0.1)


def test_marks_of_the_closed_hoops() -> None:
    """Ends meet at centre back, half a stretch from tape 5: 1480 / 16 = 92.5, then 185 from tape to tape."""
    names = ["CB", "tape 5", "tape 6", "tape 7", "tape 8", "CF", "tape 1", "tape 2", "tape 3", "tape 4", "CB"]
    places = [0, 92.5, 277.5, 462.5, 647.5, 740, 832.5, 1017.5, 1202.5, 1387.5, 1480]
    assert HARVEST.cells("steel-marks", "mark", hoop="3") == names
    assert HARVEST.figures("steel-marks", "from_cut_end_mm", hoop="3") == pytest.approx(places, abs=0.051)


def test_tapes_and_ribbon() -> None:
    """160 + 120 + 110 + 95 = 485, cut 20 + 485 + 20. Strip of 6 mm lies on the lower line, its middle 3 mm above."""
    assert set(HARVEST.figures("tapes", "cut_mm")) == {525}
    assert HARVEST.figures("tape-marks", "upper_line_mm") == [143, 263, 373, 468]
    assert HARVEST.figures("tape-marks", "lower_line_mm") == [163, 283, 393, 488]
    # 8 tapes of two layers: 8.4 m, and a tenth.
    assert HARVEST.figures("materials", "to_buy", material="Ribbon for the tapes") == [9.24]


def test_the_waistband_opens_where_the_hoops_do() -> None:
    """25.4 mm turned under, a tape every 80 mm from 40 on; 640 + 150 = 790 to cut."""
    names = [
        "CF, buckle",
        "tape 1",
        "tape 2",
        "tape 3",
        "tape 4",
        "CB",
        "tape 5",
        "tape 6",
        "tape 7",
        "tape 8",
    ]
    assert HARVEST.cells("waistband-marks", "mark") == [*names, "CF again", "tongue's end"]
    along = [0, 40, 120, 200, 280, 320, 360, 440, 520, 600, 640]
    places = [*(25.4 + place for place in along), 790]
    assert HARVEST.figures("waistband-marks", "from_cut_end_mm") == pytest.approx(places, abs=0.051)


def test_what_it_weighs_and_costs() -> None:
    """Strip 6 x 0.5 mm of 7850 kg/m3 is 23.55 g/m, its cover 6: 5.46 m weigh 161.3 g.

    Two tubes and four tips, with a tenth and whole: 3 at 0.50, 5 at 0.15. 9.24 m of ribbon at 1.20 are 11.09, the
    buckle 2: with 14 for steel 29.34.
    """
    assert HARVEST.figures("materials", "weight_kg", material="Spring steel 6 × 0.5 mm") == [0.1613]
    assert HARVEST.cells("materials", "to_buy", material="Tube connectors") == ["3"]
    assert HARVEST.cells("materials", "to_buy", material="Tips") == ["5"]
    assert HARVEST.rows("materials", material="Lap connectors") == []
    assert "All that has a price 29.34" in HARVEST.words


def test_the_skirt_by_its_cloth() -> None:
    """Girths 640 at the waist, 8/7 x 1054.6 = 1205.3 and 8/7 x 1220 = 1394.3 of the open hoops, 1480, 1650.

    Between them 0.1476 (half of it borne by the band), 0.1560, 0.1581 and 0.1487 m2, below the hem 0.1320:
    0.6686 m2, twice as full, of 215 g/m2: 0.287 kg.
    """
    assert HARVEST.report.skirt_kg == pytest.approx(0.2875, abs=0.0005)


def test_how_high_the_hem_hangs() -> None:
    """On circles of 101.9, 191.8, 221.9, 235.5 and 262.6 mm the drops fall 132.3, 116.2, 109.2 and 91.1 mm.

    From the band's lower edge, 919 - 12.5 = 906.5 mm up, the hem lies 457.7 mm up in the middle.
    """
    hem = HARVEST.report.hoops[-1]
    sides = (hem.height_front_m, hem.height_left_m, hem.height_back_m, hem.height_right_m)
    assert sum(sides) / 4 == pytest.approx(0.4577, abs=0.008)
    # The waist is 10 mm higher in front than behind, and so hangs every hoop: lower behind.
    assert all(hoop.height_front_m > hoop.height_back_m + 0.008 for hoop in HARVEST.report.hoops)


def test_what_the_draper_gets() -> None:
    """An eighth of the waist, and the stretch between two tapes of each hoop."""
    spreads = [80, 150.7, 174.3, 185, 206.25]
    assert HARVEST.figures("draper", "length_mm", measure="gore 2–3, spread") == pytest.approx(
        spreads, abs=0.1
    )
    (waist,) = HARVEST.figures("draper", "length_mm", measure="girth", at="waist")
    assert waist == 640
    for hoop, length in ((3, 1480), (4, 1650)):
        (girth,) = HARVEST.figures("draper", "length_mm", measure="girth", at=f"hoop {hoop}")
        assert girth == pytest.approx(length, abs=2.0)


def test_notes_and_door() -> None:
    assert "Second cast wears the same cage." in HARVEST.words
    assert HARVEST.warning("door") == ""  # 54 cm and two of skirt through 76
    assert HARVEST.warning("riser") == ""  # 45 cm over a step of 18

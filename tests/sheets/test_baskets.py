"""Sheets of a cage of two baskets, by hand: what is cut and marked, in what order it is made, who wears it."""

from __future__ import annotations

import csv
from functools import cache
from io import StringIO

import pytest
from two_baskets import OTHER, data, hung, larger_at, making_of

from cage3d.design.read import read_data
from cage3d.report.cautions import wearing_cautions
from cage3d.shape.lay_out import lay_out
from cage3d.sheets import make_sheets
from cage3d.sheets.assembly.steps import assembly_steps
from cage3d.sheets.delivery import spares, tags
from cage3d.sheets.making import prepared
from cage3d.sheets.outline import outline_of
from cage3d.sheets.pages.marks import direction
from cage3d.sheets.steel import steel_cut


@cache
def tables(side: str) -> dict[str, list[dict[str, str]]]:
    made = make_sheets(*hung(side)).tables
    return {name: list(csv.DictReader(StringIO(text.decode()))) for name, text in made.items()}


def marks(side: str, hoop: int) -> list[tuple[str, float]]:
    rows = [row for row in tables(side)["steel-marks.csv"] if row["hoop"] == str(hoop)]
    return [(row["mark"], float(row["from_cut_end_mm"])) for row in rows]


def test_each_bow_is_marked_round_its_outside_from_its_first_end() -> None:
    """Evenly over 560 mm; at a fifth and seven tenths of 700 mm from the front, and of 640 mm seen in a mirror."""
    assert marks("left", 1) == [
        ("front + tape 1", 0),
        ("tape 2", 186.7),
        ("tape 3", 373.3),
        ("back + tape 4", 560),
    ]
    assert marks("left", 2) == [
        ("back + tape 5", 0),
        ("tape 6", 186.7),
        ("tape 7", 373.3),
        ("front + tape 8", 560),
    ]
    assert marks("left", 3) == [
        ("front + tape 1", 0),
        ("tape 2", 140),
        ("tape 3", 490),
        ("back + tape 4", 700),
    ]
    assert marks("left", 4) == [
        ("back + tape 5", 0),
        ("tape 6", 192),
        ("tape 7", 512),
        ("front + tape 8", 640),
    ]


def test_what_is_cut_and_bought() -> None:
    """Steel 560 + 560 + 700 + 640 mm; 8 tapes of 250 + 100 + 30 + 20 mm, doubled; ties with 6 in more on each."""
    cuts = [(row["hoop"], float(row["cut_mm"]), row["tips"]) for row in tables("left")["cutting.csv"]]
    assert cuts == [("1", 560, "2"), ("2", 560, "2"), ("3", 700, "2"), ("4", 640, "2")]
    needed = {row["material"]: row["needed"] for row in tables("left")["materials.csv"]}
    assert (needed["Spring steel 7 × 0.5 mm"], needed["Tips"]) == ("2.460", "8")
    assert needed["Ribbon for the tapes"] == "6.400"
    assert needed["Tie tape"] == "0.965"  # 340 + 320 + 2 x 152.4


def test_tapes_of_either_basket_are_marked_for_its_own_hoops() -> None:
    rows = [(row["set"], row["hoop"], row["steel_mm"]) for row in tables("left")["tape-marks.csv"]]
    assert rows == [("A", "1", "250"), ("A", "3", "350"), ("B", "2", "250"), ("B", "4", "350")]


def test_a_mirrored_cage_has_mirrored_sheets() -> None:
    """What is told of hoops 1 and 3 is told of 2 and 4, marks counted from the other end; front and back stay."""
    cuts = [(row["hoop"], row["cut_mm"]) for row in tables("right")["cutting.csv"]]
    assert cuts == [("1", "560"), ("2", "560"), ("3", "640"), ("4", "700")]
    assert [at for _, at in marks("right", 4)] == [700 - at for _, at in reversed(marks("left", 3))]
    heights = [
        {(int(row["hoop"]), int(row["tape"])): float(row["predicted_height_mm"]) for row in told}
        for told in (tables(side)["fitting-record.csv"] for side in OTHER)
    ]
    for (hoop, tape), height in heights[0].items():
        twin = hoop + 1 if hoop % 2 else hoop - 1
        assert heights[1][twin, 9 - tape] == pytest.approx(height, abs=0.11)
    draper = [
        {(row["measure"], row["at"]): float(row["length_mm"]) for row in tables(side)["draper.csv"]}
        for side in OTHER
    ]
    for level in ("hoops 1 and 2", "hoops 3 and 4"):
        assert draper[0]["girth", level] == pytest.approx(draper[1]["girth", level], abs=0.11)
        fuller = draper[0]["quarter front to her left, spread", level]
        assert fuller == pytest.approx(draper[1]["quarter her right to front, spread", level], abs=0.11)
    assert fuller > draper[0]["quarter her right to front, spread", "hoops 3 and 4"] + 5


def test_one_basket_after_the_other_is_threaded() -> None:
    steps = {step.title: step.text for step in assembly_steps(making_of("left"))}
    assert steps["Thread hoops 1, 3"].startswith(
        "One after the other, from hoop 1 down to hoop 3. Stands at her left, open towards her: thread from tape 1 to"
        " tape 4, sew both ends fast there."
    )
    assert "Stands at her right, open towards her: thread from tape 5 to tape 8" in steps["Thread hoops 2, 4"]
    assert (
        "tapes 1, 2, 3 and 4 on the wearer's left and tapes 5, 6, 7 and 8 on her right"
        in steps["Before threading"]
    )
    assert "the lowest hoops, 3 and 4, should hang" in steps["Hang and balance"]


def test_baskets_that_differ_are_told_apart() -> None:
    """By a hoop, or by a tie alone; alike they prove each other."""
    own = {step.title: step.text for step in assembly_steps(making_of("left"))}["The two baskets"]
    assert own.startswith(
        "Hoops 1, 3 stand at her left and hoops 2, 4 stand at her right. They are not alike"
    )
    for longer_tie, words in ((320, "one the mirror image of the other"), (330, "They are not alike")):
        cage = lay_out(larger_at("left", 640, longer_tie))
        making = prepared(cage, hung("left")[1], None)
        steps = {step.title: step.text for step in assembly_steps(making)}
        assert words in steps["The two baskets"]
        assert ("Both baskets hang alike" in steps["Hang and balance"]) == (longer_tie == 320)


def test_what_goes_with_them() -> None:
    making = making_of("left")
    assert [tag.text for tag in tags(making)][2:4] == ["700 mm, her left, open", "640 mm, her right, open"]
    assert "a spare steel for hoop 3, cut 700 mm and capped, a spare steel for hoop 4, cut 640 mm" in spares(
        making
    )


RING = {
    "left": [("back", 25), ("other end", 50), ("tape 4", 112.5), ("tape 1", 287.5), ("front", 375)],
    "right": [("back", 25), ("other end", 50), ("tape 6", 112.5), ("tape 7", 287.5), ("front", 375)],
}


@pytest.mark.parametrize(
    ("side", "way"),
    [
        ("left", "at her left, from its back along its side next to her to its front, on round its outside"),
        (
            "right",
            "at her right, from its back round its outside to its front, on along its side next to her",
        ),
    ],
)
def test_a_ring_of_its_own_runs_from_its_back_against_the_clock(side: str, way: str) -> None:
    """700 mm lapped by 50: tapes an eighth and three eighths of it from the back, which lies half a lap in."""
    rings = [{"length": 700, "beside": own, "join": {"overlap": 50}} for own in OTHER]
    cut = steel_cut(lay_out(read_data(data(rings, [250]))), list(OTHER).index(side))
    assert [(mark.text, pytest.approx(1000 * mark.at)) for mark in cut.marks][:5] == RING[side]
    assert (1000 * cut.cut, direction(cut)) == (pytest.approx(750), way)


def test_hoops_and_tapes_are_numbered_outside_their_basket() -> None:
    outline = outline_of(hung("left")[0])
    assert outline.at_her_right == {1, 3}
    assert sorted(outline.in_baskets) == list(range(8))
    assert all((outline.in_baskets[tape][0] > 0.1) == (tape < 4) for tape in range(8))


def test_who_wears_them_is_told_of_doors_and_chairs() -> None:
    settled, report = hung("left")
    told = dict(wearing_cautions(settled.cage.design, report, lambda metres: f"{1000 * metres:.0f} mm"))
    wide = f"{1000 * report.width_side_side_m:.0f} mm from side to side"
    assert wide in told["Crowding and doors"]
    assert f"sideways it is {1000 * report.width_front_back_m:.0f} mm deep" in told["Crowding and doors"]
    assert "front hoop" not in told["Trips and stairs"]
    assert "back hoop" not in told["Sitting and rising"]
    assert "chair without arms" in told["Sitting and rising"]

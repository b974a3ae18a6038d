"""A pair of baskets as `cage3d new` draws it: by hand, each side the other's mirror, and what is refused."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from cage3d.design.first.baskets import drawn_bows, sizes_of, tie_of
from cage3d.design.first.bows import bow_of
from cage3d.design.first.brief import Brief
from cage3d.design.first.starter import first_cage, first_design
from cage3d.design.read import read_text
from cage3d.errors import DesignError
from cage3d.units import INCH

# Half her hip is 6.753 in broad and 4.443 deep (`test_first_half_hoops`); 41 1/2 less half a band and 24 are 17 down.
BASKETS = Brief(
    26 * INCH, 41.5 * INCH, 0.0, (23 * INCH, 25 * INCH), "baskets", 39 * INCH, 8 * INCH, 3, 8,
    out=8 * INCH, deep=14 * INCH,
)  # fmt: skip


def test_sizes_of_the_bows() -> None:
    """Levels share 1.5, 1.1 and 0.85 of 3.45; sizes go straight from 0.45 to 1: 0.689, 0.864 and 1.

    Out 5.51, 6.92 and 8 in. Deep 12.10 and 14; the first would be 9.65 and takes the room that she needs 7.39 in down,
    where she is 26 + 13 x (1 - (1 - 7.39 / 7.5)^2) = 39.00 in round: 2 x (4.443 x 39.00 / 39 + 1).
    """
    found = [(out / INCH, deep / INCH) for out, deep in sizes_of(BASKETS)]
    assert found == [pytest.approx(pair, abs=6e-3) for pair in ((5.51, 10.886), (6.916, 12.104), (8.0, 14.0))]


def test_the_lowest_bow_begins_beside_her() -> None:
    """0.4 of half her hip, 2.70 in, lies between the ends' line and her side: 10.70 in deep on a chord of 14."""
    bow = drawn_bows(BASKETS)[-1]
    assert (bow.chord / bow.length, bow.depth / bow.chord) == pytest.approx(
        (14 / (bow_of(14.0, 10.7).length), 10.7 / 14), rel=1e-3
    )
    assert round(2 * bow.length / INCH) == pytest.approx(2 * bow.length / INCH)


def test_a_tie_goes_round_her_side() -> None:
    """From 7 in before to 7 behind, 4.05 out, round 6.753: longer than the chord, shorter than three sides of a box."""
    bow = drawn_bows(BASKETS)[-1]
    tie = tie_of(BASKETS, bow, 7.5 * INCH) / 0.97
    assert bow.chord < tie < bow.chord + 2 * 2.7 * INCH


def test_left_and_right_are_mirrored() -> None:
    cage = first_cage(BASKETS)
    assert cage.drops[:4] == cage.drops[:3:-1]
    lengths = [hoop.length for hoop in cage.hoops]
    assert lengths[0::2] == lengths[1::2]
    assert [tie.length for tie in cage.ties[0::2]] == [tie.length for tie in cage.ties[1::2]]


def test_the_hoops_of_both_sides_as_they_are_written() -> None:
    text = first_design(BASKETS)
    design = read_text(text)
    assert "a pair of baskets on 3 hoops each" in text
    assert [hoop.beside for hoop in design.hoops] == ["left", "right"] * 3
    assert [hoop.opening for hoop in design.hoops] == ["right", "left"] * 3
    assert {hoop.ends for hoop in design.hoops} == {"sewn"}
    assert {len(row) for row in design.tapes.drops} == {3}
    assert [(tie.from_, tie.to, tie.runs) for tie in design.ties[2:4]] == [
        ("hoop 3 tape 1", "hoop 3 tape 4", "left"),
        ("hoop 4 tape 5", "hoop 4 tape 8", "right"),
    ]


@pytest.mark.parametrize(
    ("change", "key", "why"),
    [
        ({"hip": None, "hip_drop": None}, "hip", "bears on the wearer"),
        ({"hoops": 1}, "hoops", "a pair of baskets has 2 hoops each or more"),
        ({"tapes": 7}, "tapes", "an even number of tapes, 6 or more"),
        ({"tapes": 4}, "tapes", "an even number of tapes, 6 or more"),
        ({"deep": 10 * INCH}, "deep", "with room before and behind her hip she needs 10 7/8 in"),
        ({"out": 19 * INCH}, "out", "a basket this deep stands out from her hip by 18 1/4 in"),
        ({"out": None}, "out", "no cage has this size"),
        ({"deep": None}, "deep", "no cage has this size"),
        (
            {"out": 16 * INCH, "clearance": (30 * INCH, 30 * INCH)},
            "out",
            "a pair of baskets this wide on 3 hoops",
        ),
    ],
)
def test_what_is_refused(change: dict[str, Any], key: str, why: str) -> None:
    with pytest.raises(DesignError) as fault:
        first_cage(replace(BASKETS, **change))
    told = {problem.where: problem.why for problem in fault.value.problems}
    assert why in told[key]

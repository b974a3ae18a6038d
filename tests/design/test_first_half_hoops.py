"""Half hoops behind as `cage3d new` draws them: bows by the elastica, hers by hand, and what is refused."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from cage3d.design.first.body import body_at
from cage3d.design.first.bows import Bow, bow_of
from cage3d.design.first.brief import Brief
from cage3d.design.first.half_hoops import drawn_bows
from cage3d.design.first.starter import first_cage, first_design
from cage3d.design.read import read_text
from cage3d.errors import DesignError
from cage3d.units import INCH

# Half her hip's breadth: 39 / 1.097 / 5.2646 = 6.753 in, and 0.658 of it, 4.443, is half its depth.
HALF = Brief(
    26 * INCH, 41.5 * INCH, 0.0, (8 * INCH, 10 * INCH), "half-hoops", 39 * INCH, 8 * INCH, 5, 4, out=13 * INCH
)


def test_a_bow_by_the_tables_of_elliptic_integrals() -> None:
    """Modulus sin 45: K = 1.85407, E = 1.35064, so that the chord is 0.45695 of the steel and the depth 0.38138."""
    bow = Bow(1.0, math.sqrt(0.5))
    assert (bow.chord, bow.depth) == pytest.approx((0.45695, 0.38138), abs=1e-5)
    assert bow.at(np.array([0.0, 0.5, 1.0])) == pytest.approx(
        np.array([[-0.228475, 0.0], [0.0, 0.38138], [0.228475, 0.0]]), abs=1e-5
    )


def test_the_bow_of_a_chord_and_a_depth() -> None:
    """Half as far from end to end as it is long, a strip rises by 0.37330643 of its length."""
    assert bow_of(0.5, 0.37330643).length == pytest.approx(1.0, rel=1e-6)


def test_a_bow_bends_as_the_string_pulls() -> None:
    """The moment of the string's pull grows with the way off its line, and the curvature with it: by 4 K^2 / L^2."""
    around = np.linspace(0.1, 0.9, 81)
    points = Bow(1.0, math.sqrt(0.5)).at(around)
    first = np.gradient(points, around, axis=0)
    second = np.gradient(first, around, axis=0)
    bent = np.abs(first[:, 0] * second[:, 1] - first[:, 1] * second[:, 0])
    assert (bent / points[:, 1])[5:-5] == pytest.approx(4 * 1.85407**2, rel=4e-3)


def test_a_bow_beyond_a_half_circle_is_widest_off_its_ends() -> None:
    assert Bow(1.0, 0.6).breadth == pytest.approx(Bow(1.0, 0.6).chord)
    assert Bow(1.0, 0.85).breadth > 1.2 * Bow(1.0, 0.85).chord


def test_the_hem_is_a_bow_wider_than_she_is() -> None:
    """15 % wider than her hip with an inch of room on either side: 2 x 7.753 x 1.15 = 17.83 in from end to end.

    Half as far from end to end as it is long it rises by 0.74661 of that, 13.31 in: 35.66 in long, cut to 35 1/2.
    """
    hem = drawn_bows(replace(HALF, out=0.7466129 * 17.832 * INCH))[-1]
    assert hem.length / INCH == pytest.approx(35.5)
    assert hem.chord / hem.length == pytest.approx(0.5, abs=1e-3)


def test_she_herself_below_the_waist() -> None:
    """At the hip; at the knee, 0.55 of the hip's height, 0.67 of the breadth and 0.55 of the depth [trade]."""
    at_hip = body_at(HALF, 7.5 * INCH)
    assert (at_hip.half_breadth / INCH, at_hip.back / INCH) == pytest.approx((6.753, 4.443), abs=2e-3)
    at_knee = body_at(HALF, (41.0 - 0.55 * 33.5) * INCH)
    assert (at_knee.half_breadth / INCH, at_knee.back / INCH) == pytest.approx(
        (0.67 * 6.753, 0.55 * 4.443), abs=3e-3
    )


def test_drops_and_laces_of_the_first_hoop() -> None:
    """The band is 2 x 4.808 in wide; the first bow's end lies 7.753 x (1 + 0.15 / 3.6) = 8.076 in from the middle and
    8.889 in down: the side tape is the root of 8.889^2 + 3.268^2, 9.47 in.

    A lace from end to end would be 16.15 in long were she not there; behind her hip it is longer, and no longer than
    round the box that she stands in, 16.15 + 2 x 4.443.
    """
    cage = first_cage(HALF)
    assert cage.drops[0][0] / INCH == pytest.approx(9.47, abs=0.08)
    assert cage.drops[0] == pytest.approx(cage.drops[3])
    lace = cage.ties[0]
    assert (lace.hoop, lace.tapes, lace.runs) == (1, (1, 4), "behind")
    assert 16.15 < lace.length / INCH / 0.97 < 16.15 + 2 * 4.443


def test_every_hoop_stands_behind_her_between_the_side_tapes() -> None:
    text = first_design(replace(HALF, tapes=5))
    design = read_text(text)
    assert design.tapes.stations == (0.25, 0.375, 0.5, 0.625, 0.75)
    assert {(hoop.opening, hoop.ends) for hoop in design.hoops} == {("front", "sewn")}
    assert [(tie.from_, tie.to, tie.runs) for tie in design.ties[:2]] == [
        ("hoop 1 tape 1", "hoop 1 tape 5", "behind"),
        ("hoop 2 tape 1", "hoop 2 tape 5", "behind"),
    ]
    assert "on 5 half hoops" in text


@pytest.mark.parametrize(
    ("change", "key", "why"),
    [
        ({"hip": None, "hip_drop": None}, "hip", "bears on the wearer"),
        ({"out": 5 * INCH}, "out", "with room behind her hip she needs 5 1/2 in"),
        ({"out": 24 * INCH}, "out", "a half hoop stands out by 23 1/4 in"),
        ({"out": None}, "out", "no cage has this size"),
        ({"tapes": 3}, "tapes", "half hoops have 4 tapes or more"),
        ({"out": 23 * INCH, "clearance": (33 * INCH, 33 * INCH)}, "out", "a cage behind her this wide on 5"),
    ],
)
def test_what_is_refused(change: dict[str, Any], key: str, why: str) -> None:
    with pytest.raises(DesignError) as fault:
        first_cage(replace(HALF, **change))
    told = {problem.where: problem.why for problem in fault.value.problems}
    assert why in told[key]

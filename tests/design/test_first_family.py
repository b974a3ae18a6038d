"""Every kind of first design: what is drawn and written of it, and what it refuses."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import pytest

from cage3d.design import rules
from cage3d.design.first.brief import Brief
from cage3d.design.first.drawn import tied_hoops, tied_tapes
from cage3d.design.first.kinds import KINDS
from cage3d.design.first.starter import first_cage, first_design
from cage3d.design.read import read_text
from cage3d.errors import DesignError
from cage3d.units import INCH

# 41 1/2 less half a band and 9 are 32 in from the band's edge to the hem.
WOMAN = Brief(
    26 * INCH,
    41.5 * INCH,
    90 * INCH,
    (8 * INCH, 10 * INCH),
    hip=39 * INCH,
    hip_drop=8 * INCH,
    hoops=5,
    tapes=10,
)
DIPPED = replace(WOMAN, silhouette="dipped", dip=2 * INCH, tapes=8)
OVAL = replace(WOMAN, silhouette="oval", hem=0.0, wide=42 * INCH, deep=21 * INCH)
BACK = replace(WOMAN, silhouette="back-weighted", behind=0.6)
HALF = replace(WOMAN, silhouette="half-hoops", hem=0.0, out=13 * INCH, tapes=4)
BASKETS = replace(HALF, silhouette="baskets", deep=14 * INCH, out=8 * INCH, tapes=8)
GORED = replace(WOMAN, silhouette="gored", gores=6)
BRIEFS = {
    **{kind: replace(WOMAN, silhouette=kind) for kind in KINDS},
    "dipped": DIPPED, "oval": OVAL, "back-weighted": BACK, "half-hoops": HALF, "baskets": BASKETS, "gored": GORED,
}  # fmt: skip


@pytest.mark.parametrize("units", ["in", "cm", "mm"])
@pytest.mark.parametrize("kind", KINDS)
def test_every_kind_reads_back_without_a_remark(kind: str, units: str) -> None:
    brief = replace(BRIEFS[kind], units=units)
    design = read_text(first_design(brief))
    assert rules.remarks(design) == []
    lines = brief.gores or brief.tapes
    hoops = 10 if kind == "baskets" else 5  # five each
    assert (len(design.hoops), design.tapes.count, design.units) == (hoops, lines, units)
    assert design.wearer.waist == pytest.approx(26 * INCH, abs=0.0006)


def test_a_dipped_hem_is_wished_side_by_side() -> None:
    """9 in at the front's middle, 2 in lower at the back: 7, and 8 at the sides.

    The first hoop is level; the others share the dip as they share the way, 1.1, 1.0167, 0.9333 and 0.85 of 3.9: hoop 2
    dips by 2 x 1.1 / 3.9 = 0.56 in.
    """
    text = first_design(DIPPED)
    assert "- {hoop: 5, front: 9, left: 8, back: 7, right: 8}" in text
    assert "hem: {front: [8, 10], sides: [7, 9], back: [6, 8]}" in text
    wanted = {wish.hoop: wish for wish in read_text(text).wanted}
    assert sorted(wanted) == [2, 3, 4, 5]
    assert (wanted[2].front or 0.0) - (wanted[2].back or 0.0) == pytest.approx(0.564 * INCH, abs=INCH / 8)


def test_drops_of_a_dipped_cage_are_longer_at_the_back() -> None:
    """Under one another the hoops are alike at the sides and differ by the dip between front and back.

    Round hoops on an oval waist: tape 1 stands 22.5 degrees from the front, tape 8 mirrors it, tape 4 stands 22.5 from
    the back. From hoop 4 to 5 the way down is 33 x 0.85 / 5.4 = 5.19, the dips 1.564 and 2: tape 1 falls 5.19 - 0.218
    cos 22.5 = 4.99, tape 4 5.40.
    """
    cage = first_cage(replace(DIPPED, hip=None, hip_drop=None))
    lengths = [hoop.length / INCH for hoop in cage.hoops]
    out = (lengths[4] - lengths[3]) / math.tau
    down = 33.0 * 0.85 / 5.4
    sunk = (2.0 - 2.0 * (3.9 - 0.85) / 3.9) / 2 * math.cos(math.radians(22.5))
    assert cage.drops[0][4] / INCH == pytest.approx(math.hypot(down - sunk, out), abs=1e-4)
    assert cage.drops[3][4] / INCH == pytest.approx(math.hypot(down + sunk, out), abs=1e-4)
    assert cage.drops[0] == pytest.approx(cage.drops[7])


def test_an_oval_is_drawn_from_its_two_widths() -> None:
    """42 by 21 in: an ellipse of 21 and 10.5 is 21 x 4.844224 = 101.73 round, 101 1/2 to the half inch; the band's
    depth is 0.709 of its breadth. Ties from hoop 2 on, both sides."""
    cage = first_cage(OVAL)
    assert cage.hoops[-1].length / INCH == pytest.approx(101.5)
    assert cage.hoops[-1].told == "drawn 42 x 21"
    assert [tie.hoop for tie in cage.ties] == [2, 2, 3, 3, 4, 4, 5, 5]
    assert [tie.tapes for tie in cage.ties[:2]] == [(2, 4), (9, 7)]
    assert cage.wanted == ({"hoop": 5, "side_to_side": 42 * INCH, "front_to_back": 21 * INCH},)


def test_a_gored_dome_has_levels_and_no_tapes() -> None:
    """The dome's hoops on equal seams: its drops, one below the other from the waistband.

    Two of five are open at the front, 7 in of the 20 cm that are usual: shorter by that.
    """
    dome = first_cage(replace(WOMAN, silhouette="dome"))
    text = first_design(GORED)
    design = read_text(text)
    assert "tapes" not in text.replace("in place of tapes", "").replace("No tapes", "")
    assert design.cloth is not None
    assert (design.cloth.gores, design.cloth.fabric, design.line) == (6, 0.14, "seam")
    assert design.cloth.gap == pytest.approx(7 * INCH)
    assert [hoop.opening for hoop in design.hoops] == ["front", "front", "none", "none", "none"]
    circles = [hoop.length + (7 * INCH if hoop.opening == "front" else 0.0) for hoop in design.hoops]
    assert circles == pytest.approx([hoop.length for hoop in dome.hoops])
    front, sides, back = first_cage(GORED).drops
    assert front == back == pytest.approx([sum(dome.drops[0][: n + 1]) for n in range(5)])
    lower = [side - level for side, level in zip(sides, front, strict=True)]
    assert lower == pytest.approx([0.006, 0.006, 0.0, 0.0, 0.0])


@pytest.mark.parametrize(("gores", "gap"), [(4, 7), (6, 7), (8, 5), (12, 3), (16, 0)])
def test_an_opening_lies_within_one_gore(gores: int, gap: int) -> None:
    """The first hoop is 53 in round: 6.6, 4.4 and 3.3 in a gore, less 3 cm (1.18 in) to whole inches; 2.1 is none."""
    cage = first_cage(replace(GORED, gores=gores))
    assert cage.gap / INCH == pytest.approx(gap)
    assert [hoop.placed.get("opening") for hoop in cage.hoops[:3]] == [
        *(2 * ["front" if gap else None]),
        None,
    ]


def test_hoops_in_millimetres_are_told_in_millimetres() -> None:
    told = first_cage(replace(OVAL, units="mm", wide=1.06, deep=0.53)).hoops[-1].told
    assert told == "drawn 1060 x 530"


@pytest.mark.parametrize(
    ("tapes", "first"),
    [
        (8, 2),
        (10, 2),
        (12, 2),
        (14, 3),
        (20, 4),
    ],  # nearest to 0.15 of the girth: 0.1875, 0.15, 0.125, 0.179, 0.175
)
def test_where_ties_begin(tapes: int, first: int) -> None:
    assert tied_tapes(replace(OVAL, tapes=tapes)) == (first, tapes + 1 - first)


def test_which_hoops_are_tied_behind_her() -> None:
    assert [tied_hoops(replace(BACK, hoops=hoops)) for hoops in (4, 5, 6, 7)] == [
        (2, 3),
        (3, 4),
        (3, 5),
        (4, 6),
    ]


@pytest.mark.parametrize(
    ("brief", "change", "key", "why"),
    [
        (BACK, {"hip": None, "hip_drop": None}, "hip", "bears on the wearer"),
        (BACK, {"hoops": 3}, "hoops", "a back-weighted cage has 4 hoops or more"),
        (BACK, {"tapes": 9}, "tapes", "an even number of tapes, 8 or more"),
        (OVAL, {"tapes": 6}, "tapes", "an oval cage has an even number of tapes"),
        (OVAL, {"hoops": 3}, "hoops", "an oval cage has 4 hoops or more"),
        (BACK, {"behind": 0.5}, "behind", "more than half of its depth"),
        (BACK, {"behind": 0.69}, "behind", "at most two thirds"),
        (DIPPED, {"dip": 8 * INCH}, "dip", "would lie on it at the back"),
        (GORED, {"gores": 2}, "gores", "the cloth has 3 to 24 gores"),
        (GORED, {"gores": 25}, "gores", "the cloth has 3 to 24 gores"),
        (GORED, {"gores": None}, "gores", "the cloth has 3 to 24 gores"),
        (DIPPED, {"dip": None}, "dip", "no cage has this size"),
        (OVAL, {"wide": -1.0}, "wide", "no cage has this size"),
        (OVAL, {"deep": 43 * INCH}, "deep", "wider than deep"),
        (OVAL, {"wide": 12 * INCH, "deep": 12 * INCH}, "wide", "with room round her hip she needs 15 1/2 in"),
        (OVAL, {"wide": 200 * INCH}, "wide", "an oval cage this wide on 5 hoops needs"),
        (BACK, {"hem": 500 * INCH}, "hem", "a back-weighted cage this wide on 5 hoops needs"),
        (DIPPED, {"hem": 900 * INCH}, "hem", "a dipped dome this wide"),
    ],
)  # fmt: skip
def test_what_a_kind_refuses(brief: Brief, change: dict[str, Any], key: str, why: str) -> None:
    with pytest.raises(DesignError) as fault:
        first_cage(replace(brief, **change))
    told = {problem.where: problem.why for problem in fault.value.problems}
    assert why in told[key]

"""Which steel suits, by what the chosen one and its neighbours do when they are settled."""

from __future__ import annotations

from dataclasses import replace
from types import SimpleNamespace

import pytest
from rigs import STRIP_10, design_of

from cage3d.design import stock
from cage3d.design.stock import Strip
from cage3d.foresee import suiting
from cage3d.foresee.suiting import (
    KINKS,
    SOFT,
    own_steels,
    stiffer_for_their_weight,
    suit,
    suiting_steel,
)
from cage3d.report import measure, with_suiting
from cage3d.report.steels import suiting_lines
from cage3d.settle import settle
from cage3d.shape.lay_out import lay_out

NODES = 48


@pytest.fixture(autouse=True)
def coarse(monkeypatch):
    monkeypatch.setattr(suiting, "lay_out", lambda design: lay_out(design, NODES))


def ring(**more):
    """A hem of 1.5 m on eight tapes of 0.3 m under a skirt of 0.5 kg."""
    steel = STRIP_10 | {"width": 0.007, "thickness": 0.0005, "yield_stress": 1200e6}
    return design_of(waist=1.1, zero=1.2, drops=[[0.3]] * 8, lengths=[1.5], steel=steel,
                     skirt={"weight": 0.5}, **more)  # fmt: skip


def test_of_equal_weight_the_thicker_and_no_softer_heavier_one() -> None:
    """b t^3 in mm4: 0.625 (5 x 0.5), 0.512 (8 x 0.4, heavier), 1.08 (5 x 0.6), 0.75 (6 x 0.5, as heavy)."""
    strips = [Strip(b / 1000, t / 1000) for b, t in ((8, 0.4), (5, 0.5), (6, 0.5), (5, 0.6))]
    assert stiffer_for_their_weight(strips) == [Strip(0.005, 0.0005), Strip(0.005, 0.0006)]


def test_of_two_as_stiff_the_lighter_one() -> None:
    """1 x 1 mm and 8 x 0.5 mm: 1 x 1^3 = 8 x 0.5^3; the other has four times its section."""
    square, flat = Strip(0.001, 0.001), Strip(0.008, 0.0005)
    assert stiffer_for_their_weight([flat, square]) == [square]


def test_the_very_lightest_where_that_does(monkeypatch) -> None:
    strips = tuple(Strip(0.005, thickness) for thickness in (0.0003, 0.0004, 0.0005))
    monkeypatch.setattr(stock, "STRIPS", strips)
    monkeypatch.setattr(
        suiting, "suit", lambda _design, strip, _wanted: SimpleNamespace(strip=strip, fault="")
    )
    assert suiting_steel(ring(), 1.5).strip == strips[0]


def test_a_push_that_kinks_the_steel() -> None:
    """At all that it bears before it keeps a bend; a tenth less is none."""
    kinks, holds = ([SimpleNamespace(dent=0.01, strain=strain)] for strain in (1.0, 0.9))
    bare = settle(lay_out(ring(), NODES))
    assert suiting.fault_of(bare, kinks, 0.0, 0.0) == suiting.KINKS
    assert suiting.fault_of(bare, holds, 0.0, 0.0) == ""


def test_the_lightest_that_is_stiff_enough(monkeypatch) -> None:
    """What is chosen gives at most 50 mm; the next lighter one gives more. Mass: 1.5 m of its section."""
    sizes = [(0.005, 0.0003), (0.005, 0.0004), (0.006, 0.0005), (0.008, 0.0006), (0.0127, 0.0007)]
    strips = [Strip(*size) for size in sizes]
    monkeypatch.setattr(stock, "STRIPS", tuple(strips))
    found = suiting_steel(ring(), 1.5)
    place = strips.index(found.strip)
    assert not found.fault
    assert place > 0
    assert max(one.dent for one in found.gives) <= 0.050
    lighter = suit(ring(), strips[place - 1], 1.5)
    assert lighter.fault == SOFT
    assert any(one.dent is None or one.dent > 0.050 for one in lighter.gives)
    assert found.mass == pytest.approx(1.5 * found.strip.width * found.strip.thickness * 7850.0)
    # E t / (2 sigma): 200 GPa and 1200 MPa.
    assert found.least_radius == pytest.approx(200e9 * found.strip.thickness / 2.4e9)


def test_thick_steel_in_a_short_hoop_is_too_near_a_kink() -> None:
    """A ring of 1.5 m is bent to 0.2387 m; 2.4 mm of that steel kinks at 0.2 m: 84 %, over two thirds."""
    found = suit(ring(), Strip(0.010, 0.0024), 1.5)
    assert found.bent == pytest.approx(0.2 / 0.2387, rel=0.02)
    assert found.fault == KINKS


def test_her_own_sizes_are_tried_and_told() -> None:
    lengths = [{"length": 10.0, "width": 0.005, "thickness": 0.0003}, {"length": 10.0},
               {"length": 5.0, "width": 0.010, "thickness": 0.0010}]  # fmt: skip
    design = ring(buying={"steel": lengths})
    soft, stiff = own_steels(design, 1.5)
    assert (soft.strip, soft.fault) == (Strip(0.005, 0.0003), SOFT)
    assert (stiff.strip, stiff.fault) == (Strip(0.010, 0.0010), "")


def test_the_report_says_what_was_found(monkeypatch) -> None:
    settled = settle(lay_out(ring(), NODES))
    monkeypatch.setattr(stock, "STRIPS", (Strip(0.005, 0.0003),))
    report = with_suiting(measure(settled), settled, 2.0)
    assert report.suiting is not None
    (said,) = suiting_lines(report)
    assert "No steel from stock does" in said
    assert "2 times the skirt carried" in said
    assert "the stiffest, 5 x 0.3 mm, gives" in said
    does = replace(report.suiting.steel, fault="")
    told = suiting_lines(replace(report, suiting=replace(report.suiting, steel=does, own=(does,))))
    assert told[0].startswith("The lightest steel from stock for at most 50 mm under 200 g")
    assert told[1].startswith("Of your own, 5 x 0.3 mm would do: it gives")

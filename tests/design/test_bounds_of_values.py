"""The bounds of every kind of value from both sides, and what is taken where a key is left out (docs/keys.md)."""

from __future__ import annotations

from typing import Any

import pytest
from hand.cage import PLAIN, RING, changed

from cage3d.design.read import read_data
from cage3d.errors import DesignError

SMALL, LARGE, ZERO, NEGATIVE = "too small to be made", "this is more than", "of zero cannot", "less than zero"


def steel(**more: Any) -> dict[str, Any]:
    return {"steel": more}


def tapes(**more: Any) -> dict[str, Any]:
    return {"tapes": more}


def hoop(**more: Any) -> dict[str, Any]:
    return {"hoops": [RING | more]}


def skirt(**more: Any) -> dict[str, Any]:
    return {"skirt": {"cloth": "100 g/m2"} | more}


def coil(length: str, **more: Any) -> dict[str, Any]:
    return {"buying": {"currency": "EUR", "steel": [{"length": length} | more]}}


def door(width: object) -> dict[str, Any]:
    return {"stage": {"door": width}}


def overlap(length: object) -> dict[str, Any]:
    return {"tapes": {"allowance": {"top": length}}}


# What reads, what does not, and what is said of it.
BOUNDS: list[tuple[dict[str, Any], dict[str, Any], str]] = [
    (door("0.01 mm"), door("0.009 mm"), SMALL),
    (door("50 m"), door("50.1 m"), f"{LARGE} 50 m"),
    (door("50 m"), door(0), ZERO),
    (door("50 m"), door(-1), NEGATIVE),
    (overlap(0), overlap("0.009 mm"), SMALL),
    (overlap("0.01 mm"), overlap(-1), NEGATIVE),
    (overlap("50 m"), overlap("50.1 m"), f"{LARGE} 50 m"),
    (coil("1 mm"), coil("0.9 mm"), SMALL),
    (coil("1000 m"), coil("1001 m"), f"{LARGE} 1000 m"),
    (coil("1 m", count=1, price=0), coil("1 m", price=-0.01), NEGATIVE),
    (hoop(carries=0), hoop(carries="10001 kg"), f"{LARGE} 10 t"),
    (tapes(weight="10 kg/m"), tapes(weight="10.1 kg/m"), f"{LARGE} 10 kg/m"),
    (tapes(weight=0), tapes(weight="-1 g/m"), NEGATIVE),
    (steel(modulus="1 MPa", yield_stress="50 MPa"), steel(modulus="0.9 MPa"), SMALL),
    (steel(modulus="1000000 GPa"), steel(modulus="1000001 GPa"), f"{LARGE} 1000000 GPa"),
    (steel(density=100), steel(density=99), SMALL),
    (steel(density="25 g/cm3"), steel(density=25001), f"{LARGE} 25000 kg/m3"),
    (steel(poisson=0), steel(poisson=-0.01), "not between 0 and 0.5"),
    (steel(poisson=0.5), steel(poisson=0.51), "not between 0 and 0.5"),
    (skirt(fullness=1), skirt(fullness=0.99), "not between 1 and 20"),
    (skirt(fullness=20), skirt(fullness=20.1), "not between 1 and 20"),
    (skirt(on_cage=0), skirt(on_cage="101 %"), f"{LARGE} the whole"),
    (skirt(on_cage="100 %"), skirt(on_cage=-0.1), NEGATIVE),
    (skirt(cloth="20 kg/m2"), skirt(cloth="20.1 kg/m2"), f"{LARGE} 20 kg/m2"),
    (skirt(cloth="1 g/m2"), skirt(cloth="0 g/m2"), ZERO),
    (tapes(count="4.0"), tapes(count="4.5"), "a whole number"),
    (tapes(count=4.0), tapes(count=True), "a whole number"),
    (coil("1 m", count=1), coil("1 m", count=0), "at least 1"),
    (coil("1 m", count="999999999"), coil("1 m", count="1999999999"), "a whole number"),
    ({"buying": {"currency": "US$"}}, {"buying": {"currency": "USDX$"}}, "no currency"),
    ({"buying": {"currency": "kr."}}, {"buying": {"currency": "krona"}}, "no currency"),
    ({"buying": {"currency": "eur"}}, {"buying": {"currency": "$$"}}, "no currency"),
    ({"buying": {"currency": "A$"}}, {"buying": {"currency": "Ä$"}}, "no currency"),
    ({"buying": {"currency": "€"}}, {"buying": {"currency": "e1r"}}, "no currency"),
    ({"notes": "a\tb\nc"}, {"notes": "a\x07"}, "control characters"),
    ({"notes": 12}, {"notes": True}, "a text belongs here"),
    ({"notes": 10**199}, {"notes": 10**200}, "far too long"),
    ({"name": "a.b"}, {"name": "."}, "a name cannot hold '..'"),
    ({"name": "a"}, {"name": "a\u2028b"}, "on one line"),
    # A sign and its accent are one letter once put together, two as written.
    ({"notes": "e\u0301" * 5000}, {"notes": "e\u0301" * 5001}, "longer than 5000 letters"),
]


@pytest.mark.parametrize(("within", "beyond", "said"), BOUNDS, ids=[f"{n}" for n in range(len(BOUNDS))])
def test_reads_within_its_bounds_and_not_beyond(
    within: dict[str, Any], beyond: dict[str, Any], said: str
) -> None:
    read_data(changed(PLAIN, within))
    with pytest.raises(DesignError) as caught:
        read_data(changed(PLAIN, beyond))
    assert said in str(caught.value.problems[0])


def test_what_is_taken_where_a_key_is_left_out() -> None:
    """As docs/keys.md has it: 1 in is 25.4 mm."""
    plain = {
        "name": "a", "wearer": {"waist": "0.6 m", "waist_height": "1 m"},
        "steel": {"width": "10 mm", "thickness": "0.5 mm"}, "tapes": {"count": 4, "drops": ["0.2 m"]},
        "hoops": [{"length": "1 m"}], "skirt": {"cloth": "taffeta"}, "buying": {"steel": [{"length": "9 m"}]},
    }  # fmt: skip
    design = read_data(plain)
    band, steel, tapes, hoop = design.waistband, design.steel, design.tapes, design.hoops[0]
    assert (band.depth, band.overlap) == pytest.approx((0.0254, 0.1524))
    assert (steel.strands, steel.coating, steel.modulus, steel.poisson) == (1, 0.0, 205e9, 0.29)
    assert (steel.density, steel.yield_stress, steel.set_radius) == (7850.0, 1.2e9, None)
    assert (steel.threaded, tapes.stations, tapes.rest, tapes.doubled) == ("with", "between", "bottom", True)
    assert (tapes.casing, tapes.width, tapes.allowance.top, tapes.allowance.bottom) == pytest.approx(
        (0.0254,) * 4
    )
    assert (tapes.weight, tapes.stretch) == (None, None)
    assert (hoop.opening, hoop.join, hoop.join_at, hoop.carries, hoop.rest) == (
        "none",
        None,
        "back",
        0.0,
        None,
    )
    assert hoop.overhang == pytest.approx(0.0127)
    (skirt,) = design.skirts
    assert (skirt.layers, skirt.cut, skirt.fullness, skirt.below_hem) == (1, "gored", 2.0, 0.0)
    assert (skirt.on_cage, skirt.hoops, skirt.lies) == (1.0, None, None)
    assert (design.hem.clearance, design.stage.door, design.ties, design.panels) == (None, None, (), ())
    assert (design.buying.spare, design.buying.steel[0].count, design.buying.prices) == (0.1, None, {})
    assert (design.printing.scale, design.printing.process) == ("1:6", "filament")


def test_a_band_of_no_depth_is_drawn_as_a_thin_one() -> None:
    assert read_data(changed(PLAIN, {"waistband": {"depth": 0}})).waistband.drawn_depth == 0.002
    assert read_data(changed(PLAIN, {"waistband": {"depth": 3}})).waistband.drawn_depth == pytest.approx(
        0.003
    )


def test_a_design_shows_itself_in_one_line() -> None:
    assert repr(read_data(PLAIN)) == "Design('by hand', 1 hoops, 4 tapes)"

"""The numbers of the trade a second time, in the units their sources have them in: a slip in either table is seen."""

from __future__ import annotations

import pytest

from cage3d.design import stock, trade
from cage3d.design.hoop_materials import HOOP_MATERIALS, MaterialName
from cage3d.design.models import Stretch

INCHES = {
    "BAND_DEPTH": 1, "BAND_OVERLAP": 6, "BAND_TURNING": 1, "SKIRT_OUT": 1, "CASING_RIDE": 1 / 16,
    "CASING_HEIGHT": 1, "TAPE_WIDTH": 1, "TAPE_ALLOWANCE": 1, "OVERHANG": 0.5,
    "LAP": 2, "SOCKET": 2, "TIP_LENGTH": 0.5, "TIE_WIDTH": 0.5, "TIE_EXTRA": 6, "HIP_ROOM": 0.75, "HIP_ROOM_PLANNED": 1,
    "TAPE_SPARE": 0.5, "TRIP_HEIGHT": 4, "HEEL_SPACING": 6, "HEEL_HEM": 10, "RISER_ROOM": 1, "DRESSER_LENGTH": 100,
    "SLIT": 9, "ACCESSIBLE_DOOR": 32, "SEEN_SLACK": 1 / 16, "HEM_TOLERANCE": 1 / 16, "DETOUR": 1 / 8,
}  # fmt: skip
MILLIMETRES = {
    "TUBE_WALL": 0.4, "TIP_WALL": 0.6, "RIBBON_THICKNESS": 0.5, "TIE_THICKNESS": 1, "LACE_WIDTH": 6,
    "LACE_THICKNESS": 2, "BELTING_THICKNESS": 2, "LACE_ENDS": 1000,
    "CLOTH_WIDTH": 1500, "OPENING_GAP": 200, "SEAM_ALLOWANCE": 15, "CASING_TURNING": 7, "BAND_HOLDS": 30,
}  # fmt: skip
GRAMS = {  # each, a metre or a square metre
    "RIBBON_AREA": 280, "BELTING_AREA": 600, "WEB_AREA": 30, "BUCKLE": 20, "CONNECTOR": 2, "TIP": 1, "EYELET": 0.3,
    "LACE_MASS": 5, "THREAD_MASS": 0.040,
}  # fmt: skip
PLAIN = {
    "WAIST_DEPTH_PER_BREADTH": 0.709, "WAIST_FULLNESS": 1.061, "HIP_DEPTH_PER_BREADTH": 0.658,
    "HIP_FULLNESS": 1.097, "LAP_STIFFENING": 2, "TUBE_STIFFENING": 10, "TUBE_DENSITY": 8000, "PLUG_DENSITY": 1000,
    "COVER_DENSITY": 1300,
    "EYELETS_PER_PANEL": 16, "THREAD_PER_SEAM": 3, "TILT": 2, "ON_EDGE": 60, "STRAIN": 2 / 3,
    "CLOTH_FRICTION": 0.3, "FRICTION_ON_HER": 0.3, "USUAL_KNEE": 0.37, "THICKEST_KNEE": 0.55,
    "NECK_OVER_WAIST": 0.36, "ANKLE_BELOW_KNEE": 0.8, "SHOE_PER_ANKLE": 1.7, "SHOE_SLOPE": 2.2,
    "CLOTH_EASE": 0.01, "FEWEST_GORES": 3, "MOST_GORES": 24, "CROTCH_PER_HIP": 0.938, "KNEE_PER_HIP": 0.55,
}  # fmt: skip
GRAMS_OF_CLOTH = {
    "tulle": 20, "net": 20, "organza": 35, "chiffon": 35, "cotton lawn": 100, "muslin": 100, "silk taffeta": 95,
    "taffeta": 95, "linen": 200, "cotton sateen": 215, "cotton twill": 215, "wool suiting": 275, "silk satin": 185,
    "duchesse": 185, "brocade": 300, "velvet": 350, "calico": 140,
    "cotton sheeting": 130,
}  # fmt: skip
PERCENT_OF_RIBBON = {  # under a kilogram
    "grosgrain": 0.5, "polyester ribbon": 0.6, "petersham": 1, "twill tape": 2, "cotton twill": 2, "bias tape": 6,
}  # fmt: skip


# Percent of the way down, and of the hip's breadth and depth.
LEGS = {
    "LEGS_ABOVE_KNEE": [(0, 97, 85), (50, 84, 70), (100, 67, 55)],
    "LEGS_BELOW_KNEE": [(28, 67, 55), (80, 44, 40), (100, 50, 60)],
}
# Percent of the way from waist to neck, of the hip's breadth and depth, fullness, and percent forward.
TORSO = [
    (20, 74, 76, 210, 2), (42, 80, 94, 220, 6), (62, 86, 86, 230, 3), (76, 92, 66, 240, -2), (84, 80, 52, 220, -4),
    (89, 46, 46, 200, -4), (94, 35, 44, 200, -3), (100, 33, 42, 200, 2),
]  # fmt: skip
# Percent of a turn by her left: the middle and the reach to either side; and of the way from waist to hip.
PADS = {
    "hips": ([(25, 17), (75, 17)], 60),
    "left": ([(25, 17)], 60),
    "right": ([(75, 17)], 60),
    "back": ([(50, 22)], 55),
    "roll": ([(50, 45)], 35),
    "round": ([(50, 1e8)], 35),
}


def test_the_numbers_of_the_trade() -> None:
    twice = {
        **{name: value * 0.0254 for name, value in INCHES.items()},
        **{name: value / 1000 for name, value in (MILLIMETRES | GRAMS).items()},
        **PLAIN,
    }
    assert {name: getattr(trade, name) for name in twice} == pytest.approx(twice)


@pytest.mark.parametrize("name", LEGS)
def test_the_shape_of_legs(name: str) -> None:
    percent = [[100 * share for share in row] for row in getattr(trade, name)]
    assert percent == [pytest.approx(row) for row in LEGS[name]]


def test_the_shape_of_a_torso() -> None:
    assert [[100 * share for share in row] for row in trade.TORSO] == [pytest.approx(row) for row in TORSO]


def test_where_padding_lies() -> None:
    assert set(trade.PAD_PLACES) == set(trade.PAD_LEVEL) == set(PADS)
    for place, (arcs, level) in PADS.items():
        assert [(100 * middle, 100 * reach) for middle, reach in trade.PAD_PLACES[place]] == [
            pytest.approx(arc) for arc in arcs
        ]
        assert 100 * trade.PAD_LEVEL[place] == pytest.approx(level)


@pytest.mark.parametrize(("cloth", "grams"), GRAMS_OF_CLOTH.items())
def test_the_weights_of_cloth(cloth: str, grams: float) -> None:
    assert stock.cloth_weight(cloth) == pytest.approx(grams / 1000)


@pytest.mark.parametrize(("ribbon", "percent"), PERCENT_OF_RIBBON.items())
def test_how_ribbons_stretch(ribbon: str, percent: float) -> None:
    assert stock.tape_stretch(ribbon) == pytest.approx((percent / 100, 1.0))


def test_no_cloth_and_no_ribbon_is_left_out_of_these_tables() -> None:
    assert set(stock.CLOTHS) == set(GRAMS_OF_CLOTH)
    assert set(stock.RIBBONS) == set(PERCENT_OF_RIBBON)


def test_hoop_steel_comes_in_seven_widths_of_four_thicknesses_from_the_lightest() -> None:
    assert [strip.width * 1000 for strip in stock.STRIPS] == pytest.approx(4 * [5, 6, 7, 8, 10, 12, 12.7])
    assert [strip.thickness * 1000 for strip in stock.STRIPS[::7]] == pytest.approx([0.4, 0.5, 0.6, 0.7])
    assert len(stock.STRIPS) == 28


def test_a_tape_is_one_layer_of_ribbon_or_two() -> None:
    # 280 g/m2, 25 mm wide: 7 g a metre.
    assert stock.tape_weight(0.025, doubled=False) == pytest.approx(0.007)
    assert stock.tape_weight(0.025) == stock.tape_weight(0.025, True) == pytest.approx(0.014)


def test_a_tube_is_a_wall_round_the_strip() -> None:
    # Round 10 x 0.5 mm and twice 0.4 mm each way: 2 (10 + 0.5 + 0.8) = 22.6 mm of wall 0.4 mm, 30 mm long.
    assert stock.tube_mass(0.030, 0.010, 0.0005) == pytest.approx(0.0226 * 0.0004 * 0.030 * 8000)


def test_a_stretch_written_out_is_taken_as_it_is() -> None:
    assert stock.tape_stretch(Stretch(by=0.02, at=3.0)) == (0.02, 3.0)


# (usual GPa, ends), (usual kg/m3, ends), g/m of cover, least radius in thicknesses or diameters.
OF_HOOPS = {
    "flat steel": ((200, 205, 210), (7850, 7850, 7850), (0, 0, 0), 0),
    "covered steel": ((200, 205, 210), (7850, 7850, 7850), (3, 5, 8), 0),
    "round cane": ((1, 2, 3), (400, 525, 650), (0, 0, 0), 30),
    "plastic rod": ((2, 2.5, 3), (1380, 1380, 1380), (0, 0, 0), 40),
    "plastic hose": ((0.8, 0.95, 1.1), (950, 950, 950), (0, 0, 0), 15),
    "plastic strip": ((2, 2.5, 3), (1380, 1380, 1380), (0, 0, 0), 40),
}


@pytest.mark.parametrize("name", HOOP_MATERIALS)
def test_what_hoops_are_made_of(name: MaterialName) -> None:
    of, (modulus, density, cover, radius) = HOOP_MATERIALS[name], OF_HOOPS[name]
    assert of.modulus == pytest.approx([1e9 * one for one in modulus])
    assert of.density == pytest.approx(density)
    assert of.cover == pytest.approx([one / 1000 for one in cover])
    assert of.least_radius == radius
    assert of.yield_stress == (1200e6 if of.is_steel else None)

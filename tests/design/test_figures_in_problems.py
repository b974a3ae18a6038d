"""Which part of the design a rule names, what it repeats, and every figure it tells: worked by hand.

Of two hoops, so that a number of a hoop or tape that is off by one shows. Words may change, figures may not.
"""

from __future__ import annotations

import re
from typing import Any

import pytest
from hand.cage import PLAIN, RING, changed, two_hoops

from cage3d.design.read import read_data
from cage3d.design.rules import remarks
from cage3d.errors import DesignError, Problem

# Waist 600, band 20 mm deep with its middle 1 m up; hoops of 1000 and 1200 mm, 31.83 mm farther out, on four tapes
# at centre front, left, back and right of 200 and 100 mm; casings of 25.4 mm, strip 10 x 0.5 mm at 200 GPa.
TWO = changed(PLAIN, two_hoops())
FOUR_HEIGHTS = {"front": 1000, "left": 1010, "back": 990, "right": 1005}
HIP = {"hip": 800, "hip_drop": 200}
BETWEEN = {"tapes": {"stations": "between"}}


def wearer(**more: Any) -> dict[str, Any]:
    return {"wearer": more}


def second(**more: Any) -> dict[str, Any]:
    """The second hoop with keys of its own."""
    return {"hoops": [RING, {"length": 1200, "join": "none"} | more]}


def tapes(**more: Any) -> dict[str, Any]:
    return {"tapes": more}


def rows(third: list[float], fourth: list[float] | None = None) -> dict[str, Any]:
    return tapes(drops=[[200, 100], [200, 100], third, fourth or [200, 100]])


def tie(**more: Any) -> dict[str, Any]:
    """The second of two; the first is in order."""
    first = {"from": "hoop 1 tape 1", "to": "hoop 1 tape 2", "length": 150}
    return {"ties": [first, {"from": "hoop 2 tape 1", "to": "hoop 2 tape 2", "length": 150} | more]}


def panels(**more: Any) -> dict[str, Any]:
    first = {"tapes": [1, 2], "hoops": [1], "tightness": 0.1}
    return {"panels": [first, {"tapes": [3, 4], "hoops": [1, 2]} | more]}


def skirts(**more: Any) -> dict[str, Any]:
    return {"skirt": [{"weight": "1 kg"}, more]}


def pad(**more: Any) -> dict[str, Any]:
    """On a hip of 800 mm round, 200 below the waist; the first is in order."""
    first = {"place": "back", "thickness": 20, "height": 100}
    return wearer(**HIP) | {"padding": [first, first | more]}


Case = tuple[dict[str, Any], str, str, str]

# What is written; the part named; what is repeated; the figures told after it, in their order.
REFUSED: list[Case] = [
    # 299 / 25.4 = 11.77, to the nearest eighth 11 3/4.
    (wearer(waist=299), "wearer.waist", "299 mm", "11 3/4, 299"),
    (wearer(waist_height=2501), "wearer.waist_height", "2501 mm", "98 1/2, 2501"),
    (wearer(waist_height=FOUR_HEIGHTS | {"right": 2501}), "wearer.waist_height", "2501 mm", "98 1/2, 2501"),
    # Nine tenths of the lowest of four heights: 0.9 x 990 = 891, 990 / 25.4 = 38.98.
    (wearer(waist_height=FOUR_HEIGHTS, knee_height=892), "wearer.knee_height", "892 mm", "39, 990"),
    (wearer(**HIP, knee=441), "wearer.knee", "441 mm", "31 1/2, 800"),
    (wearer(hip=700, hip_drop=900), "wearer.hip_drop", "900 mm", "39 3/8, 1000"),
    (wearer(high_hip=650, high_hip_drop=900), "wearer.high_hip_drop", "900 mm", "39 3/8, 1000"),
    (wearer(**HIP, high_hip=650, high_hip_drop=200), "wearer.high_hip_drop", "200 mm", ""),
    (wearer(waist_breadth=401, waist_depth=100), "wearer.waist_breadth", "401 mm", ""),
    (wearer(waist_breadth=100, waist_depth=401), "wearer.waist_breadth", "100 mm", ""),
    # Twice the diagonal, 2 x 316.2, to twice 300 + 100.
    (
        wearer(hip=881, hip_drop=200, hip_breadth=300, hip_depth=100), "wearer.hip", "881 mm", "300, 100, 632, 800",
    ),
    ({"waistband": {"depth": 251}}, "waistband.depth", "251 mm", "9 7/8, 251, 1"),
    ({"waistband": {"overlap": 1001}}, "waistband.overlap", "1001 mm", "6"),
    ({"hem": {"clearance": [201, 200]}}, "hem.clearance", "201 mm to 200 mm", "8, 10"),
    ({"hem": {"clearance": [200, 1000]}}, "hem.clearance", "1000 mm", "8, 10"),
    (wearer(waist_height=FOUR_HEIGHTS) | {"hem": {"clearance": [1, 990]}}, "hem.clearance", "990 mm", "8, 10"),
    (second(carries="20.1 kg"), "hoops[1].carries", "20.1 kg", "20.1, 20"),
    # Tapes and hoops.
    (tapes(count=1), "tapes.count", "1", "2, 8"),
    (tapes(count=61), "tapes.count", "61", "60, 60, 8, 12"),
    ({"hoops": [RING] * 41, "tapes": {"drops": [26] * 41}}, "hoops", "41 hoops", "40, 40"),
    (tapes(drops=[[200, 100]] * 3), "tapes.drops", "3 lists of drops", "4, 4"),
    (tapes(drops=[200]), "tapes.drops", "1 drop", "2"),
    ({"hoops": [RING]}, "tapes.drops", "2 drops", "1"),
    (rows([200]), "tapes.drops[2]", "1 drop for tape 3", "2"),
    (tapes(stations=[0, 0.3, 0.6]), "tapes.stations", "3 stations", "4"),
    (tapes(stations=[0, 0.3, 0.6, 1]), "tapes.stations[3]", "1", "1, 0"),
    (tapes(stations=[0, 0.5, 0.25, 0.75]), "tapes.stations[2]", "0.25", "3, 2, 0.5"),
    (tapes(stations=[0.2] * 4) | second(opening="front"), "tapes.stations[1]", "0.2", "2, 1, 0.2"),
    (second(opening="back"), "hoops[1].opening", "back", "3, 2"),
    (second(opening="front"), "hoops[1].opening", "front", "1, 2"),
    (BETWEEN | second(opening="front", join={"tube": 30}), "hoops[1].join", "join", "2"),
    (second(join={"tube": 30, "overlap": 30}), "hoops[1].join", "join", "1 1/4, 2"),
    (second(join={"overlap": 301}), "hoops[1].join", "join", "2, 2"),
    # Twice 540 leaves a tenth of 1200.
    (BETWEEN | second(opening="front", overhang=540), "hoops[1].overhang", "540 mm", "2, 1/2"),
    (BETWEEN | second(opening="front", overhang=539), "hoops[1].overhang", "539 mm", "2, 1/2"),
    # The share of the girth that lies open, and half of the hoop's length: 15 % behind and 50 % in front of 1200.
    (
        tapes(stations=[0.1, 0.3, 0.45, 0.6]) | second(opening="back", overhang=91), "hoops[1].overhang", "91 mm",
        "2, 1/2",
    ),
    (
        tapes(stations=[0.1, 0.3, 0.45, 0.6]) | second(opening="front", overhang=301), "hoops[1].overhang", "301 mm",
        "2, 1/2",
    ),
    # With no tape past centre back 60 % lie open there.
    (
        tapes(stations=[0.05, 0.15, 0.3, 0.45]) | second(opening="back", overhang=361), "hoops[1].overhang", "361 mm",
        "2, 1/2",
    ),
    # What tapes can reach.
    (second(length=599), "hoops[1].length", "599 mm", "2, 600"),
    # 31.83 + 12.7 = 44.5.
    (tapes(drops=[200, 31]), "tapes.drops[0][1]", "31 mm", "31, 32, 1, 2, 45"),
    (second(length=800) | tapes(drops=[200, 31]), "tapes.drops[0][1]", "31 mm", "31, 32, 1, 2, 45"),
    # Hoop 1 hangs 10 + sqrt(200^2 - 63.66^2) = 199.6 under the waist.
    (wearer(hip=1100, hip_drop=100), "hoops[0].length", "1000 mm", "1, 200, 1100, 5"),
    # A part of the way down to the hip: 600 + 602 x 199.6 / 300 = 1000.5.
    (wearer(hip=1202, hip_drop=300), "hoops[0].length", "1000 mm", "1, 200, 1001, 5"),
    # From the high hip on: 950 + 250 x 49.6 / 150 = 1032.7.
    (
        wearer(high_hip=950, high_hip_drop=150, hip=1200, hip_drop=300), "hoops[0].length", "1000 mm",
        "1, 200, 1033, 5",
    ),
    # Padding.
    ({"padding": [{"place": "back", "thickness": 20, "height": 100}] * 2}, "padding", "2 of them", ""),
    (
        wearer(**HIP) | {"padding": [{"place": "back", "thickness": 1, "height": 9}] * 13}, "padding", "13", "12",
    ),
    (pad(thickness=251), "padding[1].thickness", "251 mm", "15, 40, 40, 80"),
    # 0.55 of 200 down is 100 under the band: as much above as below.
    (pad(height=201), "padding[1].height", "201 mm", "200"),
    (pad(height=201, drop=300), "padding[1].height", "201 mm", ""),
    # Hoop 1 at 199.6: she is 600 + 300 x 0.998 = 899.4 round there; (1000 - 899.4) / 2 pi = 16.01.
    (
        wearer(hip=900, hip_drop=200) | {"padding": [{"place": "round", "thickness": 17, "height": 100, "drop": 200}]},
        "padding[0].thickness", "17 mm", "16, 1",
    ),
    # Skirts.
    (skirts(weight="20.1 kg"), "skirt[1].weight", "20.1 kg", "20.1, 20"),
    ({"skirt": [{"weight": "12 kg"}, {"weight": "8.1 kg"}]}, "skirt", "20.1 kg", "20.1, 20"),
    ({"skirt": {"weight": "21 kg"}}, "skirt.weight", "21 kg", "21, 20"),
    (skirts(cloth="100 g/m2", layers=21), "skirt[1].layers", "21", "20, 1, 2"),
    (skirts(cloth="tafetta"), "skirt[1].cloth", "tafetta", "120, 2"),
    (skirts(), "skirt[1]", "skirt", "0.8"),
    ({"skirt": [{"weight": "1 kg"}] * 11}, "skirt", "11 skirts", "10"),
    (skirts(weight="1 kg", hoops=[1, 3]), "skirt[1].hoops", "[1, 3]", "3, 2, 1"),
    (skirts(weight="1 kg", hoops=[2, 2]), "skirt[1].hoops", "[2, 2]", ""),
    (skirts(weight="1 kg", lies=[0.2, 0.3, 0.5]), "skirt[1].lies", "3 shares", "4"),
    (
        skirts(weight="1 kg", lies=[0.25, 0.25, 0.25, 0.3]), "skirt[1].lies", "25 + 25 + 25 + 30 %",
        "105, 100, 25, 50, 25",
    ),
    (
        skirts(weight="1 kg", lies={"front": 0.2, "sides": 0.5, "back": 0.25}), "skirt[1].lies", "20 + 50 + 25 %",
        "95, 100, 25, 50, 25",
    ),
    # Tapes that stretch: half of it under half the weight.
    (tapes(stretch={"by": 0.01, "at": "49 g"}), "tapes.stretch.at", "0.049 kg", "1"),
    (tapes(stretch={"by": 0.302, "at": "2 kg"}), "tapes.stretch.by", "30.2 %", "15.1, 1, 0.3, 1, 1, 1, 3"),
    (tapes(stretch={"by": 1.9e-5, "at": "2 kg"}), "tapes.stretch.by", "0.0019 %", ""),
    # The strip.
    (second(steel={"thickness": 10}), "hoops[1].steel.thickness", "10 mm", "2, 10, 7, 0.5"),
    (second(steel={"thickness": 0.09}), "hoops[1].steel.thickness", "0.09 mm", "2, 0.09, 0.4, 0.7, 0.5"),
    (second(steel={"width": 41}) | tapes(casing=41), "hoops[1].steel.width", "41 mm", "2, 41, 5, 13, 7"),
    (second(steel={"strands": 11}), "hoops[1].steel.strands", "11", "10, 1, 2"),
    (second(steel={"yield_stress": "49 MPa"}), "hoops[1].steel.yield_stress", "49 MPa", "1000, 1200, 1400"),
    # 200e9 x 0.0005 / (2 x 1200e6) = 41.67 mm.
    (second(steel={"set_radius": 41}), "hoops[1].steel.set_radius", "41 mm", "42, 30, 1"),
    (second(steel={"width": 26}), "tapes.casing", "25 mm", "2, 26, 3, 5"),
    # 25.4 - 10 = 15.4 above the bottom at most.
    (tapes(rest=16), "tapes.rest", "16 mm", "15"),
    (second(rest=[15, 15, 16, 15]), "hoops[1].rest[2]", "16 mm", "15"),
    (second(rest=16), "hoops[1].rest", "16 mm", "15"),
    (second(steel={"width": 20}, rest=6), "hoops[1].rest", "6 mm", "5"),
    (second(rest=["top", "top"]), "hoops[1].rest", "2 places", "4"),
    # Ties and panels.
    (tie(to="hoop 3 tape 1"), "ties[1].to", "hoop 3 tape 1", "3, 2, 1"),
    (tie(**{"from": "hoop 1 tape 5"}), "ties[1].from", "hoop 1 tape 5", "5, 4, 1"),
    (tie(**{"from": "hoop 0 tape 1"}), "ties[1].from", "hoop 0 tape 1", "0, 2, 1"),
    (tie(to="hoop 2 tape 1"), "ties[1].to", "hoop 2 tape 1", ""),
    (tie(**{"from": "waistband tape 1", "to": "waistband tape 3"}), "ties[1].to", "waistband tape 3", ""),
    # The longest hoop and the longest tape: 1200 + 200 + 100.
    (tie(to="hoop 1 tape 3", length=1501), "ties[1].length", "1501 mm", ""),
    # A round body of 222.8 through the middle.
    (
        wearer(**HIP, hip_breadth=222.8, hip_depth=222.8)
        | tie(**{"from": "hoop 1 tape 1", "to": "hoop 1 tape 3", "length": 222}),
        "ties[1].length", "222 mm", "8 3/4, 222.8",
    ),
    (panels(tapes=[3, 5], tightness=0.1), "panels[1].tapes[1]", "5", "5, 4, 1"),
    (panels(tapes=[3, 3], tightness=0.1), "panels[1].tapes[1]", "3", "5, 6"),
    (panels(hoops=[2, 3], tightness=0.1), "panels[1].hoops[1]", "3", "3, 2, 1"),
    (panels(hoops=[2, 2], tightness=0.1), "panels[1].hoops", "", ""),
    (panels(), "panels[1]", "panel", "5, 6, 10"),
    (panels(widths=[100, 100], tightness=0.1), "panels[1]", "panel", "5, 6, 10"),
    (panels(widths=[100]), "panels[1].widths", "1 widths", "2"),
    (panels(tightness=0.91), "panels[1].tightness", "0.91", "10"),
    (panels(widths=[1000, 1201]), "panels[1].widths[1]", "1201 mm", "2"),
    # Buying.
    ({"buying": {"steel": [{"length": 9000}, {"length": 9000, "price": 3}]}}, "buying.steel[1].price", "price", ""),
]  # fmt: skip

REMARKED: list[Case] = [
    (wearer(waist=499), "wearer.waist", "499 mm", "19 5/8, 500, 55 1/8, 1400"),
    (wearer(hip=749, hip_drop=100), "wearer.hip", "749 mm", "29 1/2, 750, 57 1/8, 1450"),
    (wearer(waist_height=799), "wearer.waist_height", "799 mm", "31 1/2, 800, 51 1/8, 1300"),
    (
        wearer(waist_height=FOUR_HEIGHTS | {"left": 1301}), "wearer.waist_height", "1301 mm",
        "31 1/2, 800, 51 1/8, 1300",
    ),
    (wearer(waist=850, hip=799, hip_drop=100), "wearer.hip", "799 mm", "33 1/2, 850"),
    (rows([200, 31]), "tapes.drops[2][1]", "31 mm", "31, 32, 1, 2, 3, 45"),
    (rows([200, 31], [200, 31]), "tapes.drops[2][1]", "31 mm", "31, 32, 1, 2, 3, 4, 45"),
    # sqrt(200^2 - 63.66^2) + sqrt(1000^2 - 31.83^2) = 189.6 + 999.5, and the band's lower edge is 990 up.
    (tapes(drops=[200, 1000]), "tapes.drops", "", "199"),
    (wearer(waist_height=FOUR_HEIGHTS) | tapes(drops=[200, 1000]), "tapes.drops", "", "209"),
    ({"steel": {"modulus": "9.9 GPa"}}, "steel.modulus", "9.9 GPa", "205"),
    (
        {"hoops": [RING, RING]} | rows([200, 25]), "tapes.drops[2][1]", "25 mm", "2, 25, 1",
    ),
    # Three strips of 10 mm side by side in 25.4.
    (second(steel={"strands": 3}), "tapes.casing", "25 mm", "3, 2, 30, 3, 5"),
    # A quarter of 1200; of a hoop that is open at the back the long way round, 3/4 of 1600.
    (tie(length=300), "ties[1].length", "300 mm", "2, 300"),
    (
        BETWEEN | second(opening="back", overhang=0)
        | tie(**{"from": "hoop 2 tape 2", "to": "hoop 2 tape 3", "length": 1201}),
        "ties[1].length", "1201 mm", "2, 1200",
    ),
    (
        BETWEEN | second(opening="front", overhang=0)
        | tie(**{"from": "hoop 2 tape 1", "to": "hoop 2 tape 4", "length": 1201}),
        "ties[1].length", "1201 mm", "2, 1200",
    ),
]  # fmt: skip

SILENT: list[dict[str, Any]] = [
    second(steel={"strands": 3}) | tapes(casing=30),
    tie(length=299),
    BETWEEN
    | second(opening="back", overhang=0)
    | tie(**{"from": "hoop 2 tape 2", "to": "hoop 2 tape 3", "length": 1199}),
    # At the front an open hoop goes its whole length round, at the back from tape to tape.
    BETWEEN
    | second(opening="back", overhang=0)
    | tie(**{"from": "hoop 2 tape 1", "to": "hoop 2 tape 4", "length": 399}),
    tapes(stations=[0.1, 0.3, 0.45, 0.6]) | second(opening="back", overhang=89),
    tapes(stations=[0.1, 0.3, 0.45, 0.6]) | second(opening="front", overhang=299),
    tapes(stations=[0.05, 0.15, 0.3, 0.45]) | second(opening="back", overhang=359),
    {"skirt": [{"weight": "12 kg"}, {"weight": "7.95 kg"}, {"cloth": "100 g/m2"}]},
    wearer(**HIP, knee=440),
    wearer(hip=1201, hip_drop=300),
    wearer(hip=1100, hip_drop=100) | {"hoops": [RING | {"opening": "front"}, {"length": 1200}]} | BETWEEN,
    pad(height=200),
    pad(height=200, drop=300),
    tie(to="hoop 1 tape 3", length=1500),
    panels(widths=[1000, 1200]),
    wearer(waist_height=FOUR_HEIGHTS, knee_height=890),
    {"skirt": [{"weight": "1 kg"}] * 10},
    wearer(hip=850, hip_drop=100, waist=900),
]


def told(problem: Problem) -> tuple[str, str, str]:
    figures = re.findall(r"\d+ \d+/\d+|\d+/\d+|\d+(?:\.\d+)?", f"{problem.why} {problem.try_this}")
    return problem.where, problem.said, ", ".join(figures)


def names(cases: list[Case]) -> list[str]:
    return [f"{number} {where} {said}" for number, (_, where, said, _) in enumerate(cases)]


@pytest.mark.parametrize(("written", "where", "said", "figures"), REFUSED, ids=names(REFUSED))
def test_what_is_refused(written: dict[str, Any], where: str, said: str, figures: str) -> None:
    with pytest.raises(DesignError) as caught:
        read_data(changed(TWO, written))
    assert told(caught.value.problems[0]) == (where, said, figures), caught.value.problems[0]


@pytest.mark.parametrize(("written", "where", "said", "figures"), REMARKED, ids=names(REMARKED))
def test_what_is_remarked_on(written: dict[str, Any], where: str, said: str, figures: str) -> None:
    found = [told(remark) for remark in remarks(read_data(changed(TWO, written)))]
    assert (where, said, figures) in found


@pytest.mark.parametrize("written", SILENT, ids=map(str, range(len(SILENT))))
def test_what_is_in_order(written: dict[str, Any]) -> None:
    assert remarks(read_data(changed(TWO, written))) == []

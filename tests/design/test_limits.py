"""Every limit of the rules from both sides: what stands at it reads, a hair beyond it is refused."""

from __future__ import annotations

from typing import Any

import pytest
from hand.cage import PLAIN, RING, changed
from parts_written import (
    BETWEEN,
    CLOTH,
    HIP,
    OPEN,
    OVAL,
    ROUND_HIP,
    across,
    hoop,
    panel,
    round_her,
    skirt,
    steel,
    tie,
    wearer,
)

from cage3d.design.read import read_data
from cage3d.errors import DesignError

# What is written, at the limit and beyond it, and what is said beyond it. The plain cage: waist 600, band 20 mm
# deep with its middle 1 m up, one ring of 1000 on four tapes of 200 mm in casings of 25.4, strip 10 x 0.5 mm.
REFUSED: dict[str, tuple[dict[str, Any], dict[str, Any], str]] = {
    "least waist": (wearer(waist=300), wearer(waist=299), "nobody measures"),
    # Test rings of 3 m round: a hoop of 3 m hangs straight down.
    "largest waist": (
        wearer(waist=3000) | hoop(length=3000), wearer(waist=3001) | hoop(length=3001), "nobody measures",
    ),
    "largest high hip": (
        wearer(high_hip=3000, high_hip_drop=100), wearer(high_hip=3001, high_hip_drop=100), "nobody measures",
    ),
    # 1000 less 300.
    "knee below the hip": (
        wearer(hip=900, hip_drop=300, knee_height=699), wearer(hip=900, hip_drop=300, knee_height=700),
        "the knee is not below the hip",
    ),
    "lowest waist": (wearer(waist_height=300), wearer(waist_height=299), "nobody's waist"),
    "highest waist": (wearer(waist_height=2500), wearer(waist_height=2501), "nobody's waist"),
    # 0.55 of the hip.
    "thickest knee": (
        wearer(hip=1000, hip_drop=200, knee=550), wearer(hip=1000, hip_drop=200, knee=551), "one knee measures",
    ),
    # Nine tenths of 1000 mm.
    "highest knee": (wearer(knee_height=899), wearer(knee_height=900), "nearly as much as the waist"),
    "lowest hip": (wearer(hip=700, hip_drop=899), wearer(hip=700, hip_drop=900), "nearly as much as the waist"),
    "high hip above hip": (
        wearer(**HIP, high_hip=650, high_hip_drop=199), wearer(**HIP, high_hip=650, high_hip_drop=200), "above the hip",
    ),
    "four times as broad": (
        wearer(waist_breadth=400, waist_depth=100), wearer(waist_breadth=401, waist_depth=100), "four times",
    ),
    # 2 (300 + 100) = 800 and a tenth; the diagonal is 316.23, twice that 632.5 less a tenth 569.2.
    "hip too long for its oval": (
        wearer(hip=880, hip_drop=200, hip_breadth=300, hip_depth=100),
        wearer(hip=881, hip_drop=200, hip_breadth=300, hip_depth=100), "measures",
    ),
    "hip too short for its oval": (
        wearer(hip=570, hip_drop=200, hip_breadth=300, hip_depth=100),
        wearer(hip=569, hip_drop=200, hip_breadth=300, hip_depth=100), "measures",
    ),
    "deepest band": ({"waistband": {"depth": 250}}, {"waistband": {"depth": 251}}, "the waistband is"),
    "longest overlap": ({"waistband": {"overlap": 1000}}, {"waistband": {"overlap": 1001}}, "longer than a waist"),
    "one clearance twice": ({"hem": {"clearance": [200, 200]}}, {"hem": {"clearance": [201, 200]}}, "the least"),
    "highest hem": ({"hem": {"clearance": [200, 999]}}, {"hem": {"clearance": [200, 1000]}}, "above the waist"),
    "heaviest ruffle": (hoop(carries="20 kg"), hoop(carries="20.1 kg"), "more than a waist can bear"),
    "heaviest skirt": (skirt(weight="20 kg"), skirt(weight="20.1 kg"), "more than a waist can bear"),
    "heaviest skirts": (
        {"skirt": [{"weight": "12 kg"}, {"weight": "8 kg"}]}, {"skirt": [{"weight": "12 kg"}, {"weight": "8.1 kg"}]},
        "skirts together",
    ),
    "most layers": (skirt(**CLOTH, layers=20), skirt(**CLOTH, layers=21), "fewer than 20 layers"),
    "most skirts": (
        {"skirt": [{"weight": "1 kg"}] * 10}, {"skirt": [{"weight": "1 kg"}] * 11}, "more than 10 skirts",
    ),
    "shares of a skirt": (
        skirt(weight="1 kg", lies=[0.25, 0.25, 0.25, 0.2509]), skirt(weight="1 kg", lies=[0.25, 0.25, 0.25, 0.2511]),
        "not the whole",
    ),
    "shares that fall short": (
        skirt(weight="1 kg", lies=[0.25, 0.25, 0.25, 0.2491]), skirt(weight="1 kg", lies=[0.25, 0.25, 0.25, 0.2489]),
        "not the whole",
    ),
    "last hoop of a skirt": (skirt(weight="1 kg", hoops=[1]), skirt(weight="1 kg", hoops=[2]), "there is no hoop 2"),
    # 200e9 x 0.0005 / (2 x 1200e6) = 41.67 mm.
    "tightest curve": (steel(set_radius=42), steel(set_radius=41), "keeps a kink"),
    "thickest strip": (steel(thickness=3), steel(thickness=3.01), "hoop steel is 0.4 to 0.7 mm"),
    "thinnest strip": (steel(thickness=0.1), steel(thickness=0.099), "hoop steel is 0.4 to 0.7 mm"),
    "square strip": (steel(width=2, thickness=1.99), steel(width=2, thickness=2), "thicker than it is wide"),
    "widest strip": (
        steel(width=40) | {"tapes": {"casing": 40}}, steel(width=40.1) | {"tapes": {"casing": 41}}, "5 to 13 mm",
    ),
    "most strands": (steel(strands=10), steel(strands=11), "lie side by side"),
    "softest yield": (steel(yield_stress="50 MPa"), steel(yield_stress="49 MPa"), "no strip yields"),
    "hardest yield": (steel(yield_stress="5 GPa"), steel(yield_stress="5.1 GPa"), "no strip yields"),
    "casing as high as the strip": ({"tapes": {"casing": 10}}, {"tapes": {"casing": 9.9}}, "lower than the strip"),
    # A strip of 10 mm in a casing of 20.
    "highest rest": (
        {"tapes": {"casing": 20, "rest": 10}}, {"tapes": {"casing": 20, "rest": 10.1}}, "above its casing",
    ),
    "highest rest of a hoop": (
        {"tapes": {"casing": 20}} | hoop(rest=10), {"tapes": {"casing": 20}} | hoop(rest=10.1), "above its casing",
    ),
    "fewest tapes": ({"tapes": {"count": 2}}, {"tapes": {"count": 1}}, "from one tape"),
    "most tapes": ({"tapes": {"count": 60}}, {"tapes": {"count": 61}}, "more than 60 tapes"),
    "most hoops": (
        {"hoops": [RING] * 40, "tapes": {"drops": [26] * 40}, "wearer": {"waist": 1000}},
        {"hoops": [RING] * 41, "tapes": {"drops": [26] * 41}, "wearer": {"waist": 1000}}, "more than 40 hoops",
    ),
    "longest tube": (hoop(join={"tube": 250}), hoop(join={"tube": 251}), "a quarter of hoop 1"),
    "longest overlap of a join": (hoop(join={"overlap": 250}), hoop(join={"overlap": 251}), "a quarter of hoop 1"),
    "tapes in one place": (
        {"tapes": {"stations": [0, 0.2, 0.21, 0.7]}}, {"tapes": {"stations": [0, 0.2, 0.2, 0.7]}},
        "does not come after",
    ),
    # A quarter of the girth lies open between two of four tapes: 2 o = (1000 - 2 o) / 3, o = 125.
    "ends that just miss": (
        BETWEEN | {"hoops": [OPEN | {"overhang": 124}]}, BETWEEN | {"hoops": [OPEN | {"overhang": 126}]}, "would cross",
    ),
    "hoop as long as the waist": (hoop(length=600), hoop(length=599), "shorter than the waist"),
    # (1000 - 600) / 2 pi = 63.66 mm.
    "drop as long as the step": (
        {"tapes": {"drops": [64]}}, {"tapes": {"drops": [63]}}, "longer than its tapes can spread",
    ),
    "hoop as long as the hips": (
        wearer(hip=1000, hip_drop=100), wearer(hip=1001, hip_drop=100), "it catches on her",
    ),
    # The longest hoop 1000 and the longest tape 200.
    "longest tie": (tie(1200), tie(1201), "longer than any two points"),
    # Her breadth of 300 lies in the way from left to right, her depth of 200 from front to back.
    "tie past her breadth": (
        wearer(**OVAL) | across(300, "2", "4"), wearer(**OVAL) | across(299, "2", "4"), "shorter than the body",
    ),
    "tie past her depth": (
        wearer(**OVAL) | across(200, "1", "3"), wearer(**OVAL) | across(199, "1", "3"), "shorter than the body",
    ),
    # From front to left of a hoop of radius 159.2: where her oval is a circle of radius 1 the line runs from
    # (0, -1.5915) to (1.0610, 0), 1.9127 long and 0.8828 from the axis; inside lie 2 sqrt(1 - 0.8828^2) = 0.9394 of it,
    # 0.4911 of 225.1 mm: 110.5 mm.
    "tie past her side": (
        wearer(**OVAL) | across(111, "1", "2"), wearer(**OVAL) | across(110, "1", "2"), "shorter than the body",
    ),
    # 800 / pi / 1.658 = 153.6 mm half broad, 0.658 of it (survey) half deep: 307.2 and 202.1 mm.
    "tie past the usual breadth": (
        wearer(hip=800, hip_drop=200) | across(308, "2", "4"), wearer(hip=800, hip_drop=200) | across(307, "2", "4"),
        "shorter than the body",
    ),
    "tie past the usual depth": (
        wearer(hip=800, hip_drop=200) | across(203, "1", "3"), wearer(hip=800, hip_drop=200) | across(202, "1", "3"),
        "shorter than the body",
    ),
    # The hoop hangs 210 mm below the waist, one and a half times 140.
    "tie past her legs": (
        wearer(**OVAL | {"hip_drop": 139}) | across(250, "2", "4"),
        wearer(**OVAL | {"hip_drop": 141}) | across(250, "2", "4"), "shorter than the body",
    ),
    "tie to the last tape": (tie(150, to="hoop 1 tape 4"), tie(150, to="hoop 1 tape 5"), "there is no tape 5"),
    "tightest panel": (panel(tightness=0.9), panel(tightness=0.91), "all but meet"),
    "widest panel": (
        panel(tightness=None, widths=[1000]), panel(tightness=None, widths=[1001]), "wider than hoop 1 is long",
    ),
    "last tape of a panel": (panel(tapes=[3, 4]), panel(tapes=[4, 5]), "there is no tape 5"),
    "last hoop of a panel": (panel(hoops=[1]), panel(hoops=[2]), "there is no hoop 2"),
    "lightest trial of a tape": (
        {"tapes": {"stretch": {"by": 0.001, "at": "50 g"}}}, {"tapes": {"stretch": {"by": 0.001, "at": "49 g"}}},
        "not tried with such a weight",
    ),
    "heaviest trial of a tape": (
        {"tapes": {"stretch": {"by": 0.1, "at": "50 kg"}}}, {"tapes": {"stretch": {"by": 0.1, "at": "51 kg"}}},
        "not tried with such a weight",
    ),
    # 30 % under 2 kg is 15 % under one; 0.002 % under 2 kg is 0.001 % under one.
    "most elastic tape": (
        {"tapes": {"stretch": {"by": 0.30, "at": "2 kg"}}}, {"tapes": {"stretch": {"by": 0.302, "at": "2 kg"}}},
        "elastic",
    ),
    "least elastic tape": (
        {"tapes": {"stretch": {"by": 2.1e-5, "at": "2 kg"}}}, {"tapes": {"stretch": {"by": 1.9e-5, "at": "2 kg"}}},
        "no ribbon stretches",
    ),
    # A hip of radius 100 where the hoop hangs, 10 + sqrt(200^2 - 63.66^2) = 199.6 mm down: 314.2 mm round behind.
    "tie round her": (
        ROUND_HIP | round_her(315, "behind"), ROUND_HIP | round_her(314, "behind"), "would have to go through her",
    ),
    # 5 degrees are 0.0139 of a turn.
    "tie from the side on which it runs": (
        {"tapes": {"stations": [0, 0.25, 0.486, 0.75]}} | round_her(600, "behind", "3", "1"),
        {"tapes": {"stations": [0, 0.25, 0.487, 0.75]}} | round_her(600, "behind", "3", "1"),
        "hoop 1 tape 3 is itself on that side of her.*Write left or right",
    ),
    "smallest miniature": ({"printing": {"scale": "1:100"}}, {"printing": {"scale": "1:101"}}, "not a scale"),
    "largest miniature": ({"printing": {"scale": "1:1"}}, {"printing": {"scale": "1:0.9"}}, "not a scale"),
}  # fmt: skip


@pytest.mark.parametrize("case", REFUSED)
def test_reads_at_the_limit_and_is_refused_beyond(case: str) -> None:
    at, beyond, said = REFUSED[case]
    read_data(changed(PLAIN, at))
    with pytest.raises(DesignError, match=said):
        read_data(changed(PLAIN, beyond))

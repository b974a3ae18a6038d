"""Tapes, hoops, ties and panels, key by key: the arithmetic written out."""

from __future__ import annotations

from math import cos, pi, sin, sqrt

from hand.cage import (
    RADIUS,
    RING,
    Figure,
    cells,
    crossings,
    drops,
    easy_round,
    ends,
    give,
    hoop,
    mass,
    masses,
    pulls,
    steel,
    two_hoops,
)


def circle(share: float, radius: float = RADIUS) -> tuple[float, float]:
    """m to her left and to her back, at a share of the girth from centre front by her left."""
    return radius * sin(2 * pi * share), -radius * cos(2 * pi * share)


TAPES = [
    Figure("tapes.count", {"tapes": {"count": 5}}, lambda cage: crossings(cage)[1], circle(1 / 5)),
    Figure(
        "tapes.stations", {"tapes": {"stations": "between"}}, lambda cage: crossings(cage)[0], circle(1 / 8),
    ),
    Figure(
        "tapes.stations", {"tapes": {"stations": [0.1, 0.3, 0.55, 0.8]}}, crossings,
        [circle(share) for share in (0.1, 0.3, 0.55, 0.8)],
    ),
    # Of 200 and 100 mm: tape 3 passes hoop 2 alone, tape 2 ends at hoop 1, and tape 4 begins there.
    *(
        Figure(f"tapes.routes.{key}", two_hoops() | {"tapes": {"drops": [200, 100], "routes": [route]}}, drops, found)
        for key, route, found in (
            ("tapes", {"tapes": [3, 4], "hoops": [2]}, [0.2, 0.2, 0.1, 0.1, 0.3, 0.3]),
            ("hoops", {"tapes": [3], "hoops": [2]}, [0.2, 0.2, 0.2, 0.1, 0.1, 0.3, 0.1]),
            ("to", {"tapes": [2], "to": "hoop 1"}, [0.2, 0.2, 0.2, 0.2, 0.1, 0.1, 0.1]),
            ("from", {"tapes": [4], "from": "hoop 1"}, [0.2, 0.2, 0.2, 0.1, 0.1, 0.1, 0.1]),
        )
    ),
    # 1 % under 2 kg: 0.5 % a kilogram, of 9.81 N; cotton twill tape 2 % (from memory).
    Figure("tapes.stretch.by", {"tapes": {"stretch": {"by": "1 %", "at": "2 kg"}}}, give, 0.005 / 9.81),
    Figure("tapes.stretch.at", {"tapes": {"stretch": {"by": "1 %", "at": "4 kg"}}}, give, 0.0025 / 9.81),
    Figure("tapes.stretch", {"tapes": {"stretch": "twill tape"}}, give, 0.020 / 9.81),
    # Half of 200 mm of each of four tapes hangs on the hoop, the other half on the band.
    Figure("tapes.weight", {"tapes": {"weight": "12 g/m"}}, mass, 0.040 + 4 * 0.1 * 0.012),
    # Grosgrain of 280 g/m2 (from memory), 20 mm wide, doubled unless it is written.
    Figure("tapes.weight", {"tapes": {"weight": None}}, mass, 0.040 + 4 * 0.1 * 2 * 0.020 * 0.280),
    Figure(
        "tapes.doubled", {"tapes": {"weight": None, "doubled": False}}, mass, 0.040 + 4 * 0.1 * 0.020 * 0.280,
    ),
    Figure(
        "tapes.width", {"tapes": {"weight": None, "width": 30}}, mass, 0.040 + 4 * 0.1 * 2 * 0.030 * 0.280,
    ),
    Figure(
        "tapes.drops", {"tapes": {"drops": [[200], [210], [220], [230]]}}, drops, [0.200, 0.210, 0.220, 0.230],
    ),
    # Steel 10 mm wide, its middle 200 mm down: its lower edge at 205 mm. A casing of 24 mm leaves it 14 mm.
    Figure(
        "tapes.casing", {"tapes": {"casing": 24}},
        casing := cells("tape-marks", "upper_line_mm", "lower_line_mm"), [181, 205],
    ),
    Figure("tapes.rest", {"tapes": {"casing": 24, "rest": "middle"}}, casing, [188, 212]),
    Figure("tapes.rest", {"tapes": {"casing": 24, "rest": "top"}}, casing, [195, 219]),
    Figure("tapes.rest", {"tapes": {"casing": 24, "rest": 3}}, casing, [184, 208]),
    Figure("hoops.rest", {"tapes": {"casing": 24, "rest": "top"}} | hoop(rest="middle"), casing, [188, 212]),
    Figure(
        "hoops.rest", {"tapes": {"casing": 24}} | hoop(rest=["top", "bottom", 2, "bottom"]),
        cells("tape-marks", "upper_line_mm", "lower_line_mm", set="C"), [183, 207],
    ),
    Figure(
        "tapes.allowance.top", {"tapes": {"allowance": {"top": 40}}}, cells("tapes", "cut_mm"),
        [200 + 40 + 25.4], 0.002,
    ),
    Figure(
        "tapes.allowance.bottom", {"tapes": {"allowance": {"bottom": 50}}}, cells("tapes", "cut_mm"),
        [200 + 25.4 + 50], 0.002,
    ),
]  # fmt: skip

OPEN = {"tapes": {"stations": "between"}}
# Nodes 62.5 mm apart: 100 mm of join cover the steel of the node at its middle whole, and of the next
# 50 - 31.25 = 18.75 of 62.5 mm, three tenths. Lengths in a row: flexibilities add.
NEXT_TO_LAP, NEXT_TO_TUBE = 1 / (0.7 + 0.3 / 2), 1 / (0.7 + 0.3 / 10)
SLIDING = {"overlap": 50, "least": 900, "most": 1100}
HOOPS = [
    Figure("hoops.length", hoop(length=1234), steel, 1.234),
    # Tape 3 ends at hoop 1.
    Figure("hoops.tapes", two_hoops(tapes=[1, 2, 4]), drops, [0.2] * 4 + [0.1] * 3),
    Figure(
        "hoops.stations", hoop(stations=[0.1, 0.3, 0.55, 0.8]), crossings,
        [circle(share) for share in (0.1, 0.3, 0.55, 0.8)],
    ),
    # A waist of 600 mm is 300 / pi mm in radius; both circles keep 10 mm off it (our own figure) and are 1 m round.
    # Tapes 1 and 2 hang at her left: on a ring of her left at a quarter and three quarters on from its inner middle.
    Figure(
        "hoops.beside", OPEN | {"hoops": [RING | {"beside": "left"}, RING | {"beside": "right"}]},
        lambda cage: crossings(cage)[:2], [(0.3 / pi + 0.010 + RADIUS, -RADIUS), (0.3 / pi + 0.010 + RADIUS, RADIUS)],
    ),
    # The ends pass their tapes by 20 mm; the rest spans three quarters of the girth.
    Figure(
        "hoops.opening", OPEN | hoop(opening="front", overhang=20, join=None), lambda cage: crossings(cage)[0],
        circle(1 / 8, 0.960 / 0.75 / (2 * pi)),
    ),
    Figure(
        "hoops.opening", OPEN | hoop(opening="front", overhang=20, join=None),
        lambda cage: cage.parameters.arc_length[0], 0.020,
    ),
    Figure(
        "hoops.overhang", OPEN | hoop(opening="front", overhang=50, join=None), lambda cage: crossings(cage)[0],
        circle(1 / 8, 0.900 / 0.75 / (2 * pi)),
    ),
    # Sewn, both ends lie in their last casings: the whole length spans three quarters of the girth.
    Figure(
        "hoops.ends", OPEN | hoop(opening="front", ends="sewn", join=None), lambda cage: crossings(cage)[0],
        circle(1 / 8, 1.000 / 0.75 / (2 * pi)),
    ),
    # Open at the back it begins at tape 3, on her right, and ends at tape 2; tape 4 is the first after the start.
    Figure(
        "hoops.opening", OPEN | hoop(opening="back", overhang=20, join=None),
        cells("steel-marks", "from_cut_end_mm", mark="tape 4"), [20 + 960 / 3],
    ),
    # A lap of 2 in (common practice) where nothing is written.
    Figure("hoops.join", hoop(join=None), mass, 0.040 * (1 + 2 * 0.0254)),
    Figure("hoops.join.overlap", hoop(join={"overlap": 100}), mass, 0.040 * 1.1),
    Figure(
        "hoops.join.overlap", hoop(join={"overlap": 100}), lambda cage: easy_round(cage)[7:10],
        [NEXT_TO_LAP, 2, NEXT_TO_LAP],
    ),
    # Cut for the most and its lap; the ends pass each other by as much more as the hoop is shorter.
    Figure("hoops.join.most", hoop(join=SLIDING), cells("cutting", "cut_mm"), [1150]),
    Figure("hoops.join.most", hoop(join=SLIDING), mass, 0.040 * 1.15),
    Figure(
        "hoops.join.least", hoop(join=SLIDING), cells("steel-marks", "from_cut_end_mm", mark="shortest"),
        [50 + 200],
    ),
    # A tube of 0.4 mm wall (from memory) round 10 x 0.5 mm, at 8000 kg/m3: 2 (10 + 0.5 + 0.8) mm of wall round.
    Figure("hoops.join.tube", hoop(join={"tube": 100}), mass, 0.040 + 0.1 * 2 * 0.0113 * 0.0004 * 8000),
    Figure(
        "hoops.join.tube", hoop(join={"tube": 100}), lambda cage: easy_round(cage)[7:10],
        [NEXT_TO_TUBE, 10, NEXT_TO_TUBE],
    ),
    Figure(
        "hoops.join_at", hoop(join={"overlap": 100}, join_at="front"),
        lambda cage: [easy_round(cage)[place] for place in (0, 8)], [2, 1],
    ),
    Figure("hoops.carries", two_hoops(carries="200 g"), masses, [0.040, 0.048 + 0.200]),
]  # fmt: skip

TIE = {"from": "hoop 1 tape 2", "to": "hoop 1 tape 4", "length": 250}
PANEL = {"tapes": [2, 3], "hoops": [1, 2], "widths": [150, 160]}
LEFT, BACK, RIGHT, FRONT = (circle(share) for share in (0.25, 0.5, 0.75, 0.0))
# Two tapes a quarter of the girth apart are sqrt(2) radii apart.
QUARTER, QUARTER_BELOW = sqrt(2) * RADIUS, sqrt(2) * 1.2 * RADIUS
PULLS = [
    Figure("ties.from", {"ties": [TIE]}, lambda cage: ends(cage)[0] if pulls(cage) else None, LEFT),
    Figure("ties.to", {"ties": [TIE]}, lambda cage: ends(cage)[1] if pulls(cage) else None, RIGHT),
    Figure("ties.length", {"ties": [TIE]}, pulls, [("tie 1", 0.250)]),
    Figure("ties.name", {"ties": [TIE | {"name": "cross"}]}, pulls, [("cross", 0.250)]),
    Figure("ties.runs", {"ties": [TIE | {"runs": "behind"}]}, lambda cage: cage.connectivity.pull_sides[4:], [[0, 1]]),
    Figure(
        "panels.tapes", two_hoops() | {"panels": [PANEL]}, lambda cage: ends(cage) if pulls(cage) else None,
        [LEFT, BACK],
    ),
    Figure(
        "panels.hoops", two_hoops() | {"panels": [PANEL | {"hoops": [2], "widths": [160]}]}, pulls,
        [("panel 1 hoop 2", 0.160)],
    ),
    Figure(
        "panels.widths", two_hoops() | {"panels": [PANEL]}, pulls,
        [("panel 1 hoop 1", 0.150), ("panel 1 hoop 2", 0.160)],
    ),
    Figure(
        "panels.tightness", two_hoops() | {"panels": [{"tapes": [2, 3], "hoops": [1, 2], "tightness": "10 %"}]}, pulls,
        [("panel 1 hoop 1", 0.9 * QUARTER), ("panel 1 hoop 2", 0.9 * QUARTER_BELOW)],
    ),
]  # fmt: skip

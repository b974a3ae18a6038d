"""Skirt, stage, buying, printing and the words of a design, key by key: the arithmetic written out."""

from __future__ import annotations

from typing import Any

from hand.cage import (
    RING,
    Figure,
    cells,
    hours,
    miniature,
    on_the_first_page,
    quoted,
    reported,
    skirt,
    skirt_at,
    sliding,
    steel,
    two_hoops,
    warning,
)

# From the waist (600) to the hoop (1000) 200 mm of tape: a band of 0.8 x 0.2 m2, half of which hangs on the hoop.
CLOTH = {"cloth": "100 g/m2", "fullness": 1}
LAIN = {"skirt": {"weight": "1 kg", "lies": {"front": "10 %", "sides": "40 %", "back": "50 %"}}}
SKIRT = [
    # Two hoops: bands of 0.16 and 1.1 x 0.1 m2; hoop 1 bears half of both, hoop 2 half of the second.
    Figure("skirt.weight", two_hoops() | {"skirt": {"weight": "1 kg"}}, skirt, [135 / 190, 55 / 190]),
    Figure("skirt.cloth", {"skirt": CLOTH}, skirt, [0.08 * 0.1]),
    Figure("skirt.cloth", {"skirt": CLOTH | {"cloth": "velvet"}}, skirt, [0.08 * 0.350]),  # from memory
    Figure("skirt.layers", {"skirt": CLOTH | {"layers": 3}}, skirt, [0.08 * 0.3]),
    Figure("skirt.fullness", {"skirt": CLOTH | {"fullness": 1.5}}, skirt, [0.08 * 0.15]),
    Figure("skirt.fullness", {"skirt": {"cloth": "100 g/m2"}}, skirt, [0.08 * 0.2]),
    # Gathered: as wide above as the hoop is long.
    Figure("skirt.cut", {"skirt": CLOTH | {"cut": "gathered"}}, skirt, [1.0 * 0.2 / 2 * 0.1]),
    # Gored: at 0, 200 and 300 mm once, 3 and 4 times 600, 1000 and 1200 mm; bands of 1.8 x 0.2 and 3.9 x 0.1 m2.
    Figure(
        "skirt.fullness.top", two_hoops() | {"skirt": CLOTH | {"fullness": {"top": 1, "hem": 4}}}, skirt,
        [0.1 * (0.18 + 0.195), 0.1 * 0.195],
    ),
    # Gathered: straight seams from 600 to 4800 mm, 3400 mm at two thirds; bands of 2.0 x 0.2 and 4.1 x 0.1 m2.
    Figure(
        "skirt.fullness.hem", two_hoops() | {"skirt": CLOTH | {"cut": "gathered", "fullness": {"top": 1, "hem": 4}}},
        skirt, [0.1 * (0.2 + 0.205), 0.1 * 0.205],
    ),
    # It falls from the lowest hoop alone.
    Figure(
        "skirt.below_hem", two_hoops() | {"skirt": CLOTH | {"below_hem": 50}}, skirt,
        [0.135 * 0.1, (0.055 + 1.2 * 0.05) * 0.1],
    ),
    Figure("skirt.on_cage", {"skirt": CLOTH | {"on_cage": "70 %"}}, skirt, [0.08 * 0.07]),
    Figure("skirt.hoops", two_hoops() | {"skirt": {"weight": "1 kg", "hoops": [2]}}, skirt, [0.0, 1.0]),
    # A node of sixteen at centre front, left and back lies whole within its quarter of four.
    Figure("skirt.lies.front", LAIN, skirt_at(0), 0.1 / 4),
    Figure("skirt.lies.sides", LAIN, skirt_at(4), 0.4 / 8),
    Figure("skirt.lies.back", LAIN, skirt_at(8), 0.5 / 4),
    # What slides hangs on lines of cloth and lies on no hoop; friction is as written.
    Figure("skirt.slides", {"skirt": {"weight": "1 kg", "slides": "yes"}}, sliding, [1.0, [0.3]]),
    Figure("skirt.friction", {"skirt": {"weight": "1 kg", "slides": True, "friction": 0.1}}, sliding, [1.0, [0.1]]),
    # 0.8 x 0.2 m2 of cloth in all, of which lines have the band's half too.
    Figure("skirt.slides", {"skirt": CLOTH | {"slides": True}}, sliding, [0.16 * 0.1, [0.3]]),
    Figure("skirt.lies", {"skirt": {"weight": "1 kg", "lies": [0.4, 0.3, 0.2, 0.1]}}, skirt_at(4), 0.3 / 4),
]  # fmt: skip

STEADY = {"wearer": {"waist": 1000}, "tapes": {"count": 8}}  # hangs straight down from 990 to 790 mm
PLACE = [
    Figure("hem.clearance", STEADY | {"hem": {"clearance": [700, 750]}}, warning("hem_clearance"),
        "The hem hangs 790 mm to 790 mm above the floor; 700 mm to 750 mm is wanted"),
    *(
        Figure(f"hem.{key}", STEADY | {"hem": {key: [700, 750]}}, warning("hem_clearance"),
            f"The hem hangs 790 mm above the floor at the {where}, where 700 mm to 750 mm is wanted")
        for key, where in {
            "front": "front", "left": "left side", "back": "back", "right": "right side", "sides": "two sides"
        }.items()
    ),
    # The ring of 1000 mm is 318 mm wide.
    *(
        Figure(f"hem.{key}", STEADY | {"hem": {key: [330, 340]}}, warning("hem_width"),
            f"The hem is 318 mm {said}; 330 mm to 340 mm is wanted")
        for key, said in {
            "side_to_side": "side to side", "front_to_back": "front to back", "width": "side to side"
        }.items()
    ),
    Figure(
        "stage.door", STEADY | {"stage": {"door": 310}}, warning("door"),
        "The cage is 318 mm wide and the door 310 mm",
    ),
    Figure("stage.riser", STEADY | {"stage": {"riser": 780}}, warning("riser"),
        "A stair riser is 780 mm high; going up, the front of the hem, 790 mm above the floor, clears it by only 10 mm;"
        " coming down, the back of the hem, 790 mm above the floor, clears it by only 10 mm"),
    # Reaches 159 mm from her axis; edges of steps of 100 lie 50 and 150 from the middle of one.
    Figure("stage.tread", STEADY | {"stage": {"riser": 400, "tread": 100}}, warning("riser"),
        "A stair riser is 400 mm high; going up, the front of the hem, 790 mm above the floor, reaches over 2 steps,"
        " 800 mm together, and does not clear them; coming down, the back of the hem, 790 mm above the floor,"
        " reaches over 2 steps, 800 mm together, and does not clear them"),
]  # fmt: skip

# One hoop, 1000 mm to cut; with a tenth to spare 1100 mm are to be bought.
LONG, LONGER = {"length": "1.2 m"}, {"length": "1.3 m"}
BOUGHT = cells("order-of-cutting", "bought_mm")


TIE = {"from": "hoop 1 tape 1", "to": "hoop 1 tape 3", "length": 250}


def buying(*steel: dict[str, Any], **more: Any) -> dict[str, Any]:
    return {"buying": ({"steel": list(steel)} if steel else {}) | more}


BUYING = [
    Figure(
        "buying.spare", buying(spare="25 %"), cells("materials", "to_buy", material="Spring steel"),
        [1.250],
    ),
    Figure("buying.currency", buying(currency="EUR"), cells("materials", "currency"), ["EUR"]),
    # 1.6 m of ribbon in four doubled tapes of 200 + 2 x 25.4 = 251 mm: 2.008 m, and a tenth.
    Figure(
        "buying.prices", buying(currency="EUR", prices={"ribbon": 2}),
        cells("materials", "cost", material="Ribbon for the tapes"), [4.42],
    ),
    Figure("buying.steel.length", buying(LONG), BOUGHT, [1200]),
    Figure("buying.steel.width", buying(LONG | {"width": 8}, LONGER | {"width": 10}), BOUGHT, [1300]),
    Figure(
        "buying.steel.thickness", buying(LONG | {"thickness": 0.4}, LONGER | {"thickness": 0.5}), BOUGHT,
        [1300],
    ),
    Figure(
        "buying.steel.material", buying(LONG | {"material": "round cane"}, LONGER | {"material": "flat steel"}), BOUGHT,
        [1300],
    ),
    Figure("buying.steel.diameter", buying(LONG | {"diameter": 8}, LONGER), BOUGHT, [1300]),
    Figure(
        "buying.steel.count",
        {"hoops": [RING, RING], "tapes": {"drops": [200, 100]}} | buying(LONG | {"count": 1}, LONGER),
        cells("materials", "to_buy", material="Spring steel"), [1.2 + 1.3],
    ),
    Figure(
        "buying.steel.price", buying(LONG | {"price": 3.5}, currency="EUR"),
        cells("materials", "cost", material="Spring steel"), [3.5],
    ),
    # 2.21 m of ribbon with the tenth, as above: two rolls of 1.5 m.
    Figure(
        "buying.rolls", buying(rolls={"ribbon": "1.5 m"}),
        cells("materials", "to_buy", material="Ribbon for the tapes"), [3.0],
    ),
    # One band, four tapes with four casings, one hoop.
    Figure("buying.minutes.band", buying(minutes={"band": 45}), hours, 0.75),
    Figure("buying.minutes.tape", buying(minutes={"tape": "9 min"}), hours, 4 * 9 / 60),
    Figure("buying.minutes.casing", buying(minutes={"casing": 3}), hours, 4 * 3 / 60),
    Figure("buying.minutes.hoop", buying(minutes={"hoop": 12}), hours, 0.2),
    Figure(
        "buying.minutes.tie", buying(minutes={"tie": 6}) | {"ties": [TIE]}, hours, 0.1,
    ),
    Figure(
        "buying.minutes.panel",
        buying(minutes={"panel": 30}) | {"panels": [{"tapes": [3, 4], "hoops": [1], "tightness": 0.1}]}, hours, 0.5,
    ),
    Figure("buying.minutes.threading", buying(minutes={"threading": "1.5 h"}), hours, 1.5),
    Figure("buying.minutes.fitting", buying(minutes={"fitting": 60}), hours, 1.0),
    Figure(
        "buying.hour", buying(currency="EUR", hour=24, minutes={"hoop": 12}), lambda cage: quoted(cage).labour, 4.8,
    ),
    # 4.80 and 15 % of it.
    Figure(
        "buying.contingency", buying(currency="EUR", hour=24, minutes={"hoop": 12}, contingency="15 %"),
        lambda cage: quoted(cage).total, 5.52,
    ),
]  # fmt: skip

INCHES = {
    "units": "in",
    "wearer": {"waist": 24, "waist_height": 40},
    "waistband": {"depth": 1},
    "steel": {"width": 0.4, "thickness": 0.02},
    "tapes": {"width": 1, "drops": [8]},
    "hoops": [{"length": 40, "join": "none"}],
}
WHOLE = [
    Figure("units", INCHES, steel, 40 * 0.0254),
    Figure("name", {"name": "Other"}, lambda cage: reported(cage).design, "Other"),
    Figure("production", {"production": "WA-26"}, on_the_first_page("WA-26"), True),
    Figure("wearer.code", {"wearer": {"code": "W-07"}}, on_the_first_page("W-07"), True),
    Figure("notes", {"notes": "kept"}, on_the_first_page("kept"), True),
    # Strip of 10 x 0.5 mm, 0.0625 x 1.25 mm at 1:8; resin prints 1 mm and more (from memory).
    Figure(
        "printing.scale", {"printing": {"scale": "1:8", "process": "resin"}}, miniature,
        "Steel of hoop 1: 0.06 x 1.25 mm at 1:8, printed 1.00 x 1.25 mm",
    ),
    Figure(
        "printing.process", {"printing": {"process": "resin"}}, miniature,
        "Steel of hoop 1: 0.08 x 1.67 mm at 1:6, printed 1.00 x 1.67 mm",
    ),
]  # fmt: skip

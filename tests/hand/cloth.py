"""A petticoat's own cloth, key by key: four gores with seams where the plain cage has its tapes."""

from __future__ import annotations

from typing import Any

from cage3d.shape.cage import Cage
from cage3d.sheets.gores import GoreSet, gore_sets
from hand.cage import Figure, cells, crossings, drops, ends, mass, pulls, two_hoops
from hand.sewn import BACK, LEFT, circle


def cloth(**more: Any) -> dict[str, Any]:
    """Cloth of 100 g/m2, 600 mm round the waist and 1 m round the hoop, 200 mm down: 0.16 m2."""
    own = {"gores": 4, "seams": "on", "levels": [200], "fabric": "100 g/m2", "ease": 0}
    return {"tapes": None, "cloth": {key: value for key, value in (own | more).items() if value is not None}}


def first_gore(cage: Cage) -> GoreSet | None:
    return gore_sets(cage)[0] if cage.design.cloth is not None else None


def top_edge(cage: Cage) -> float | None:
    """m down the middle of the first gore to where it is cut above."""
    one = first_gore(cage)
    return None if one is None else float(one.top[len(one.top) // 2, 1])


def seam_allowance(cage: Cage) -> float | None:
    """m from seam to cut edge at the lowest hoop."""
    one = first_gore(cage)
    if one is None:
        return None
    (x, y), (across, down) = one.edges[0][-2], one.cut_edges[0][-2]
    return float(((x - across) ** 2 + (y - down) ** 2) ** 0.5)


def last_pull(cage: Cage) -> float:
    """m, the last of the pulls: the cloth across the opening."""
    return float(cage.parameters.pull_length[-1])


casing = cells("casing-lines", "upper_line_mm", "lower_line_mm")


def casing_lines(cage: Cage) -> Any:
    return casing(cage) if cage.design.cloth is not None else None


# 40 g of steel; half of 0.16 m2 of cloth; a strip of 25.4 mm and 7 mm turned in at either edge, and 25.4 mm of hem,
# each 1 m long (common practice).
STRIP, HEM = 0.0254 + 0.014, 0.0254
GORES = [
    Figure("cloth.gores", cloth(gores=5), lambda cage: crossings(cage)[1], circle(1 / 5)),
    Figure("cloth.seams", cloth(seams="between"), lambda cage: crossings(cage)[0], circle(1 / 8)),
    Figure(
        "cloth.seams", cloth(seams=[0.1, 0.3, 0.55, 0.8]), crossings, [circle(s) for s in (0.1, 0.3, 0.55, 0.8)],
    ),
    Figure("cloth.levels", cloth(levels=[[200], [210], [220], [230]]), drops, [0.200, 0.210, 0.220, 0.230]),
    Figure(
        "cloth.levels.front", cloth(levels={"front": [210], "sides": [220], "back": [230]}), drops,
        [0.210, 0.220, 0.230, 0.220],
    ),
    Figure(
        "cloth.levels.sides", cloth(levels={"front": [200], "sides": [222], "back": [230]}), drops,
        [0.200, 0.222, 0.230, 0.222],
    ),
    # Half way between front and back where the sides are not written.
    Figure("cloth.levels.back", cloth(levels={"front": [200], "back": [230]}), drops, [0.200, 0.215, 0.230, 0.215]),
    Figure("cloth.fabric", cloth(), mass, 0.040 + 0.1 * (0.08 + STRIP + HEM)),
    # Calico of 140 g/m2 (from memory).
    Figure("cloth.fabric", cloth(fabric="calico"), mass, 0.040 + 0.14 * (0.08 + STRIP + HEM)),
    # 1.1 m round the hoop: 0.17 m2.
    Figure("cloth.ease", cloth(ease="10 %"), mass, 0.040 + 0.1 * (0.085 + 1.1 * (STRIP + HEM))),
    Figure("cloth.girths", cloth(ease=None, girths=[1200]), mass, 0.040 + 0.1 * (0.09 + 1.2 * (STRIP + HEM))),
    Figure(
        "cloth.gap", cloth(seams="between", gap=100, ease="2 %") | {"hoops": [{"length": 1000, "opening": "front"}]},
        last_pull, 0.102,
    ),
    Figure(
        "cloth.width", cloth(width=900), lambda cage: cells("materials", "detail", material="Cloth")(cage),
        ["4 gores, 100 g/m2, 900 mm wide"],
    ),
    # Steel 10 mm wide, its middle 200 mm down: its lower edge at 205 mm.
    Figure("cloth.casing", cloth(casing=24), casing_lines, [181, 205]),
    Figure("cloth.rest", cloth(casing=24, rest="middle"), casing_lines, [188, 212]),
    Figure("cloth.allowance.top", cloth(allowance={"top": 40}), top_edge, -0.040),
    Figure("cloth.allowance.seam", cloth(allowance={"seam": 12}), seam_allowance, 0.012, 0.01),
    Figure("cloth.allowance.hem", cloth(allowance={"hem": 50}), mass, 0.040 + 0.1 * (0.08 + STRIP + 0.050)),
    Figure(
        "panels.seams",
        cloth(levels=[200, 300]) | {"hoops": two_hoops()["hoops"], "panels": [
            {"seams": [2, 3], "hoops": [1, 2], "widths": [150, 160]}
        ]},
        lambda cage: ends(cage) if pulls(cage) else None, [LEFT, BACK],
    ),
]  # fmt: skip

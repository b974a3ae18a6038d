"""Half hoops behind somebody with hips, of which the upper is sewn to her waistband."""

from __future__ import annotations

from functools import cache

from cage3d.design.read import read_data
from cage3d.settle import SettledCage, settle
from cage3d.shape.lay_out import lay_out


@cache
def half_hoop(nodes: int = 56) -> SettledCage:
    """Two half hoops; the upper is sewn to the band at her sides, from which the lower hangs."""
    hoop = {"opening": "front", "ends": "sewn"}
    tapes = {
        "count": 3,
        "stations": [0.27, 0.5, 0.73],
        "drops": [["0 cm", "15 cm"], ["16.5 cm", "12 cm"], ["0 cm", "15 cm"]],
    }
    design = {
        "name": "half hoops from the band",
        "units": "cm",
        "wearer": {"waist": 68, "waist_height": 104, "hip": 98, "hip_drop": 20},
        "steel": {"width": "7 mm", "thickness": "0.6 mm"},
        "tapes": tapes,
        "hoops": [{"length": 66} | hoop, {"length": 84} | hoop],
    }
    return settle(lay_out(read_data(design), nodes))

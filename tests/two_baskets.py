"""A cage of two baskets of bows, the lower one larger at one side of her, as it hangs and as it is made."""

from __future__ import annotations

from functools import cache
from typing import Any

from made import hung_design

from cage3d.design.models import Design
from cage3d.design.read import read_data
from cage3d.report import Report
from cage3d.settle import SettledCage
from cage3d.sheets.making import Making, prepared

WEARER = {
    "waist": 660, "waist_breadth": 236, "waist_depth": 180, "waist_height": 1054, "high_hip": 889,
    "high_hip_drop": 102, "hip": 991, "hip_drop": 203, "hip_breadth": 343, "hip_depth": 244,
}  # fmt: skip
OTHER = {"left": "right", "right": "left"}
# The lower bow's tapes from its front round its outside; at her right the same seen in a mirror, tape 5 at its back.
LOWER = {"left": [0.0, 0.1, 0.35, 0.5], "right": [0.5, 0.65, 0.9, 0.0]}


def bow(side: str, length: float, **more: Any) -> dict[str, Any]:
    return {"length": length, "beside": side, "opening": OTHER[side], "ends": "sewn", **more}


def tie(hoop: int, side: str, length: float) -> dict[str, Any]:
    first, last = (1, 4) if side == "left" else (5, 8)
    ends = [f"hoop {hoop} tape {tape}" for tape in (first, last)]
    return {"from": ends[0], "to": ends[1], "length": length, "runs": side}


def data(hoops: list[dict[str, Any]], drops: list[Any], **more: Any) -> dict[str, Any]:
    tapes = {"count": 8, "drops": drops, "allowance": {"top": 30, "bottom": 20}}
    return {
        "name": "baskets", "units": "mm", "wearer": WEARER, "waistband": {"depth": 25},
        "steel": {"width": 7, "thickness": 0.5}, "tapes": tapes, "hoops": hoops, "skirt": {"weight": "1 kg"},
        **more,
    }  # fmt: skip


def larger_at(side: str, larger: float = 700, longer_tie: float = 340) -> Design:
    """Bows of 560 mm over one of 640 mm with a tie of 320 mm, and at one side of her of 700 mm with one of 340."""
    lengths = {OTHER[side]: 640.0, side: larger}
    ties = {OTHER[side]: 320.0, side: longer_tie}
    hoops = [bow(own, 560) for own in OTHER]
    hoops += [bow(own, lengths[own], stations=LOWER[own]) for own in OTHER]
    laced = [tie(number, own, ties[own]) for number, own in zip((3, 4), OTHER, strict=True)]
    return read_data(data(hoops, [250, 100], ties=laced))


@cache
def hung(side: str) -> tuple[SettledCage, Report]:
    return hung_design(larger_at(side))


@cache
def making_of(side: str) -> Making:
    settled, report = hung(side)
    return prepared(settled.cage, report, None)

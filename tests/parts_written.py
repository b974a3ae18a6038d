"""Parts of a design as they are written, to change the plain cage of `hand.cage` by."""

from __future__ import annotations

from typing import Any

HIP = {"hip": 700, "hip_drop": 200}
OVAL = {"hip": 800, "hip_drop": 200, "hip_breadth": 300, "hip_depth": 200}
ROUND_HIP = {"wearer": {"hip": 628.32, "hip_drop": 199.6, "hip_breadth": 200, "hip_depth": 200}}
OPEN = {"length": 1000, "opening": "front"}
BETWEEN = {"tapes": {"stations": "between"}}
CLOTH = {"cloth": "100 g/m2"}


def wearer(**more: Any) -> dict[str, Any]:
    return {"wearer": more}


def child(**more: Any) -> dict[str, Any]:
    return wearer(**{"waist": 600, "hip": 600, "hip_drop": 125, "waist_height": 700} | more)


def steel(**more: Any) -> dict[str, Any]:
    return {"steel": more}


def hoop(**more: Any) -> dict[str, Any]:
    return {"hoops": [{"length": 1000} | more]}


def across(length: object, start: str, end: str) -> dict[str, Any]:
    return {"ties": [{"from": f"hoop 1 tape {start}", "to": f"hoop 1 tape {end}", "length": length}]}


def tie(length: object, **more: Any) -> dict[str, Any]:
    return {"ties": [{"from": "hoop 1 tape 1", "to": "hoop 1 tape 2", "length": length} | more]}


def round_her(length: object, side: str, start: str = "2", end: str = "4") -> dict[str, Any]:
    (line,) = across(length, start, end)["ties"]
    return {"ties": [line | {"runs": side}]}


def panel(**more: Any) -> dict[str, Any]:
    return {"panels": [{"tapes": [1, 2], "hoops": [1], "tightness": 0.1} | more]}


def skirt(**more: Any) -> dict[str, Any]:
    return {"skirt": more}

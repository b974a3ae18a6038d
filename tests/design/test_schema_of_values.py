"""What the JSON Schema lets an editor accept of every kind of value, and what not: as docs/keys.md says."""

from __future__ import annotations

from functools import cache
from typing import Any

import jsonschema
import pytest
from hand.cage import PLAIN, RING, changed

from cage3d.design.schema import schema


def steel(**more: Any) -> dict[str, Any]:
    return {"steel": more}


def tapes(**more: Any) -> dict[str, Any]:
    return {"tapes": more}


def skirt(**more: Any) -> dict[str, Any]:
    return {"skirt": more}


def coil(**more: Any) -> dict[str, Any]:
    return {"buying": {"steel": [{"length": 9000} | more]}}


def clearance(heights: Any) -> dict[str, Any]:
    return {"hem": {"clearance": heights}}


def door(width: Any) -> dict[str, Any]:
    return {"stage": {"door": width}}


RIGHT: list[dict[str, Any]] = [
    door(1), door("34 in"), door("½"), door("+3"), tapes(allowance={"top": 0}), tapes(allowance={"top": "1 in"}),
    clearance([0, 9]), clearance(["8 in", 10]), clearance("8 to 10"), clearance("8-10 in"), coil(length="25 m"),
    {"hoops": [RING | {"carries": "1 kg"}]}, {"hoops": [RING | {"carries": 0}]}, tapes(weight=0),
    tapes(weight="12 g/m"), steel(modulus="205 GPa"), steel(density=7850), steel(density="7850 kg/m3"),
    skirt(on_cage=0), skirt(on_cage=1), skirt(on_cage="10 %"), steel(poisson=0), steel(poisson=0.5),
    skirt(fullness=1), skirt(fullness=20), tapes(count=1), coil(count=1), coil(price=0), {"name": "a" * 120},
    {"buying": {"currency": "12345678"}}, tapes(drops=[200]), tapes(drops=[["8 in"], [200]]), skirt(cloth="taffeta"),
    skirt(cloth="120 g/m2"), {"printing": {"process": "resin"}}, tapes(stations=[0, 0.5]), tapes(rest="top"),
]  # fmt: skip
WRONG: list[dict[str, Any]] = [
    door(0), door(-1), door("wide"), tapes(allowance={"top": -1}), clearance([8]), clearance([8, 9, 10]),
    clearance([-1, 9]), clearance(8), clearance("eight to ten"), clearance("8"), coil(length=0),
    {"hoops": [RING | {"carries": 1}]}, tapes(weight=12), steel(modulus=205), steel(density=-1), skirt(on_cage=1.1),
    skirt(on_cage=-0.1), steel(poisson=0.51), steel(poisson=-0.1), skirt(fullness=0.9), skirt(fullness=20.1),
    tapes(count=0), tapes(count=1.5), coil(count=0), coil(price=-1), {"name": ""}, {"name": "a" * 121},
    {"name": "a/b"}, {"buying": {"currency": "123456789"}}, tapes(drops=[]), tapes(drops=[[200]]),
    tapes(drops=[[], []]), tapes(drops=[-1]), skirt(cloth=120), {"printing": {"process": "laser"}},
    tapes(stations=[0, 1.1]), tapes(rest="high"),
]  # fmt: skip


@cache
def validator() -> jsonschema.Draft202012Validator:
    return jsonschema.Draft202012Validator(schema())


@pytest.mark.parametrize("written", RIGHT, ids=str)
def test_an_editor_accepts_what_may_be_written(written: dict[str, Any]) -> None:
    validator().validate(changed(PLAIN, written))


@pytest.mark.parametrize("written", WRONG, ids=lambda written: str(written)[:40])
def test_an_editor_marks_what_may_not(written: dict[str, Any]) -> None:
    with pytest.raises(jsonschema.ValidationError):
        validator().validate(changed(PLAIN, written))

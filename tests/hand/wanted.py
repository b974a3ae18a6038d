"""What is wanted, key by key: which figures of which hoop it asks for."""

from __future__ import annotations

from typing import Any

from cage3d.shape.cage import Cage
from cage3d.study.aiming.wishes import wishes_of
from hand.cage import Figure, two_hoops

SIDES = ("front", "left", "back", "right")
WAYS = ("side to side", "front to back")


def wishes(cage: Cage) -> str:
    """Every wish, in the order of the hoops."""
    return "; ".join(f"{wish.figure.name} {1000 * wish.value:g}" for wish in wishes_of(cage.design))


def wanted(**keys: Any) -> dict[str, Any]:
    return {"wanted": [{"hoop": 1} | keys]}


WANTED = [
    Figure("wanted.hoop", two_hoops() | {"wanted": [{"hoop": 2, "front": 600}]}, wishes, "hoop 2 height front 600"),
    Figure("wanted.height", wanted(height=700), wishes, "; ".join(f"hoop 1 height {side} 700" for side in SIDES)),
    *(Figure(f"wanted.{side}", wanted(**{side: 710}), wishes, f"hoop 1 height {side} 710") for side in SIDES),
    # What one side says goes before what is said of all.
    Figure("wanted.back", wanted(height=700, back=690), wishes,
        "hoop 1 height front 700; hoop 1 height left 700; hoop 1 height back 690; hoop 1 height right 700"),
    Figure("wanted.width", wanted(width=320), wishes, "; ".join(f"hoop 1 {way} 320" for way in WAYS)),
    *(Figure(f"wanted.{way.replace(' ', '_')}", wanted(**{way.replace(' ', '_'): 330}), wishes, f"hoop 1 {way} 330")
      for way in WAYS),
]  # fmt: skip

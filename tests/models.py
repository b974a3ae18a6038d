"""The samples as models are made of them, their dressing, and random designs."""

from __future__ import annotations

from functools import cache
from typing import Any

import numpy as np
from settled import LETTERS as LETTERS
from settled import sample_path, settled_sample

from cage3d.design.models import Design
from cage3d.mesh.dressing import DressingStep, dressing_steps
from cage3d.settle import SettledCage


def sample(letter: str) -> SettledCage:
    """Sample `letter` ("a", "b", ...) as it hangs."""
    return settled_sample(sample_path(letter))


@cache
def sample_stages(letter: str) -> tuple[DressingStep, ...]:
    """The steps of hanging it."""
    return dressing_steps(sample(letter))


def random_design(seed: int) -> Design:
    """A design no one would check by hand: tapes and hoops in any number, open and closed, ties, panels."""
    rng = np.random.default_rng(seed)
    tapes, hoops = int(rng.integers(3, 11)), int(rng.integers(1, 5))
    waist = rng.uniform(0.55, 1.0)
    lengths = waist * np.cumsum(np.append(rng.uniform(1.3, 1.9), rng.uniform(-0.1, 0.5, hoops - 1)))
    steps = np.abs(np.diff(np.append(waist, lengths))) / (2 * np.pi)
    drops = steps + rng.uniform(0.06, 0.14, hoops) + rng.uniform(0, 0.015, (tapes, hoops))
    written: dict[str, Any] = {
        "name": f"Random {seed} ½ é 裙",
        "units": str(rng.choice(["in", "mm", "cm", "ft"])),
        "wearer": {"waist": waist, "waist_height": 1.4},
        "steel": {
            "width": rng.uniform(0.005, 0.012),
            "thickness": rng.uniform(0.0004, 0.0007),
            "coating": float(rng.choice([0.0, 0.006])),
        },
        "tapes": {
            "count": tapes,
            "drops": drops.tolist(),
            "stations": str(rng.choice(["between", "on"])),
            "doubled": bool(rng.integers(2)),
        },
        "hoops": [_hoop(rng, length) for length in lengths],
    }
    if rng.integers(2):
        written["wearer"] |= {"hip": 1.25 * waist, "hip_drop": 0.2}
    if rng.integers(2):
        written["skirt"] = {"weight": rng.uniform(0.1, 1.0), "below_hem": rng.uniform(0.0, 0.2)}
    if rng.integers(2):
        chord = float(lengths[-1] / np.pi * rng.uniform(0.6, 1.2))
        written["ties"] = [
            {"from": f"hoop {hoops} tape 1", "to": f"hoop {hoops} tape {tapes // 2 + 1}", "length": chord}
        ]
    if rng.integers(2):
        written["panels"] = [{"tapes": (tapes - 1, tapes), "hoops": (hoops,), "tightness": 0.1}]
    return Design.model_validate(written)


def _hoop(rng: np.random.Generator, length: float) -> dict[str, Any]:
    opening = str(rng.choice(["none", "none", "front", "back"]))
    join: Any = [None, "none", {"tube": 0.03}, {"overlap": 0.05}][int(rng.integers(4))]
    return {"length": float(length), "opening": opening, "join": join if opening == "none" else None}

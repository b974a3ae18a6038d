"""Designs drawn by lot, seeded: such as a maker could write, and such as no one would check by hand.

`random_design(seed)` is a usual one, with ties, gaps, skirts and skew in it. The other kinds are asked for by name:
"dense", "touching", "tilted", "open" and "asymmetric" push one thing far; "any" has all that a model may meet, in any
number, unit and script.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np

from cage3d.design.models import Design

Lot = np.random.Generator
STRIPS = (
    (0.006, 0.0005),
    (0.007, 0.0005),
    (0.010, 0.0005),
    (0.012, 0.0005),
    (0.010, 0.0006),
    (0.0127, 0.0007),
)


def random_design(seed: int, kind: str = "usual") -> Design:
    """One design in SI units; the same seed and kind give the same design. Raises KeyError for a kind that is none."""
    return KINDS[kind](seed)


def usual(seed: int) -> Design:
    lot = np.random.default_rng(seed)
    tapes, hoops = int(lot.integers(5, 13)), int(lot.integers(1, 8))
    waist = float(lot.uniform(0.6, 0.95))
    lengths = np.cumsum(lot.uniform(0.05, 0.45, hoops)) + waist + lot.uniform(0.25, 0.55)
    if lot.random() < 0.2:
        lengths[-1] *= 0.85
    steps = np.abs(np.diff(np.append(waist, lengths))) / (2 * np.pi)
    means = steps + lot.uniform(0.05, 0.12, hoops)
    means *= min(1.0, 0.95 / means.sum()) if means.sum() > 0.95 else 1.0
    means = np.maximum(means, steps + 0.02)
    drops = means * (1.0 + lot.uniform(0.0, 0.04) * lot.normal(size=(tapes, hoops)))
    drops = np.maximum(drops, steps + 0.01)
    opened = int(lot.integers(0, 3)) if hoops > 2 else 0
    width, thickness = STRIPS[int(lot.integers(len(STRIPS)))]
    written = {
        "name": f"drawn by lot {seed}",
        "wearer": wearer(lot, waist),
        "steel": {"width": width, "thickness": thickness},
        "tapes": {"count": tapes, "drops": drops.tolist()},
        "hoops": [
            {"length": float(length), **({"opening": "front"} if hoop < opened else {})}
            for hoop, length in enumerate(lengths)
        ],
    }
    if lot.random() < 0.6:
        written["skirt"] = {"weight": float(lot.uniform(0.2, 2.5))}
    if lot.random() < 0.5:
        hoop, tape = int(lot.integers(opened, hoops)), int(lot.integers(1, tapes // 2))
        far = tapes + 1 - tape
        chord = lengths[hoop] / np.pi * np.sin(np.pi * abs(far - tape) / tapes)
        point = f"hoop {hoop + 1} tape "
        tie = {
            "from": f"{point}{tape}",
            "to": f"{point}{far}",
            "length": float(lot.uniform(0.75, 1.05) * chord),
        }
        written["ties"] = [tie]
    return Design.model_validate(written)


def wearer(lot: Lot, waist: float) -> dict[str, float]:
    """A wearer; half of them with a hip to touch, on an oval or a round waist."""
    out = {"waist": waist, "waist_height": float(lot.uniform(0.98, 1.15))}
    if lot.random() < 0.5:
        out |= {"waist_breadth": 0.3, "waist_depth": float(lot.uniform(0.2, 0.3))}
    if lot.random() < 0.5:
        out |= {"hip": waist + float(lot.uniform(0.15, 0.35)), "hip_drop": 0.2}
    return out


def touching(seed: int) -> Design:
    """A usual design whose top hoop is as long as the hips are round, or a little more.

    Hips are broader than they are deep, so that a hoop of their girth lies on them at the sides.
    """
    lot, design = np.random.default_rng(1000 + seed), usual(seed)
    measured = design.wearer.model_dump(exclude_none=True, exclude={"hip", "hip_drop"})
    hip = max(design.hoops[0].length * lot.uniform(0.94, 1.0), 1.08 * design.wearer.waist)
    down = float(np.mean([drops[0] for drops in design.tapes.drops])) * lot.uniform(0.8, 1.2)
    hips = {"hip": float(hip), "hip_drop": float(np.clip(down, 0.12, 0.3))}
    return design.model_copy(update={"wearer": type(design.wearer).model_validate(measured | hips)})


def cone(lot: Lot, tapes: int, hoops: int, drop: float, widest: float) -> dict[str, Any]:
    """A plain cage: hoops from 1.2 waists to `widest` m round, each `drop` m below the one above it, on even tapes."""
    waist = float(lot.uniform(0.65, 0.8))
    lengths = np.linspace(1.2 * waist, widest, hoops) if hoops > 1 else np.array([widest])
    steps = np.abs(np.diff(np.append(waist, lengths))) / (2 * np.pi)
    width, thickness = STRIPS[int(lot.integers(2, len(STRIPS)))]
    return {
        "name": "drawn by lot",
        "wearer": {"waist": waist, "waist_height": 1.1},
        "steel": {"width": width, "thickness": thickness},
        "tapes": {"count": tapes, "drops": [np.hypot(steps, drop).tolist()] * tapes},
        "hoops": [{"length": float(length)} for length in lengths],
        "skirt": {"weight": float(lot.uniform(0.3, 1.2))},
    }  # fmt: skip


def dense(seed: int) -> Design:
    """Eight hoops or more a hand's breadth apart, on fourteen tapes or more."""
    lot = np.random.default_rng(2000 + seed)
    written = cone(lot, int(lot.integers(14, 21)), int(lot.integers(8, 11)), 0.06, lot.uniform(2.0, 2.6))
    return Design.model_validate(written | {"name": f"dense {seed}"})


def tilted(seed: int) -> Design:
    """Hoops that lean to the front or the back: tapes shorter towards one side, on a waist higher there or not."""
    lot = np.random.default_rng(3000 + seed)
    tapes = int(lot.integers(6, 11))
    written = cone(lot, tapes, int(lot.integers(2, 5)), 0.14, lot.uniform(1.6, 2.2))
    towards, share = 2 * np.pi * (np.arange(tapes) + 0.5) / tapes, lot.uniform(0.12, 0.25)
    lean = 1.0 + share * np.cos(towards) * lot.choice([-1.0, 1.0])
    written["tapes"]["drops"] = (np.array(written["tapes"]["drops"]) * lean[:, None]).tolist()
    if lot.integers(2):
        written["wearer"]["waist_height"] = {"front": 1.11, "left": 1.1, "back": 1.09, "right": 1.1}
    return Design.model_validate(written | {"name": f"tilted {seed}"})


def opened(seed: int) -> Design:
    """Every hoop open, at the front or the back, the ends held together by a tie."""
    lot = np.random.default_rng(4000 + seed)
    tapes, hoops = int(lot.integers(6, 11)), int(lot.integers(2, 5))
    written = cone(lot, tapes, hoops, 0.13, lot.uniform(1.6, 2.2))
    side = str(lot.choice(["front", "back"]))
    ends = (1, tapes) if side == "front" else (tapes // 2, tapes // 2 + 1)
    for hoop in written["hoops"]:
        hoop["opening"] = side
    gap = float(written["hoops"][-1]["length"]) / tapes
    written["ties"] = [
        {"from": f"hoop {hoops} tape {ends[0]}", "to": f"hoop {hoops} tape {ends[1]}", "length": 0.9 * gap}
    ]
    return Design.model_validate(written | {"name": f"open {seed}"})


def asymmetric(seed: int) -> Design:
    """No two tapes alike and no two sides: uneven stations, and a panel that is laced at her left alone."""
    lot = np.random.default_rng(5000 + seed)
    tapes = int(lot.integers(6, 10))
    written = cone(lot, tapes, int(lot.integers(2, 5)), 0.15, lot.uniform(1.6, 2.2))
    drops = np.array(written["tapes"]["drops"])
    written["tapes"]["drops"] = (drops * lot.uniform(0.98, 1.06, drops.shape)).tolist()
    even = (np.arange(tapes) + 0.5) / tapes
    written["tapes"]["stations"] = tuple(np.sort(even + lot.uniform(-0.2, 0.2, tapes) / tapes).tolist())
    written["panels"] = [{"tapes": (2, 3), "hoops": (len(written["hoops"]),), "tightness": 0.1}]
    return Design.model_validate(written | {"name": f"asymmetric {seed}"})


def anything(seed: int) -> Design:
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
        "hoops": [any_hoop(rng, length) for length in lengths],
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


def any_hoop(rng: Lot, length: float) -> dict[str, Any]:
    opening = str(rng.choice(["none", "none", "front", "back"]))
    join: Any = [None, "none", {"tube": 0.03}, {"overlap": 0.05}][int(rng.integers(4))]
    return {"length": float(length), "opening": opening, "join": join if opening == "none" else None}


KINDS: dict[str, Callable[[int], Design]] = {
    "usual": usual,
    "dense": dense,
    "touching": touching,
    "tilted": tilted,
    "open": opened,
    "asymmetric": asymmetric,
    "any": anything,
}

"""Designs drawn by lot, seeded: such as a maker could write, with ties, gaps, skirts and skew in them."""

from __future__ import annotations

import numpy as np

from cage3d.design.models import Design

STRIPS = (
    (0.006, 0.0005),
    (0.007, 0.0005),
    (0.010, 0.0005),
    (0.012, 0.0005),
    (0.010, 0.0006),
    (0.0127, 0.0007),
)


def random_design(seed: int) -> Design:
    """One design in SI units; the same seed gives the same design."""
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


def wearer(lot: np.random.Generator, waist: float) -> dict[str, float]:
    """A wearer; half of them with a hip to touch, on an oval or a round waist."""
    out = {"waist": waist, "waist_height": float(lot.uniform(0.98, 1.15))}
    if lot.random() < 0.5:
        out |= {"waist_breadth": 0.3, "waist_depth": float(lot.uniform(0.2, 0.3))}
    if lot.random() < 0.5:
        out |= {"hip": waist + float(lot.uniform(0.15, 0.35)), "hip_drop": 0.2}
    return out


def touching_design(seed: int) -> Design:
    """A design drawn by lot whose top hoop is as long as the hips are round, or a little more.

    Hips are broader than they are deep, so that a hoop of their girth lies on them at the sides.
    """
    lot, design = np.random.default_rng(1000 + seed), random_design(seed)
    measured = design.wearer.model_dump(exclude_none=True, exclude={"hip", "hip_drop"})
    hip = max(design.hoops[0].length * lot.uniform(0.94, 1.0), 1.08 * design.wearer.waist)
    down = float(np.mean([drops[0] for drops in design.tapes.drops])) * lot.uniform(0.8, 1.2)
    hips = {"hip": float(hip), "hip_drop": float(np.clip(down, 0.12, 0.3))}
    return design.model_copy(update={"wearer": type(design.wearer).model_validate(measured | hips)})

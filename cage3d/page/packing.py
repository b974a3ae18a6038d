"""Parts, labels and ruler as the data of the page: whole numbers packed tight, the same bytes every time."""

from __future__ import annotations

import base64
from collections.abc import Sequence
from typing import Any

import numpy as np

from cage3d.scene.labels import Label
from cage3d.scene.shown import ScenePart
from cage3d.shape.arrays import Floats
from cage3d.steady import SPARE, steady
from cage3d.units import INCH, show_length

STEPS = 65535  # of a part's extent: 0.03 mm on a part of 2 m
RULERS = {
    "in": [INCH * count for count in (0.5, 1, 2, 4, 6, 12, 24, 48)],
    "mm": [0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1.0],
}


def scene_data(parts: Sequence[ScenePart], labels: Sequence[Label], units: str | None) -> dict[str, Any]:
    """What page.js draws."""
    solid = np.vstack([part.vertices for part in parts if part.shown and part.group != "floor"])
    low, high = np.minimum(solid.min(axis=0), [np.inf, np.inf, 0.0]), solid.max(axis=0)
    wide = float(np.hypot(*(solid - (low + high) / 2.0)[:, :2].T).max())
    ground = max(
        [wide, *(float(np.ptp(part.vertices[:, 0])) / 2.0 for part in parts if part.group == "floor")]
    )
    return {
        "centre": _short((low + high) / 2.0),
        "tall": steady(float(high[2] - low[2]) / 2.0, 5),
        "wide": steady(wide, 5),
        "ground": steady(ground, 5),
        "parts": [_part_data(part) for part in parts],
        "labels": [
            {"text": label.text, "more": label.more, "short": label.short, "side": label.side,
             "group": label.group, "number": label.number, "path": [_short(place) for place in label.path]}
            for label in labels
        ],
        "rulers": [{"length": round(length, 6), "text": show_length(length, units)}
                   for length in RULERS["in" if units in ("in", "ft") else "mm"]],
    }  # fmt: skip


def _part_data(part: ScenePart) -> dict[str, Any]:
    low = part.vertices.min(axis=0)
    size = np.maximum(part.vertices.max(axis=0) - low, 1e-9)
    # Padded to multiples of four bytes, which is what graphics hardware reads.
    places = np.zeros((len(part.vertices), 4), dtype="<u2")
    places[:, :3] = np.rint(np.round((part.vertices - low) / size * STEPS, SPARE))
    normals = np.zeros((len(part.vertices), 4), dtype="i1")
    normals[:, :3] = np.rint(np.round(part.normals * 127, SPARE))
    return {
        "name": part.name, "group": part.group, "number": part.number, "shown": part.shown,
        "colour": [round(float(value), 4) for value in part.colour], "metal": part.metal, "rough": part.rough,
        "low": _short(low), "size": _short(size),
        "positions": _packed(places), "normals": _packed(normals),
        "indices": _packed(part.faces.astype("<u4")), "indexCount": int(part.faces.size),
    }  # fmt: skip


def _packed(values: np.ndarray[Any, Any]) -> str:
    return base64.b64encode(np.ascontiguousarray(values).tobytes()).decode("ascii")


def _short(values: Floats) -> list[float]:
    """To a hundredth of a millimetre."""
    return [steady(float(value), 5) for value in values]

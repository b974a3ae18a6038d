"""Parts, labels, points and pulls as the data of the page: whole numbers packed tight, the same bytes every time."""

from __future__ import annotations

import base64
from collections.abc import Sequence
from typing import Any

import numpy as np
from numpy.typing import NDArray

from cage3d.mesh.dressing import SLID_STEPS
from cage3d.page.shown_cage import WORN, ShownCage, ShownStage
from cage3d.scene.labels import Label
from cage3d.scene.shown import ScenePart
from cage3d.shape.arrays import Floats
from cage3d.steady import SPARE, all_steady, steady
from cage3d.units import INCH, show_length

STEPS = 65535  # of a part's extent: 0.03 mm on a part of 2 m
STILL = 1e-7  # m; a part that moves less from stage to stage is packed once
RULERS = {
    "in": [INCH * count for count in (0.5, 1, 2, 4, 6, 12, 24, 48)],
    "mm": [0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1.0],
}


def scene_data(cages: Sequence[ShownCage], units: str | None) -> dict[str, Any]:
    """What the page's scripts draw: the cages, and how much of the room they take at every stage."""
    every = [part for cage in cages for stage in cage.stages for part in stage.parts]
    opened = [part for part in every if part.shown]
    solid = np.vstack([part.vertices for part in opened if part.group != "floor"])
    middle = (solid.min(axis=0) + solid.max(axis=0)) / 2.0
    floors = [float(np.ptp(part.vertices[:, 0])) / 2.0 for part in opened if part.group == "floor"]
    kept = sorted({part.group for part in every} - {part.group for part in opened})
    return {
        "units": units or "mm",
        "middle": short(middle[:2]),
        "opened": extent(solid, middle) | {"low": steady(min(float(solid[:, 2].min()), 0.0), 5)},
        "putOn": {
            group: extent(np.vstack([part.vertices for part in every if part.group == group]), middle) for group in kept
        },
        "ground": max([0.0, *(steady(floor, 5) for floor in floors)]),
        "stages": stage_names(cages),
        "cages": [cage_data(cage) for cage in cages],
        "rulers": [{"length": round(length, 6), "text": show_length(length, units)}
                   for length in RULERS["in" if units in ("in", "ft") else "mm"]],
    }  # fmt: skip


def extent(places: Floats, middle: Floats) -> dict[str, float]:
    """Between which heights (n, 3) places lie, and how far off the upright line through a middle; m."""
    wide = float(np.hypot(*(places - middle)[:, :2].T).max())
    low, high = float(places[:, 2].min()), float(places[:, 2].max())
    return {"low": steady(low, 5), "high": steady(high, 5), "wide": steady(wide, 5)}


def stage_names(cages: Sequence[ShownCage]) -> list[str]:
    """Every stage that one of the cages has, in the order of hanging; the last is the cage as worn.

    Stages that are variants of one design stand in their own order.
    """
    order = ("bare", "ties open", "ties fastened", *SLID_STEPS, WORN)
    found = dict.fromkeys(stage.name for cage in cages for stage in cage.stages)
    return [name for name in order if name in found] or list(found)


def cage_data(cage: ShownCage) -> dict[str, Any]:
    worn = cage.stages[-1]
    earlier = cage.stages[:-1]
    return {
        "parts": [
            part_data(part, {stage.name: stage.parts[place] for stage in earlier})
            for place, part in enumerate(worn.parts)
        ],
        "names": [
            {"name": point.name, "hoop": point.hoop, "outermost": point.outermost} for point in worn.points
        ],
        "stages": {stage.name: stage_data(stage) for stage in cage.stages},
    }


def stage_data(stage: ShownStage) -> dict[str, Any]:
    return {
        "labels": [label_data(label) for label in stage.labels],
        "points": [short(point.place) for point in stage.points],
        "pulls": [
            {"line": short(pull.line), "pull": steady(pull.pull, 4),
             "slack": steady(pull.slack, 5), "words": pull.words, "group": pull.group, "number": pull.number}
            for pull in stage.pulls
        ],
        "contacts": [{"place": short(contact.place), "words": contact.words} for contact in stage.contacts],
        "bent": [
            {"line": short(bent.line), "words": bent.words,
             "group": "hoops", "number": bent.number}
            for bent in stage.bent
        ],
    }  # fmt: skip


def label_data(label: Label) -> dict[str, Any]:
    return {
        "text": label.text, "more": label.more, "short": label.short, "side": label.side,
        "group": label.group, "number": label.number, "path": short(label.path),
    }  # fmt: skip


def part_data(part: ScenePart, earlier: dict[str, ScenePart]) -> dict[str, Any]:
    moves = any(np.abs(shape.vertices - part.vertices).max() > STILL for shape in earlier.values())
    return {
        "name": part.name, "group": part.group, "number": part.number,
        "colour": [round(float(value), 4) for value in part.colour], "metal": part.metal, "rough": part.rough,
        **shape_data(part),
        "stages": {name: shape_data(shape) for name, shape in earlier.items()} if moves else {},
        "indices": packed(part.faces.astype("<u4")), "indexCount": int(part.faces.size),
    }  # fmt: skip


def shape_data(part: ScenePart) -> dict[str, Any]:
    low, size, places, normals = packed_places(part)
    return {
        "low": short(low),
        "size": short(size),
        "positions": packed(places),
        "normals": packed(normals),
    }


def packed_places(part: ScenePart) -> tuple[Floats, Floats, NDArray[np.uint16], NDArray[np.int8]]:
    """(lowest corner, extent, each (3,) m; places in steps of that, normals, each (n, 4)).

    The last of each four is padding, to multiples of four bytes, which is what graphics hardware reads.
    """
    low = part.vertices.min(axis=0)
    size = np.maximum(part.vertices.max(axis=0) - low, 1e-9)
    places = np.zeros((len(part.vertices), 4), dtype="<u2")
    places[:, :3] = np.rint(np.round((part.vertices - low) / size * STEPS, SPARE))
    normals = np.zeros((len(part.vertices), 4), dtype="i1")
    normals[:, :3] = np.rint(np.round(part.normals * 127, SPARE))
    return low, size, places, normals


def packed(values: np.ndarray[Any, Any]) -> str:
    return base64.b64encode(np.ascontiguousarray(values).tobytes()).decode("ascii")


def short(values: Floats) -> list[Any]:
    """To a hundredth of a millimetre: numbers of (n,), lists of three of (n, 3)."""
    told: list[Any] = all_steady(values, 5).tolist()
    return told

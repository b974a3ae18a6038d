"""The model's parts with the looks of their materials, as page and pictures show them."""

from __future__ import annotations

from collections.abc import Set
from dataclasses import dataclass

from cage3d.mesh.part import Part
from cage3d.mesh.parts import build_parts
from cage3d.scene.looks import LOOKS
from cage3d.settle.state import SettledCage
from cage3d.shape.arrays import Floats, Ints

# A skirt would veil what is looked at; the wearer stands where her form stands.
HIDDEN_AT_FIRST = frozenset({"skirt", "wearer"})


@dataclass(frozen=True)
class ScenePart:
    """One part to draw."""

    name: str
    group: str
    number: int  # of its hoop, tape, tie or panel, 0 where it has none
    vertices: Floats  # (n, 3) m
    normals: Floats  # (n, 3) unit
    faces: Ints  # (m, 3)
    colour: tuple[
        float, float, float, float
    ]  # red, green, blue, opacity, each 0 to 1, as a screen shows them
    metal: float  # 0 cloth to 1 steel
    rough: float  # 0 mirror to 1 dull
    shown: bool  # at first


def scene_parts(
    settled: SettledCage, wanted: Set[str] | None = None, hidden: Set[str] = HIDDEN_AT_FIRST
) -> list[ScenePart]:
    """The model's parts with the looks of their materials.

    wanted: their kinds, None for all usual ones; hidden: kinds that are not shown at first.
    """
    return [scene_part(part, part.kind not in hidden) for part in build_parts(settled, wanted)]


def scene_part(part: Part, shown: bool) -> ScenePart:
    look = LOOKS[part.material]
    return ScenePart(
        part.name, part.kind, part.number, part.vertices, part.normals, part.faces, (*look.srgb, look.opacity),
        look.metallic, look.roughness, shown,
    )  # fmt: skip

"""A settled cage as GLB: metres, y up, her front on +Z, her left on +X (glTF 2.0, section 3.4).

One node and one mesh a part, both under the part's own name, in groups under the root
"cage". The change of axes is in the vertices, so nothing leans on a viewer turning a root
node. Stages (bare, tied) are morph targets against the cage as worn, with a short
animation that begins and ends with the cage as worn, so that a viewer that stops at any
end of it, or plays none, shows what the report tells.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence, Set
from importlib.metadata import PackageNotFoundError, version
from io import BytesIO

import numpy as np
from PIL import Image

from cage3d.mesh.dressing import DressingStep
from cage3d.mesh.extras import Extras
from cage3d.mesh.part import KINDS, Part
from cage3d.mesh.parts import build_parts
from cage3d.report import Report
from cage3d.report.how_sure import legend
from cage3d.scene.looks import LOOKS
from cage3d.settle.state import SettledCage
from cage3d.shape.arrays import Floats
from cage3d.write.gltf import Binary

STILL = 1e-7  # m; a part that moves less from stage to stage gets no morph targets
TRANSFORM = "KHR_texture_transform"
WEAVE = 0.0016  # m, the picture's width: two threads of grosgrain [common practice]
THREADS = ((255, 251, 255, 247), (251, 253, 247, 253), (255, 247, 255, 251), (247, 253, 251, 253))  # of 255
LINEAR, LINEAR_MIPMAP_LINEAR, REPEAT = 9729, 9987, 10497  # glTF 2.0, 5.26
REST, MOVE = 0.8, 1.6  # s that each stage stands, and that the change to the next one takes


def glb_bytes(
    settled: SettledCage,
    stages: Sequence[DressingStep] = (),
    wanted: Set[str] | None = None,
    fine: bool = False,
    report: Report | None = None,
) -> bytes:
    """The model as the bytes of a GLB file; the same cage gives the same bytes.

    stages: earlier states of the same cage, in order, as mesh.dressing.dressing_steps gives them;
    wanted: kinds of part (mesh.part.KINDS), None for all; fine: hoops in smaller steps;
    report: with it the notes tell how sure heights and widths are.
    """
    parts = build_parts(settled, wanted, fine)
    earlier = [build_parts(stage.settled, wanted, fine) for stage in stages]
    binary = Binary()
    used = [name for name in LOOKS if any(part.material == name for part in parts)]
    meshes: list[dict[str, object]] = []
    moving: list[int] = []
    for place, part in enumerate(parts):
        shapes = [shape[place] for shape in earlier]
        mesh = mesh_of(binary, part, shapes, used.index(part.material))
        if "weights" in mesh:
            mesh["extras"] = {"targetNames": [stage.name for stage in stages]}
            moving.append(place)
        meshes.append(mesh)
    nodes, node_of_part = node_tree(settled, parts, report)
    tree: dict[str, object] = {
        "asset": {"version": "2.0", "generator": generator()},
        "scene": 0,
        "scenes": [{"name": "cage3d", "nodes": [0]}],
        "nodes": nodes,
        "meshes": meshes,
        "materials": [material_of(name) for name in used],
        **weave(binary),
    }
    if moving:
        tree["animations"] = [animation(binary, stages, [node_of_part[place] for place in moving])]
    return binary.container(tree)


def to_gltf_axes(points: Floats) -> Floats:
    """(n, 3) in X left, Y up, Z front from x left, y back, z up: a rotation, so triangles stay outward."""
    return np.column_stack([points[:, 0], points[:, 2], -points[:, 1]])


def generator() -> str:
    """The tool and its version."""
    try:
        return f"cage3d {version('cage3d')}"
    except PackageNotFoundError:
        return "cage3d"


def mesh_of(binary: Binary, part: Part, earlier: Sequence[Part], material: int) -> dict[str, object]:
    """One mesh of one primitive, with a morph target a stage where the part moves."""
    primitive: dict[str, object] = {
        "attributes": {
            "POSITION": binary.vectors(to_gltf_axes(part.vertices)),
            "NORMAL": binary.vectors(to_gltf_axes(part.normals)),
            "TEXCOORD_0": binary.vectors(part.flat),
        },
        "indices": binary.indices(part.faces),
        "material": material,
    }
    mesh: dict[str, object] = {"name": part.name, "primitives": [primitive]}
    if any(np.abs(shape.vertices - part.vertices).max() > STILL for shape in earlier):
        primitive["targets"] = [
            {
                "POSITION": binary.vectors(to_gltf_axes(shape.vertices - part.vertices)),
                "NORMAL": binary.vectors(to_gltf_axes(shape.normals - part.normals)),
            }
            for shape in earlier
        ]
        mesh["weights"] = [0.0] * len(earlier)
    return mesh


def node_tree(
    settled: SettledCage, parts: Sequence[Part], report: Report | None = None
) -> tuple[list[dict[str, object]], list[int]]:
    """The tree cage > kind > part, and the node of each part. A kind that is one part needs no group."""
    groups = [kind for kind in KINDS if any(part.kind == kind and part.name != kind for part in parts)]
    first = 1 + len(groups)
    children: dict[str, list[int]] = {kind: [] for kind in groups}
    top: list[int] = []
    for place, part in enumerate(parts):
        children.get(part.kind, top).append(first + place)
    root: dict[str, object] = {
        "name": "cage",
        "extras": cage_extras(settled, report),
        "children": [*range(1, first), *top],
    }
    nodes: list[dict[str, object]] = [root]
    nodes += [{"name": kind, "children": children[kind], "extras": {"part": KINDS[kind]}} for kind in groups]
    nodes += [
        {"name": part.name, "mesh": place, "extras": extras(part, report)} for place, part in enumerate(parts)
    ]
    return nodes, [first + place for place in range(len(parts))]


def extras(part: Part, report: Report | None) -> dict[str, object]:
    numbered = {"number": part.number} if part.number else {}
    sure = hoop_sure(report, part.number) if report is not None and part.kind == "hoops" else {}
    return {"part": part.name, "kind": part.kind, **numbered, **part.extras, **sure}


def hoop_sure(report: Report, number: int) -> dict[str, object]:
    """What a hoop's heights and widths may be more or less, in metres and in the design's units."""
    if report.certainty is None:
        return {}
    own, told = report.certainty.hoops[number - 1], Extras(report.units)
    for name, most in (("heights_within", max(own.heights)), ("widths_within", max(own.widths))):
        told.add_within(name, most)
    return told.all


def cage_extras(settled: SettledCage, report: Report | None) -> dict[str, object]:
    design = settled.cage.design
    sure = [] if report is None else legend(report)
    return {
        **({"how_sure": "; ".join(sure)} if sure else {}),
        "design": design.name,
        "units": design.units or "mm",
        "settled": settled.settled,
        "stable": settled.stable,
        "caution": "A prediction, not a safety certificate.",
    }


def material_of(name: str) -> Mapping[str, object]:
    look = LOOKS[name]
    material: dict[str, object] = {
        "name": name,
        "pbrMetallicRoughness": {
            "baseColorFactor": [*(round(value, 6) for value in look.linear), look.opacity],
            "baseColorTexture": {"index": 0, "extensions": {TRANSFORM: {"scale": [1.0 / WEAVE] * 2}}},
            "metallicFactor": look.metallic,
            "roughnessFactor": look.roughness,
        },
    }
    if look.opacity < 1.0:
        material["alphaMode"] = "BLEND"
    if look.both_sides:
        material["doubleSided"] = True
    return material


def weave(binary: Binary) -> dict[str, object]:
    """The one picture that every material is covered with, repeated along its surface laid flat.

    TEXCOORD_0 is in metres, along and across, so that a cloth laid on in another program comes out at its true
    size. Threads that go over and under by turns, so faint that the colours stay those of scene.looks; without
    a picture that uses them coordinates would count as unused, and programs that tidy up would drop them.
    """
    picture = Image.fromarray(np.array(THREADS, dtype=np.uint8))
    png = BytesIO()
    picture.save(png, "PNG", compress_level=0)  # stored: the same bytes whatever packs it
    return {
        "extensionsUsed": [TRANSFORM],
        "images": [{"name": "weave", "mimeType": "image/png", "bufferView": binary.image(png.getvalue())}],
        "samplers": [
            {"magFilter": LINEAR, "minFilter": LINEAR_MIPMAP_LINEAR, "wrapS": REPEAT, "wrapT": REPEAT}
        ],
        "textures": [{"name": "weave", "sampler": 0, "source": 0}],
    }


def animation(binary: Binary, stages: Sequence[DressingStep], nodes: Sequence[int]) -> dict[str, object]:
    """The cage as worn, every stage from the first, as worn again: each stands, then changes evenly to the next."""
    names = ["as worn", *(stage.name for stage in stages), "as worn"]
    steps = np.arange(len(names))
    times = np.stack([steps * (REST + MOVE), steps * (REST + MOVE) + REST], axis=1).ravel()
    worn = np.zeros((1, len(stages)))
    weights = np.repeat(np.vstack([worn, np.eye(len(stages)), worn]), 2, axis=0)
    sampler = {
        "input": binary.scalars(times, limits=True),
        "output": binary.scalars(weights),
        "interpolation": "LINEAR",
    }
    channels = [{"sampler": 0, "target": {"node": node, "path": "weights"}} for node in nodes]
    return {"name": " to ".join(names), "samplers": [sampler], "channels": channels}

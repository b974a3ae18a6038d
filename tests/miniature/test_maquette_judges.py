"""What slicers and mesh checkers we did not write make of the miniatures."""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import cache
from pathlib import Path

import numpy as np
import pytest
from judges import admesh_counts, program, run
from models import LETTERS, SLOTTED, sample

from cage3d.miniature.flat.kit import build_flat
from cage3d.miniature.maquette import Maquette, build_maquette
from cage3d.miniature.order import Order
from cage3d.miniature.process import process_of
from cage3d.miniature.supports import printing_of
from cage3d.results import plate_stl
from cage3d.write.threemf import threemf_bytes

pytestmark = pytest.mark.judge

# Standing at 1:12, D's tapes are too near to each other at hoop 1.
STANDING = [
    (letter, scale) for letter in LETTERS for scale in ("1:6", "1:12") if (letter, scale) != ("d", "1:12")
]
LAYER = 0.5  # mm; coarse, so that slicing takes seconds
NOZZLE = 0.6
BED = 300.0  # mm
SETTINGS = {
    "bed-shape": f"0x0,{BED:g}x0,{BED:g}x{BED:g},0x{BED:g}",
    "nozzle-diameter": NOZZLE,
    "layer-height": LAYER,
    "first-layer-height": LAYER,
    "max-print-height": 400,
    "fill-density": "5%",
    "perimeters": 1,
    "top-solid-layers": 1,
    "bottom-solid-layers": 1,
    "skirts": 0,
    "perimeter-generator": "classic",
    "seam-position": "rear",  # half of the slicing time is spent on where to hide seams otherwise
    "resolution": 0.05,
    "gcode-resolution": 0.05,
    "support-material-spacing": 8,
    "support-material-interface-layers": 0,
    "gcode-comments": None,
}
REPAIRS = (
    "Edges fixed", "Facets removed", "Facets added", "Facets reversed", "Backwards edges", "Normals fixed",
    "Degenerate facets",
)  # fmt: skip


@cache
def printed(letter: str, scale: str) -> Maquette:
    return build_maquette(sample(letter), Order(scale, "filament"))


@cache
def laid_flat(letter: str, scale: str) -> Maquette:
    return build_flat(sample(letter), Order(scale, "filament", bed=f"{BED:g}x{BED:g}x250"))


def sliced(path: Path, *more: str, settings: Mapping[str, object] = SETTINGS) -> str:
    """The g-code of a file. Fails where the slicer ends with an error or repairs something."""
    options = [f"--{key}" if value is None else f"--{key}={value}" for key, value in settings.items()]
    out = path.with_suffix(".gcode")
    done = run([program("prusa-slicer"), "--export-gcode", *options, *more, "-o", str(out), str(path)])
    said = done.stdout + done.stderr
    assert done.returncode == 0, said
    assert not re.search(r"repair|open edges|not manifold|empty layer", said, re.IGNORECASE), said
    return out.read_text("utf-8")


def extruded(gcode: str, supports: bool = False) -> dict[float, float]:
    """mm of filament pushed while drawing the model, or its supports, at every height."""
    height, last, kind, drawn = 0.0, 0.0, "", {}
    for line in gcode.splitlines():
        if line.startswith(";TYPE:"):
            kind = line.removeprefix(";TYPE:")
        words = dict(re.findall(r"\b([XYZE])(-?\d*\.?\d+)", line.split(";")[0]))
        if line.startswith("G92") and "E" in words:
            last = float(words["E"])
        if not line.startswith("G1"):
            continue
        height = float(words.get("Z", height))
        if "E" in words:
            pushed, last = float(words["E"]) - last, float(words["E"])
            if pushed > 0.0 and ("X" in words or "Y" in words) and kind.startswith("Support") == supports:
                drawn[height] = drawn.get(height, 0.0) + pushed
    return drawn


@pytest.mark.judge("admesh")
@pytest.mark.parametrize(("letter", "scale"), STANDING)
def test_admesh_finds_nothing_to_repair(letter: str, scale: str, tmp_path: Path) -> None:
    flat = laid_flat(letter, scale).plates if letter in SLOTTED else ()
    plates = [printed(letter, scale).bodies, *flat]
    for number, plate in enumerate(plates):
        path = tmp_path / f"{number}.stl"
        path.write_bytes(plate_stl(plate))
        counts = admesh_counts(path)
        assert {name: counts[name] for name in REPAIRS if name in counts} == dict.fromkeys(
            (name for name in REPAIRS if name in counts), 0
        )
        assert counts["Number of parts"] == len(plate)
        assert counts["Number of facets"] == sum(len(body.triangles) for body in plate)


@pytest.mark.judge("prusa-slicer")
@pytest.mark.parametrize(("letter", "scale"), STANDING)
def test_slicer_prints_material_at_every_hoop(letter: str, scale: str, tmp_path: Path) -> None:
    """The layers a hoop runs through get more filament than tapes and posts take there, near its own volume."""
    made = printed(letter, scale)
    path = tmp_path / "miniature.3mf"
    path.write_bytes(threemf_bytes(made.bodies, made.metadata))
    drawn = extruded(sliced(path, "--support-material", "--support-material-auto"))
    heights, pushed = np.array(list(drawn)), np.array(list(drawn.values()))
    per_mm = 1e3 / float(scale.removeprefix("1:"))
    settled, base = sample(letter), process_of("filament").base
    filament = np.pi * 1.75**2 / 4
    for nodes in settled.cage.connectivity.hoop_nodes:
        hoop = settled.positions[nodes] * per_mm
        low, high = hoop[:, 2].min() + base - 1.0, hoop[:, 2].max() + base + 1.0
        band = (heights > low) & (heights < high + LAYER)
        assert heights[band].size >= 2.0 / LAYER - 1
        length = np.linalg.norm(np.diff(hoop, axis=0), axis=1).sum()
        # Tapes, stem and posts alone put less than a third of a solid hoop into this band.
        assert pushed[band].sum() * filament > length * 2.0 * 2.0 * 2 / 3


@pytest.mark.judge("prusa-slicer")
@pytest.mark.parametrize("scale", ["1:6", "1:12"])
@pytest.mark.parametrize("letter", SLOTTED)
def test_slicer_prints_the_flat_pieces(letter: str, scale: str, tmp_path: Path) -> None:
    """The default kind, bed by bed: as much plastic as they hold, all within their height, hardly any supports."""
    made = laid_flat(letter, scale)
    for number, plate in enumerate(made.plates):
        path = tmp_path / f"plate-{number}.3mf"
        path.write_bytes(threemf_bytes(plate, made.metadata))
        solid = ("--fill-density=100%", "--fill-pattern=rectilinear", "--dont-arrange")
        gcode = sliced(path, *solid, "--support-material", "--support-material-auto")
        drawn, supports = extruded(gcode), extruded(gcode, supports=True)
        assert max(drawn) <= 3.0 + LAYER
        held = sum(body.volume for body in plate)
        assert sum(drawn.values()) * np.pi * 1.75**2 / 4 == pytest.approx(held, rel=0.2)
        assert sum(supports.values()) < 0.15 * sum(drawn.values())


# As a slicer comes, but for the bed.
USUAL = {"bed-shape": SETTINGS["bed-shape"], "max-print-height": 400, "nozzle-diameter": 0.4, "layer-height": 0.2,
         "first-layer-height": 0.2, "perimeters": 2, "fill-density": "15%", "gcode-comments": None}  # fmt: skip


@pytest.mark.judge("prusa-slicer")
def test_what_is_told_of_printing_is_near_what_a_slicer_plans(tmp_path: Path) -> None:
    """Sample a standing at 1:12, of which most is supports, at a slicer's usual settings: within a third."""
    made = printed("a", "1:12")
    path = tmp_path / "standing.3mf"
    path.write_bytes(threemf_bytes(made.bodies, made.metadata))
    gcode = sliced(path, "--support-material", "--support-material-auto", settings=USUAL)
    told, cm3 = printing_of(made.plates), np.pi * 1.75**2 / 4 / 1e3
    assert told.supports == pytest.approx(sum(extruded(gcode, supports=True).values()) * cm3, rel=1 / 3)
    assert told.part == pytest.approx(sum(extruded(gcode).values()) * cm3, rel=1 / 3)
    (line,) = (line for line in gcode.splitlines() if "printing time (normal mode)" in line)
    hours, minutes = (int(re.findall(rf"(\d+){unit}", line)[0]) for unit in "hm")
    assert told.hours == pytest.approx(hours + minutes / 60, rel=1 / 3)

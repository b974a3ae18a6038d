"""What is engraved on the base, read back from a picture of the layer that a printer lays there."""

from __future__ import annotations

import numpy as np
import pytest
import trimesh
from models import sample
from PIL import Image, ImageDraw

from cage3d.miniature.flat.kit import build_flat
from cage3d.miniature.maquette import Maquette, build_maquette
from cage3d.miniature.order import Order
from cage3d.miniature.process import process_of
from cage3d.miniature.text import STROKES
from cage3d.results import plate_stl

PIXELS = 25  # a millimetre
Mask = np.ndarray[tuple[int, int], np.dtype[np.bool_]]


def layer_of(made: Maquette, stroke_depth: float) -> Mask:
    """The base's layer half way down the grooves, true where there is none of its plastic inside its outline."""
    (base,) = (body for body in made.bodies if body.name in ("cage", "base"))
    mesh = trimesh.load(trimesh.util.wrap_as_stream(plate_stl((base,))), file_type="stl")
    height = process_of("filament").base - stroke_depth / 2.0
    rings = mesh.section([0, 0, 1], [0, 0, height]).discrete
    # The holes for the stand's tabs are rectangles; letters have round ends.
    rings = [ring[:, :2] for ring in rings if fullness(ring) < 0.99]
    low, high = (end([end(ring, axis=0) for ring in rings], axis=0) for end in (np.min, np.max))
    plastic, outline = (np.zeros(1, dtype=bool),) * 2
    for ring in sorted(rings, key=lambda ring: -float(np.ptp(ring[:, 0]))):
        picture = Image.new("1", tuple(int(side) for side in (high - low) * PIXELS + 3), 0)
        ImageDraw.Draw(picture).polygon([tuple(place) for place in (ring - low) * PIXELS + 1], fill=1)
        filled = np.asarray(picture)[::-1]
        outline = outline if outline.size > 1 else filled  # the widest ring is the base's own
        plastic = plastic ^ filled  # inside an O is plastic again
    return np.asarray(outline & ~plastic)


def fullness(ring: np.ndarray) -> float:
    """Its area over that of the box round it."""
    x, y = ring[:, 0], ring[:, 1]
    area = abs(float((x[:-1] * y[1:] - x[1:] * y[:-1]).sum())) / 2.0
    return area / float(np.ptp(x) * np.ptp(y))


def cropped(mask: Mask) -> Mask:
    """Without the empty rows and columns round it."""
    rows, columns = (runs(mask.any(axis=axis)) for axis in (1, 0))
    return mask[rows[0].start : rows[-1].stop, columns[0].start : columns[-1].stop]


def runs(filled: np.ndarray) -> list[slice]:
    """The stretches of a row of truths that are true."""
    edges = np.flatnonzero(np.diff(np.concatenate([[0], filled.astype(int), [0]])))
    return [slice(int(start), int(end)) for start, end in edges.reshape(-1, 2)]


def template(sign: str, unit: float, stroke: float) -> Mask:
    """A sign as a round pen of this width draws it; px."""
    picture = Image.new("L", (int(4 * unit + 2 * stroke), int(6 * unit + 2 * stroke)), 0)
    drawn = ImageDraw.Draw(picture)
    for line in STROKES[sign].split():
        places = [(stroke + int(p[0]) * unit, stroke + (6 - int(p[1])) * unit) for p in line.split("-")]
        drawn.line(places, fill=255, width=round(stroke))
        for x, y in places:
            half = stroke / 2.0
            drawn.ellipse((x - half, y - half, x + half, y + half), fill=255)
    return cropped(np.asarray(picture) > 0)


def alike(one: Mask, other: Mask) -> float:
    """Shared over covered, both set into the same lower left corner."""
    high, wide = np.maximum(one.shape, other.shape)
    first, second = (
        np.pad(mask, ((high - mask.shape[0], 0), (0, wide - mask.shape[1]))) for mask in (one, other)
    )
    return float((first & second).sum() / (first | second).sum())


def read(layer: Mask, stroke: float) -> str:
    """Line by line the signs whose drawing is most alike, blanks left out; O is drawn as 0 is."""
    said = []
    for rows in runs(layer.any(axis=1)):
        line = layer[rows]
        unit = (line.shape[0] - stroke) / 6.0
        known = {sign: template(sign, unit, stroke) for sign in STROKES if sign != "O"}
        for columns in runs(line.any(axis=0)):
            seen = cropped(line[:, columns])
            said.append(max(known, key=lambda sign: alike(seen, known[sign])))
        said.append("/")
    return "".join(said).strip("/")


@pytest.mark.parametrize(("letter", "scale"), [("a", "1:6"), ("a", "1:12"), ("f", "1:6")])
def test_the_name_is_read_in_the_layer_of_its_strokes(letter: str, scale: str) -> None:
    way = process_of("filament")
    made = build_flat(sample(letter), Order(scale, "filament", bed="300x300x250"))
    assert made.engraved
    layer = layer_of(made, way.engraved)
    # A base may lie turned on its bed.
    said = [read(way_up, way.stroke * PIXELS) for way_up in (layer, np.rot90(layer, -1))]
    assert made.engraved.replace(" ", "").replace("O", "0") in said


def test_a_standing_one_bears_its_name_too() -> None:
    way = process_of("filament")
    made = build_maquette(sample("a"), Order("1:6", "filament"))
    assert made.engraved == "SHORT PETTICOAT / ON FOUR HOOPS / 1:6 W-07"
    assert read(layer_of(made, way.engraved), way.stroke * PIXELS) == "SH0RTPETTIC0AT/0NF0URH00PS/1:6W-07"

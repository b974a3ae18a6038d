"""Surfaces laid flat: metres along and across, true to length, cut open and nowhere torn."""

from __future__ import annotations

import numpy as np
import pytest
from models import LETTERS, sample
from read_glb import mesh_named, model, opened, values

from cage3d.mesh.part import ALL_KINDS, Part
from cage3d.mesh.parts import build_parts

every_sample = pytest.mark.parametrize("letter", LETTERS)


def sides_of(places: np.ndarray, faces: np.ndarray) -> np.ndarray:
    """(m, 3) m, the sides of every triangle."""
    corners = places[faces]
    return np.asarray(np.linalg.norm(corners - np.roll(corners, 1, axis=1), axis=2))


def stretch(part: Part) -> np.ndarray:
    """(m, 3) every side laid flat over what it is in space."""
    return sides_of(part.flat, part.faces) / sides_of(part.vertices, part.faces)


@every_sample
def test_steel_and_tape_are_laid_flat_true_to_length(letter: str) -> None:
    """A strip can be laid flat: every triangle keeps its sides, but for the turns at casings and mitres."""
    for part in build_parts(sample(letter), {"hoops", "tapes"}):
        near = np.abs(stretch(part) - 1.0) < 0.03
        assert near.mean() > (0.999 if part.kind == "hoops" else 0.75), part.name


def test_a_hoop_runs_its_length_along_and_its_section_across() -> None:
    part = build_parts(sample("a"), {"hoops"})[0]
    (low, edge), (high, other) = part.flat.min(axis=0), part.flat.max(axis=0)
    assert (low, edge) == (0.0, 0.0)
    assert high == pytest.approx(48 * 0.0254, rel=1e-4)
    assert other == pytest.approx(2 * (0.007 + 0.0005), rel=1e-9)


def test_a_tape_runs_its_length_along_and_its_width_across() -> None:
    """1 in wide, from the band to the lowest casing; its broad faces each an inch of the way round."""
    part = next(part for part in build_parts(sample("a"), {"tapes"}))
    finished = float(str(part.extras["finished_length_m"]))
    assert finished < float(np.ptp(part.flat[:, 0])) < finished + 0.0254
    assert float(part.flat[:, 1].max()) == pytest.approx(2 * (0.0254 + 0.001), rel=1e-6)


@every_sample
def test_no_triangle_reaches_over_the_cut(letter: str) -> None:
    for part in build_parts(sample(letter), ALL_KINDS):
        assert np.all(np.isfinite(part.flat))
        assert sides_of(part.flat, part.faces).max() < 3.0 * sides_of(part.vertices, part.faces).max() + 1e-6


def test_a_skirt_is_as_wide_everywhere_as_its_widest_and_as_long_as_it_hangs() -> None:
    (skirt,) = build_parts(sample("a"), {"skirt"})
    points = skirt.solid.points.reshape(-1, 96, 3)
    rounds = np.linalg.norm(points - np.roll(points, 1, axis=1), axis=2).sum(axis=1)
    assert skirt.flat[:, 0].max() == pytest.approx(rounds.max(), rel=1e-9)
    assert skirt.flat[:, 1].max() == pytest.approx(
        np.linalg.norm(np.diff(points, axis=0), axis=2).mean(axis=1).sum(), rel=1e-9
    )


def test_the_model_tells_where_every_vertex_lies_in_its_cloth() -> None:
    tree, buffer = opened(model("d"))
    parts = {part.name: part for part in build_parts(sample("d"))}
    for name in ("hoop 3", "tape 1", "tie 1", "panel 1", "skirt", "wearer's form", "floor"):
        attributes = mesh_named(tree, name)["primitives"][0]["attributes"]
        told = values(tree, buffer, attributes["TEXCOORD_0"])
        assert told == pytest.approx(parts[name].flat, abs=1e-6)
    assert all("TEXCOORD_0" in mesh["primitives"][0]["attributes"] for mesh in tree["meshes"])
    for material in tree["materials"]:
        (texture,) = (material["pbrMetallicRoughness"]["baseColorTexture"],)
        # 1.6 mm of cloth to a picture.
        assert texture["extensions"]["KHR_texture_transform"]["scale"] == pytest.approx([625.0, 625.0])

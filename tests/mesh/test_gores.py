"""The cloth of a gored petticoat as a model: thin closed bodies of its own surface, from seam to seam."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest
import trimesh
from gored import gored

from cage3d.mesh.gores import THICKNESS
from cage3d.mesh.part import Part
from cage3d.mesh.parts import build_parts
from cage3d.mesh.sheet import sheet
from cage3d.settle import settle
from cage3d.shape.lay_out import lay_out


@cache
def parts() -> dict[str, Part]:
    design = gored(hoops=[{"length": 1050, "opening": "front"}, {"length": 1600}, {"length": 2000}])
    return {part.name: part for part in build_parts(settle(lay_out(design)), {"cloth", "casings", "tapes"})}


def test_a_gore_for_every_step_from_seam_to_seam_and_a_casing_for_every_hoop() -> None:
    assert list(parts()) == [*(f"gore {n}" for n in range(1, 7)), *(f"casing of hoop {n}" for n in (1, 2, 3))]
    assert parts()["gore 2"].extras["between_seams"] == [2, 3]
    # A sixth of 1050 mm and 150 mm of opening.
    assert parts()["gore 2"].extras["width_at_hoop_1_m"] == pytest.approx(0.2)
    assert parts()["casing of hoop 1"].extras["length_m"] == pytest.approx(1.05)


@pytest.mark.parametrize("name", ["gore 1", "gore 6", "casing of hoop 1", "casing of hoop 3"])
def test_every_piece_is_closed_and_faces_outward(name: str) -> None:
    solid = parts()[name].solid
    body = trimesh.Trimesh(solid.points, solid.faces, process=False)
    assert body.is_watertight
    assert body.is_winding_consistent
    assert body.volume > 0.0


def test_the_cloth_has_the_surface_of_the_frusta() -> None:
    """1 m2, 1.4 m2 and 1.8 m2 a metre of slant; 16 mm are in the band, and 5 mm turn up below the lowest steel."""
    volume = sum(part.solid.volume for part in parts().values() if part.kind == "cloth")
    surface = 0.25 * (1.0 + 1.4 + 1.8) + 0.016 * 0.8 + 0.005 * 2.0
    assert volume / THICKNESS == pytest.approx(surface, rel=0.01)


def test_gores_meet_at_their_seams() -> None:
    """The left edge of one is the right edge of the next."""
    first, second = (parts()[f"gore {number}"].solid.points for number in (1, 2))
    half = len(first) // 2
    rows = [points[:half].reshape(-1, 17, 3) for points in (first, second)]
    assert rows[0][:, -1] == pytest.approx(rows[1][:, 0], abs=THICKNESS)


def test_a_sheet_of_known_size() -> None:
    """300 x 200 mm in 3 x 2 steps, 10 mm thick: faces of 6, their edges all round."""
    rows = np.zeros((3, 4, 3))
    rows[..., 0], rows[..., 2] = np.arange(4) * 0.1, -0.1 * np.arange(3)[:, None]
    solid = sheet(rows, 0.01)
    assert solid.volume == pytest.approx(0.3 * 0.2 * 0.01)
    assert len(solid.faces) == 2 * (2 * 6) + 2 * 10
    # Seen with her left to the right, x by her left: the first face looks to the front.
    assert solid.points[:12, 1] == pytest.approx(-0.005)
    assert np.ptp(solid.flat, axis=0) == pytest.approx([0.3, 0.2])

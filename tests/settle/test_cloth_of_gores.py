"""Cloth that carries its hoops by lines of it: how many there are does not matter, and openings are held."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from gored import gored

from cage3d.settle import SettledCage, settle
from cage3d.shape import gores
from cage3d.shape.cloth_pulls import cloth_lengths, open_hoops
from cage3d.shape.lay_out import lay_out

# Two open hoops and a closed one, the back longer than the front: nothing is level, round or even.
UNEVEN = {
    "cloth": {"gores": 5, "levels": {"front": [200, 430, 650], "back": [230, 470, 700]}},
    "hoops": [{"length": 1150, "opening": "front"}, {"length": 1500, "opening": "front"}, {"length": 1900}],
    "skirt": {"weight": "0.6 kg"},
}


def settled_with(lines: int, monkeypatch: pytest.MonkeyPatch) -> SettledCage:
    monkeypatch.setattr(gores, "LINES", lines)
    return settle(lay_out(gored(**UNEVEN), 160))


def heights(settled: SettledCage) -> np.ndarray:
    """m, of all hoops at their five seams."""
    return settled.positions[settled.cage.connectivity.crossing.ravel(), 2]


def extents(settled: SettledCage) -> np.ndarray:
    """m, of all hoops both ways."""
    nodes = settled.cage.connectivity.hoop_nodes
    return np.concatenate([np.ptp(settled.positions[own][:, :2], axis=0) for own in nodes])


def test_the_answer_does_not_hang_on_the_number_of_lines(monkeypatch: pytest.MonkeyPatch) -> None:
    """Twice as many lines move no height by 1 mm and no width by 2; a sixth of them moves both by twice that."""
    usual, finer, coarse = (
        settled_with(lines, monkeypatch) for lines in (gores.LINES, 2 * gores.LINES, gores.LINES // 6)
    )
    assert np.abs(heights(usual) - heights(finer)).max() < 1e-3
    assert np.abs(extents(usual) - extents(finer)).max() < 2e-3
    assert np.abs(heights(coarse) - heights(finer)).max() > 2e-3
    assert np.abs(extents(coarse) - extents(finer)).max() > 4e-3


DRUM: dict[str, Any] = {
    "cloth": {"gores": 5, "levels": [200, 500]},
    "hoops": [{"length": 1500, "join": "none"}, {"length": 1350, "opening": "front"}],
}


def test_an_opening_is_held_by_its_cloth() -> None:
    """In a drum nothing draws the open hoop in: it springs apart as far as 150 mm of cloth let it, and pulls at it."""
    settled = settle(lay_out(gored(**DRUM)))
    joined = settled.cage.connectivity
    assert joined.pull_names[-1] == "cloth across the opening of hoop 2"
    first, last = settled.positions[joined.hoop_nodes[1][[0, -1]]]
    assert np.linalg.norm(last - first) == pytest.approx(0.150, abs=1e-6)
    assert settled.state.pull_force[-1] > 0.0


def test_the_cloth_of_an_opening_is_longer_by_its_ease() -> None:
    """150 mm between the ends, and 4 % more cloth: 156 mm, whatever the seams' lengths."""
    design = gored(DRUM["cloth"] | {"ease": 0.04}, hoops=DRUM["hoops"])
    (across,) = open_hoops(design)
    assert design.cloth is not None
    count = len(design.hoops) * design.tapes.count
    found = cloth_lengths(design, np.zeros((1, count)), np.zeros(count))
    assert (across, found[-1]) == (1, pytest.approx(0.156))


def test_no_line_of_cloth_runs_to_steel_that_is_not_there() -> None:
    """150 mm of 1.5 m are a tenth of the girth: of sixty lines the seven about centre front meet no steel."""
    joined = lay_out(gored(**DRUM)).connectivity
    to_ring, to_open = (
        [row for row, name in enumerate(joined.pull_names) if name == f"cloth to hoop {hoop}"]
        for hoop in (1, 2)
    )
    met = joined.node_fraction[joined.pulls[to_open, 1]] % 1.0
    assert np.minimum(met, 1.0 - met).min() > 0.05
    assert len(to_ring) == 60 - 5  # lines less five seams
    assert len(to_open) == 60 - 5 - 7


def test_cloth_is_weighed_by_its_area_on_band_and_hoops() -> None:
    """Frusta of 0.25, 0.35 and 0.45 m2, half of each above and below; 150 g/m2, strips of 39.4 mm, 25.4 mm of hem."""
    cage = lay_out(gored())
    steel = [girth * 0.010 * 0.0007 * 7850 for girth in (1.2, 1.6, 2.0)]
    cloth = [0.125 + 0.175, 0.175 + 0.225, 0.225 + 2.0 * 0.0254]
    strips = [girth * 0.0394 for girth in (1.2, 1.6, 2.0)]
    masses = [cage.parameters.own_weight[nodes].sum() / 9.81 for nodes in cage.connectivity.hoop_nodes]
    assert masses == pytest.approx(
        [own + 0.150 * (area + strip) for own, area, strip in zip(steel, cloth, strips, strict=True)]
    )
    assert gores.mass_on_band(cage.design) == pytest.approx(0.150 * 0.125)

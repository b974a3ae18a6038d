"""A cone of cloth against the geometry of the right circular cone (any handbook, e.g. Bronstein and Semendjajew).

Hung by its hoops: a hoop whose radius is r2 hangs sqrt(s^2 - (r2 - r1)^2) below one of radius r1 on cloth of s. Laid
open: a frustum is a sector between two arcs of s r1 / (r2 - r1) and that and s, of 2 pi (r2 - r1) / s; its surface is
pi (r1 + r2) s.
"""

from __future__ import annotations

from itertools import pairwise
from math import cos, hypot, pi, sin, sqrt

import numpy as np
import pytest
from gored import gored

from cage3d.settle import settle
from cage3d.shape.lay_out import lay_out
from cage3d.sheets.flattening import NotFlatError, flat_gore
from cage3d.sheets.gores import gore_sets

RADII = [girth / (2 * pi) for girth in (0.8, 1.2, 1.6, 2.0)]
SLANT = 0.25


def test_it_hangs_by_its_hoops_as_a_cone() -> None:
    settled = settle(lay_out(gored()))
    assert settled.trusted
    level = 1.0 - 0.010  # the waistband's lower edge
    for nodes, (inner, outer) in zip(settled.cage.connectivity.hoop_nodes, pairwise(RADII), strict=True):
        level -= sqrt(SLANT**2 - (outer - inner) ** 2)
        heights = settled.positions[nodes, 2]
        assert heights.min() == pytest.approx(level, abs=2e-4)
        assert heights.max() == pytest.approx(level, abs=2e-4)


def test_all_of_the_cloth_bears_its_share() -> None:
    """What hangs on the waistband, by the slope of the cloth there: the pulls of all lines added up."""
    settled = settle(lay_out(gored()))
    joined, numbers = settled.cage.connectivity, settled.cage.parameters
    from_band = joined.pulls[:, 0] >= joined.free_nodes
    slope = sqrt(SLANT**2 - (RADII[1] - RADII[0]) ** 2) / SLANT
    pulls = settled.state.pull_force[from_band]
    assert (pulls > 0.0).all()
    assert float(pulls.sum()) * slope == pytest.approx(float(numbers.own_weight.sum()), rel=1e-3)


@pytest.mark.parametrize("gores", [4, 6, 9])
def test_a_gore_is_a_piece_of_the_frustum_laid_open(gores: int) -> None:
    """All three stretches spread alike: one sector, its seams straight towards the cone's tip."""
    apex = 3 * SLANT * RADII[0] / (RADII[3] - RADII[0])
    angle = 2 * pi * (RADII[3] - RADII[0]) / (3 * SLANT) / gores
    (one,) = gore_sets(lay_out(gored({"gores": gores})))
    for row in range(4):
        out = apex + row * SLANT
        for side, corner in ((-0.5, one.flat[row, 0]), (0.5, one.flat[row, -1])):
            # x across, y down from the middle of the upper arc.
            assert corner == pytest.approx(
                [out * sin(side * angle), out * cos(side * angle) - apex], abs=2e-5
            )


def test_a_stretch_without_spread_is_a_rectangle() -> None:
    flat = flat_gore(np.array([0.2, 0.2]), np.full((1, 33), 0.3))
    assert flat[-1, [0, -1]] == pytest.approx(np.array([[-0.1, 0.3], [0.1, 0.3]]))


def test_gores_have_the_surface_of_the_frusta() -> None:
    """A dome, whose stretches spread differently: its gores hold to the surface of the frusta within 0.5 %."""
    girths = (0.8, 1.3, 1.7, 1.9)
    design = gored(
        {"levels": [220, 430, 610], "gores": 5},
        hoops=[{"length": 1000 * girth, "join": "none"} for girth in girths[1:]],
    )
    stretches = zip(girths, girths[1:], (0.220, 0.210, 0.180), strict=False)
    surface = sum(pi * (upper + lower) / (2 * pi) * slant for upper, lower, slant in stretches)
    (one,) = gore_sets(lay_out(design))
    assert 5 * one.finished_area == pytest.approx(surface, rel=5e-3)


def test_every_length_is_kept() -> None:
    """Down every line and along every casing a flat gore measures what was asked, however unlike they are."""
    lengths = np.array([np.linspace(0.20, 0.24, 33), np.linspace(0.18, 0.16, 33)])
    widths = np.array([0.15, 0.30, 0.33])
    flat = flat_gore(widths, lengths)
    assert np.linalg.norm(np.diff(flat, axis=0), axis=2) == pytest.approx(lengths)
    assert np.linalg.norm(np.diff(flat, axis=1), axis=2).sum(axis=1) == pytest.approx(widths, rel=2e-4)


def test_what_spreads_more_than_it_is_long_is_no_flat_piece() -> None:
    with pytest.raises(NotFlatError):
        flat_gore(np.array([0.1, 0.9, 0.1]), np.full((2, 33), 0.01))


def test_seams_that_meet_are_of_one_length() -> None:
    """Levels differ from front to back: each seam is as long on both of its gores."""
    sets = gore_sets(lay_out(gored({"levels": {"front": [240, 480, 720], "back": [270, 540, 810]}})))
    length = {}
    for one in sets:
        for gore, turned in zip(one.gores, one.mirrored, strict=True):
            edges = [one.flat[:, side] for side in ((0, -1) if not turned else (-1, 0))]
            for seam, edge in zip((gore, gore % 6 + 1), edges, strict=True):
                own = [hypot(*step) for step in np.diff(edge, axis=0)]
                assert length.setdefault(seam, own) == pytest.approx(own)
    assert set(length) == set(range(1, 7))
    assert len(sets) == 4  # front, back, and two kinds of pairs

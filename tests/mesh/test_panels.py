"""Laced panels: eyelets on two tapes, laces that cross between them, as tight as they settle."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest
from models import sample, sample_stages
from scipy.spatial import cKDTree

from cage3d.mesh.part import Part
from cage3d.mesh.parts import build_parts
from cage3d.settle import SettledCage

LACES = 15  # of eight eyelets a side: a bar at the top, and two between each pair and the next
POINTS = 9 * 4  # of one lace


@cache
def panel() -> tuple[Part, Part]:
    """Sample d's panel between tapes 5 and 6 at hoops 1 to 3: lace, eyelets."""
    lace, eyelets = build_parts(sample("d"), {"panels"})
    return lace, eyelets


def lines_of(lace: Part) -> np.ndarray:
    """(laces, 9, 3) m, the middle of each lace from eyelet to eyelet."""
    return np.asarray(lace.solid.points.reshape(-1, 9, 4, 3).mean(axis=2))


def places_of(eyelets: Part) -> np.ndarray:
    """(16, 3) m, the first tape's from the top, then the second's."""
    return np.asarray(eyelets.solid.points.reshape(16, -1, 3).mean(axis=1))


def test_lace_and_eyelets_are_two_parts_and_tell_what_settled() -> None:
    lace, eyelets = panel()
    assert [lace.name, eyelets.name] == ["panel 1", "panel 1 eyelets"]
    settled = sample("d")
    row = len(settled.cage.connectivity.pulls) - 3
    assert lace.extras["tensions_N"] == pytest.approx(settled.state.pull_force[row:], abs=1e-4)
    assert lace.extras["hoops"] == [1, 2, 3]


def test_a_bar_and_then_two_that_cross_from_eyelet_to_eyelet() -> None:
    lace, eyelets = panel()
    lines, places = lines_of(lace), places_of(eyelets)
    assert len(lines) == LACES
    first, second = places[:8], places[8:]
    wanted = [(first[0], second[0])]
    for place in range(7):
        wanted += [(first[place], second[place + 1]), (second[place], first[place + 1])]
    for line, (start, end) in zip(lines, wanted, strict=True):
        assert np.linalg.norm(line[0] - start) < 0.002
        assert np.linalg.norm(line[-1] - end) < 0.002


def test_where_two_cross_one_lies_over_the_other_by_turns() -> None:
    lines = lines_of(panel()[0])[1:]
    apart = (lines[::2, 4] - lines[1::2, 4])[:, 1]  # at centre back: to her front or her back
    # 1.2 thicknesses of lace, less the lean of the tapes.
    assert np.all((np.abs(apart) > 0.0017) & (np.abs(apart) < 0.0024))
    assert np.all(np.sign(apart) == np.sign(apart[0]) * (-1.0) ** np.arange(7))


def test_eyelets_lie_on_their_tapes_from_the_first_hoop_to_the_last() -> None:
    settled = sample("d")
    crossing = settled.positions[settled.cage.connectivity.crossing]
    places = places_of(panel()[1])
    for own, tape in ((places[:8], 5), (places[8:], 6)):
        ends = crossing[[0, 2], tape - 1]
        # In from the tape's edge, which is half an inch from its middle.
        assert np.linalg.norm(own[[0, -1]] - ends, axis=1).max() < 0.0127
        on_tape = cKDTree(
            next(part for part in build_parts(settled, {"tapes"}) if part.number == tape).vertices
        )
        assert on_tape.query(own)[0].max() < 0.015
        assert np.all(
            np.abs(own[:, 0]) < np.abs(np.interp(own[:, 2], *crossing[[2, 1, 0], tape - 1].T[[2, 0]]))
        )


def loosest(settled: SettledCage) -> float:
    """Most of any lace over what it spans."""
    lines = lines_of(build_parts(settled, {"panels"})[0])
    along = np.linalg.norm(np.diff(lines, axis=1), axis=2).sum(axis=1)
    return float((along / np.linalg.norm(lines[:, -1] - lines[:, 0], axis=1)).max())


def test_laces_are_straight_when_worn_and_hang_before_they_are_tied() -> None:
    assert loosest(sample("d")) < 1.005
    assert loosest(sample_stages("d")[0].settled) == pytest.approx(1.03, abs=0.005)

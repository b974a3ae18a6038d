"""Sections with a set, small changes of a cage's numbers, and how they show themselves."""

from __future__ import annotations

from dataclasses import dataclass, fields, replace
from typing import Any

import numpy as np
import pytest
from hand.cage import PLAIN

from cage3d.design.models import Steel
from cage3d.design.read import read_data
from cage3d.shape.cage import Parameters
from cage3d.shape.changes import ParameterChanges, difference, side_by_side
from cage3d.shape.in_short import InShort, in_short
from cage3d.shape.lay_out import lay_out
from cage3d.shape.section_kinds import section_of
from cage3d.shape.weights import tape_mass_per_length

PLAIN_STEEL = Steel(width=0.006, thickness=0.0005, modulus=200e9, density=8000.0, yield_stress=1000e6)


def bent(threaded: str | None) -> Any:
    written = {} if threaded is None else {"set_radius": 0.5, "threaded": threaded}
    return section_of(PLAIN_STEEL.model_copy(update=written))


@pytest.mark.parametrize(
    ("threaded", "curve", "radius"), [(None, 0.0, 1 / 20), ("with", 2.0, 1 / 22), ("against", -2.0, 1 / 18)]
)
def test_a_set_adds_to_what_the_steel_bears_or_takes_from_it(
    threaded: str | None, curve: float, radius: float
) -> None:
    """Yield at 0.005 over a quarter of a millimetre: a change of 20 / m from a free curve of 2 / m."""
    assert bent(threaded).set_curvature == curve
    assert bent(threaded).smallest_elastic_radius == pytest.approx(radius)
    assert bent(threaded).yield_strain == pytest.approx(0.005)


def test_a_strip_as_drawn_and_in_words() -> None:
    """6 x 0.5 mm about its middle; 5.2 g/m of 1300 kg/m3 all round is a cover of 0.2828 mm."""
    section = section_of(PLAIN_STEEL)
    assert section.words == "6 × 0.5 mm"
    assert 1e3 * section.outline() == pytest.approx(
        np.array([[-0.25, -3], [0.25, -3], [0.25, 3], [-0.25, 3]])
    )
    assert (section.width, section.area, section.cover) == pytest.approx((0.006, 3e-6, 0.0))
    assert section.covered == pytest.approx((0.0005, 0.006))
    covered = section_of(PLAIN_STEEL.model_copy(update={"coating": 0.0052}))
    cover = (np.sqrt(6.5**2 + 16) - 6.5) / 4
    assert 1e3 * covered.cover == pytest.approx(cover)
    assert 1e3 * np.array(covered.covered) == pytest.approx([0.5 + 2 * cover, 6 + 2 * cover])
    three = section_of(PLAIN_STEEL.model_copy(update={"strands": 3}))
    assert (three.width, three.area, three.words) == (0.006, pytest.approx(9e-6), "3 strips of 6 × 0.5 mm")


def test_the_weight_of_a_tape_as_written_or_of_its_ribbon() -> None:
    """0.28 kg/m2 (from memory) of 20 mm, twice where doubled."""
    design = read_data(PLAIN)
    assert tape_mass_per_length(design) == 0.0
    for doubled, mass in ((True, 0.0112), (False, 0.0056)):
        tapes = design.tapes.model_copy(update={"weight": None, "doubled": doubled})
        assert tape_mass_per_length(design.model_copy(update={"tapes": tapes})) == pytest.approx(mass)


# Changes.

NUMBERS = lay_out(read_data(PLAIN), 8).parameters
EDGES, PULLS = len(NUMBERS.edge_length), len(NUMBERS.pull_length)


def test_a_change_for_every_number_of_a_cage() -> None:
    assert [field.name for field in fields(ParameterChanges)] == [field.name for field in fields(Parameters)]


def test_changes_side_by_side_are_counted_and_added() -> None:
    steel = ParameterChanges(edge_length=np.ones((EDGES, 2)) * [1.0, 2.0])
    tapes = ParameterChanges(pull_length=3.0 * np.ones((PULLS, 1)))
    assert (ParameterChanges().count, steel.count, tapes.count) == (0, 2, 1)
    both = side_by_side([steel, tapes])
    assert both.count == 3
    assert both.edge_length == pytest.approx(np.tile([1.0, 2.0, 0.0], (EDGES, 1)))
    assert both.pull_length == pytest.approx(np.tile([0.0, 0.0, 3.0], (PULLS, 1)))
    assert both.easy is None
    grown = both.added_to(NUMBERS, np.array([0.1, 0.01, 0.5]))
    assert grown.edge_length == pytest.approx(NUMBERS.edge_length + 0.12)
    assert grown.pull_length == pytest.approx(NUMBERS.pull_length + 1.5)
    assert grown.easy is NUMBERS.easy


def test_changes_that_disagree_in_number_are_no_changes() -> None:
    uneven = ParameterChanges(edge_length=np.ones((EDGES, 2)), pull_length=np.ones((PULLS, 1)))
    with pytest.raises(ValueError, match=r"different numbers of changes: \[1, 2\]"):
        assert uneven.count


def test_the_difference_of_two_cages_a_unit() -> None:
    """Tapes 5 mm longer for a step of 2.5 mm, and some weight taken off: nothing else has changed."""
    after = replace(NUMBERS, pull_length=NUMBERS.pull_length + 0.005, own_weight=NUMBERS.own_weight - 0.0025)
    grown = difference(after, NUMBERS, 0.0025)
    assert grown.pull_length == pytest.approx(np.full((PULLS, 1), 2.0))
    assert grown.own_weight == pytest.approx(np.full((len(NUMBERS.own_weight), 1), -1.0))
    assert [field.name for field in fields(grown) if getattr(grown, field.name) is not None] == [
        "pull_length",
        "own_weight",
    ]


# How they show themselves.


@dataclass(frozen=True, repr=False)
class Shown(InShort):
    places: Any
    size: float | None


def test_large_things_show_their_size() -> None:
    assert repr(Shown(np.zeros((448, 3)), 1 / 3)) == "Shown(places=(448, 3), size=0.333333)"
    assert repr(Shown(np.zeros(2), None)) == "Shown(places=(2,))"
    assert in_short((1, 2, 3, 4)) == "4 of them"
    assert in_short(()) == "()"
    assert in_short({"a": [1, 2], "b": "c"}) == "{a: 2 of them, b: 'c'}"
    assert in_short(Shown(1, 2.0)) == "Shown(...)"
    assert in_short(None) == "None"

"""Which cages are settled again with twice the nodes, and with how many."""

from __future__ import annotations

from dataclasses import replace

import pytest
from settled import sample_path, settled_sample

from cage3d.design.read import read_data
from cage3d.foresee.finer import finer, in_question, nodes_round
from cage3d.settle import SettledCage, settle
from cage3d.settle.state import Snap
from cage3d.shape.lay_out import lay_out


def on_tapes(count: int) -> SettledCage:
    """A ring of 1 m on so many tapes, from a round waist."""
    design = {
        "name": "ring",
        "units": "mm",
        "wearer": {"waist": 900, "waist_height": 1000, "waist_breadth": 286, "waist_depth": 286},
        "steel": {"width": 10, "thickness": 0.8},
        "tapes": {"count": count, "stations": "on", "drops": [200]},
        "hoops": [{"length": 1000}],
    }
    return settle(lay_out(read_data(design), 24))


def test_twice_as_many_nodes_round_every_hoop():
    """Eight tapes divide 48 nodes evenly, six a stretch; twice as many are twelve."""
    settled = settled_sample(sample_path("a"), 48)
    assert nodes_round(settled) == 48
    again = finer(settled)
    assert [len(nodes) for nodes in again.cage.connectivity.hoop_nodes] == [96] * 4
    assert again.trusted


def test_what_snapped_or_was_helped_is_in_question():
    plain = settled_sample(sample_path("a"), 48)
    assert not in_question(plain)
    assert in_question(replace(plain, notes=("it fell to one side",)))
    assert in_question(replace(plain, snaps=(Snap(0.5, 0, 0.02),)))


@pytest.mark.parametrize(("count", "asked"), [(2, True), (3, False)])
def test_two_tapes_are_few_and_three_are_not(count: int, asked: bool):
    assert in_question(replace(on_tapes(count), notes=(), snaps=())) is asked

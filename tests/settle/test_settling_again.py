"""A settled cage with one number changed settles again at once, and where it would from the start."""

from __future__ import annotations

import numpy as np
import pytest
from rigs import hard_cage

from cage3d.design.models import Design
from cage3d.settle import settle
from cage3d.shape.lay_out import lay_out


def with_hoop(design: Design, hoop: int, longer: float) -> Design:
    hoops = list(design.hoops)
    hoops[hoop] = hoops[hoop].model_copy(update={"length": hoops[hoop].length + longer})
    return design.model_copy(update={"hoops": hoops})


@pytest.mark.parametrize("longer", [0.003, -0.003, 0.03], ids=lambda longer: f"{1000 * longer:+.0f}mm")
@pytest.mark.parametrize("hoop", [0, 2, 3])
def test_a_hoop_of_another_length(hoop, longer):
    before = settle(lay_out(hard_cage(), 32))
    changed = lay_out(with_hoop(hard_cage(), hoop, longer), 32)
    cold, again = settle(changed), settle(changed, start=before)
    assert cold.trusted
    assert again.trusted
    assert np.abs(again.positions - cold.positions).max() < 1e-6
    assert np.abs(before.positions - cold.positions).max() > 0.3 * abs(longer) / (2.0 * np.pi)
    assert again.steps <= 0.5 * cold.steps


@pytest.mark.parametrize("longer", [0.003, -0.003])
def test_tapes_of_another_length_pull_on_as_they_did(longer):
    """However far they are let out at once, what pulled before is not slack for that (22 and 13 steps)."""
    before = settle(lay_out(hard_cage(), 32))
    changed = before.cage.with_parameters(pull_length=before.cage.parameters.pull_length + longer)
    cold, again = settle(changed), settle(changed, start=before)
    assert again.trusted
    assert np.abs(again.positions - cold.positions).max() < 1e-6
    assert again.steps <= 8


def test_a_wider_waist_has_its_tapes_where_the_changed_cage_has_them():
    """Fixed nodes are taken from the changed cage: those of the one before would hang the tapes 1.6 mm aside."""
    before = settle(lay_out(hard_cage(), 32))
    wearer = hard_cage().wearer.model_copy(update={"waist": hard_cage().wearer.waist + 0.01})
    changed = lay_out(hard_cage().model_copy(update={"wearer": wearer}), 32)
    cold, again = settle(changed), settle(changed, start=before)
    fixed = changed.connectivity.anchors
    assert np.abs(changed.positions[fixed] - before.positions[fixed]).max() > 0.001
    assert np.array_equal(again.positions[fixed], changed.positions[fixed])
    assert np.abs(again.positions - cold.positions).max() < 1e-6

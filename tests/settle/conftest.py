"""A ring in a skirt, settled once, from which tests of settling take their rests."""

from __future__ import annotations

import pytest
from rests import ring_in_a_skirt

from cage3d.settle.model import Model, model_of
from cage3d.settle.state import SettledCage


@pytest.fixture(name="hung", scope="module")
def settled_ring() -> SettledCage:
    return ring_in_a_skirt()


@pytest.fixture(name="model")
def ring_model(hung: SettledCage) -> Model:
    return model_of(hung.cage, 30000.0)

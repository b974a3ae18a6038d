"""The way back from Python."""

from __future__ import annotations

import pytest
from calling import SMALL
from ruamel.yaml import YAML

import cage3d
from cage3d import CageError, DesignError

INCH = 0.0254


@pytest.fixture(scope="module")
def small() -> cage3d.WrittenCage:
    return cage3d.read_data(YAML(typ="safe").load(SMALL))


def test_a_wider_hoop_is_cut_longer(small: cage3d.WrittenCage):
    """A level circle that is 20 1/2 in across is 64.4 in round."""
    found = small.aim([{"hoop": 2, "side_to_side": "20 1/2 in"}], keep=["tape", "hoop 1"])
    assert found.reached
    assert found.off == {
        "hoop 2 side to side": pytest.approx(found.hung.widths()[1, 0] - 20.5 * INCH, abs=1e-6)
    }
    assert found.cage.design.hoops[1].length / INCH == pytest.approx(64.4, abs=0.6)
    assert (found.cage.design.hoops[1].length / INCH * 8) == pytest.approx(
        round(found.cage.design.hoops[1].length / INCH * 8)
    )
    assert found.cage.design.tapes == small.design.tapes
    assert "reached" in repr(found)


def test_what_cannot_be_is_not_reached_and_said(small: cage3d.WrittenCage):
    """No drop makes a hoop of 62 in half as wide."""
    found = small.aim([{"hoop": 2, "side_to_side": "10 in"}], keep=["length"])
    assert not found.reached
    assert any("cannot be made narrower" in reason for reason in found.reasons)
    assert "not reached" in repr(found)


def test_what_is_wanted_goes_through_the_rules(small: cage3d.WrittenCage):
    with pytest.raises(DesignError, match="there is no hoop 5"):
        small.aim([{"hoop": 5, "height": 17}])
    with pytest.raises(CageError, match="does not say what is wanted"):
        small.aim()
    with pytest.raises(CageError, match="within: near"):
        small.aim([{"hoop": 2, "height": 17}], within="near")
    with pytest.raises(CageError, match="no such length, drop or tie"):
        small.aim([{"hoop": 2, "height": 25}], free=["tie 1"])

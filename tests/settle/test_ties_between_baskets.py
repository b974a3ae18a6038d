"""Ribbons from one basket to the other, behind her and before her, that keep the two from swinging apart."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from cage3d.design.read import read_data
from cage3d.report.why_not import why_not
from cage3d.settle import SettledCage, settle
from cage3d.shape.lay_out import lay_out

LENGTH = {"ahead": ("hoop 1 tape 1", "hoop 2 tape 8"), "behind": ("hoop 1 tape 4", "hoop 2 tape 5")}


def hung(opened: bool, length: float, nodes: int = 48) -> SettledCage:
    """One hoop of 30 in at either side of her on eight tapes; ties of so many inches between, ahead and behind."""
    ways = (("left", "right"), ("right", "left"))
    own: list[dict[str, Any]] = [
        {"length": 30, "beside": side} | ({"opening": towards, "ends": "sewn"} if opened else {})
        for side, towards in ways
    ]
    ties = [{"from": one, "to": other, "length": length} for one, other in LENGTH.values()]
    design = read_data(
        {
            "name": "two", "units": "in", "wearer": {"waist": 26, "waist_height": 41.5, "hip": 39, "hip_drop": 8},
            "steel": {"width": "7 mm", "thickness": "0.5 mm"}, "tapes": {"count": 8, "drops": [14]},
            "hoops": own, "ties": ties,
        }
    )  # fmt: skip
    return settle(lay_out(design, nodes))


def test_bows_are_drawn_together_by_their_ends() -> None:
    """Four inches from end to end, which hang farther apart by themselves; both pulls alike, her left as her right."""
    alone, tied = hung(True, 30.0), hung(True, 4.0)
    assert tied.trusted
    joined = tied.cage.connectivity
    pulls = tied.state.pull_force[joined.segment_count :]
    assert len(pulls) == 2
    assert np.all(pulls > 0.01)
    assert pulls[0] == pytest.approx(pulls[1], rel=1e-3)
    for hanging, least, most in ((alone, 4.5, 30.0), (tied, 4.0 - 1e-4, 4.0 + 1e-4)):
        left, right = (hanging.positions[nodes] for nodes in joined.hoop_nodes)
        apart = [np.linalg.norm(left[end] - right[-1 - end]) / 0.0254 for end in (0, -1)]
        assert all(least < each < most for each in apart), apart


def test_rings_cannot_be_drawn_together_through_her() -> None:
    """Rings stand outside her hip, 13 1/2 in broad; their near sides cannot come within an inch of each other."""
    held = hung(False, 1.0)
    assert not held.trusted
    told = why_not(held, "two.yaml")
    assert "is too short to draw the two baskets together, since the wearer stands between them" in told.why
    assert told.try_this.startswith("Make tie ")
    assert "let hoops 1 and 2 open towards her" in told.try_this

"""A miniature of a cage on its own cloth speaks of seams: its words, its pieces and why one cannot be printed."""

from __future__ import annotations

from functools import cache

import pytest
from gored import gored

from cage3d.errors import CommandError
from cage3d.miniature.build import build_ordered
from cage3d.miniature.flat.pieces import letter_of
from cage3d.miniature.maquette import Maquette
from cage3d.miniature.order import Order
from cage3d.settle import settle
from cage3d.settle.state import SettledCage
from cage3d.shape.lay_out import lay_out


@cache
def cone() -> SettledCage:
    return settle(lay_out(gored(), 36))


@cache
def made(process: str) -> Maquette:
    return build_ordered(cone(), Order("1:8", process))


@pytest.mark.parametrize("process", ["filament", "powder"])
def test_nothing_in_it_is_called_a_tape(process: str) -> None:
    one = made(process)
    words = " ".join([*one.thickened, *one.assembly, *one.notes, *(body.name for body in one.bodies)])
    assert "tape" not in words.lower()
    assert "seam" in words.lower()


def test_flat_pieces_bear_s() -> None:
    assert letter_of(cone().cage.design) == "S"
    assert "seams S and theirs" in made("filament").assembly[0]
    assert {f"seam {number}" for number in range(1, 7)} <= {body.name for body in made("filament").bodies}


def test_standing_it_says_what_seams_are_printed_as() -> None:
    """1 in at 1:8 is 3.17 mm; powder prints no less than 1.2 mm."""
    assert "Seams, which stand for the cloth: printed 1.20 x 3.17 mm" in made("powder").thickened


@pytest.mark.parametrize(("process", "flat"), [("powder", False), ("filament", True)])
def test_what_cannot_be_printed_is_said_of_seams(process: str, flat: bool) -> None:
    """A hundredth of its size: bars run together, or slots meet."""
    with pytest.raises(CommandError) as caught:
        build_ordered(cone(), Order("1:100", process, flat=flat))
    problem = caught.value.problems[0]
    assert "tape" not in f"{problem.said} {problem.why}"
    if not flat:
        assert "neighbouring seams would run together" in problem.why

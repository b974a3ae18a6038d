"""What a hoop's material may do: ends of a table by hand, and cages settled with them written."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from rigs import whole_cage

from cage3d.design.models import Steel
from cage3d.foresee.certainty import MATERIAL, causes_of, certainty
from cage3d.foresee.materials import material_ends
from cage3d.report import measure, with_certainty, with_stiffness
from cage3d.report.foreseen import GiveReport
from cage3d.report.materials import line_of, material_lines
from cage3d.settle import SettledCage, settle
from cage3d.shape.lay_out import lay_out

CANE = {"material": "round cane", "diameter": 0.005}
NODES = 48


@cache
def hung(**steel: object) -> SettledCage:
    design = whole_cage(skirt={"weight": 2.0}, tapes={"stations": (0.0, 0.1, 0.25, 0.4, 0.5, 0.6, 0.75, 0.9)})
    made = Steel.model_validate(CANE | steel)
    return settle(lay_out(design.model_copy(update={"steel": made}), NODES))


def test_ends_are_the_cage_with_the_ends_written() -> None:
    stiffness, density = material_ends(hung())
    assert (stiffness.between, density.between) == ((1e9, 2e9, 3e9), (400.0, 525.0, 650.0))
    for end, written in (
        (stiffness.at_low, {"modulus": 1e9}), (stiffness.at_high, {"modulus": 3e9}),
        (density.at_low, {"density": 400.0}), (density.at_high, {"density": 650.0}),
    ):  # fmt: skip
        assert end is not None
        assert end.positions == pytest.approx(hung(**written).positions, abs=1e-6)
        assert np.abs(end.positions - hung().positions).max() > 1e-5


def test_what_the_design_writes_itself_is_known() -> None:
    (density,) = material_ends(hung(modulus=2e9))
    assert density.what == "density"
    assert material_ends(hung(modulus=2e9, density=525.0)) == ()


def test_ends_under_a_hand_in_words() -> None:
    """The most of each end; where one cannot be told, it is over 6 in."""

    def ends(*dents: float | None) -> tuple[GiveReport, ...]:
        sides = ("front", "left")
        return tuple(GiveReport(side, 2.0, 0.1, dent, 0.1) for side, dent in zip(sides, dents, strict=True))

    report = with_certainty(measure(hung()), hung())
    one = replace(report.materials[0], gives_at_low=ends(None, 0.02), gives_at_high=ends(0.0508, 0.0254))
    inches = replace(report, units="in")
    assert line_of(inches, one).endswith(
        "; pushed with 200 g the hoop itself gives over 6 in with the softest, 2 in with the stiffest."
    )
    alike = replace(one, gives_at_high=one.gives_at_low)
    assert line_of(inches, alike).endswith("; pushed with 200 g the hoop itself gives over 6 in with either.")
    grown = replace(one, gives_at_low=ends(0.0508, -0.01), gives_at_high=ends(-0.01, -0.02))
    assert line_of(inches, grown).endswith("gives 2 in with the softest, 0 in with the stiffest.")


def test_steel_without_a_material_is_told_as_ever() -> None:
    assert material_ends(settle(lay_out(whole_cage(), NODES))) == ()


def test_its_part_of_the_certainty_lies_between_the_ends() -> None:
    """Alone, one thing between its ends and as likely here as there: nine in ten keep to 0.9 of the way."""
    settled = hung(density=525.0)
    (ends,) = material_ends(settled)
    assert ends.at_low is not None
    told = certainty(settled, None, [ends])
    (cause,) = (one for one in causes_of(settled, None, [ends]) if one.what == MATERIAL)
    assert (np.minimum(*cause.lots) == 0.0).all(), "it is at one end's side or at the other's"
    assert (cause.lots.max(axis=1) > 0.99).all()
    least, most = np.sort(np.abs(cause.effects), axis=1).T
    assert (told.parts[MATERIAL] >= 0.75 * least - 1e-9).all()
    assert (told.parts[MATERIAL] <= 0.95 * most + 1e-9).all()
    assert MATERIAL not in certainty(settled, None).parts


def test_the_report_says_it_with_its_source() -> None:
    stiff, heavy = material_lines(with_certainty(measure(hung()), hung()))
    assert stiff.startswith("Round cane has 1 to 3 GPa (from memory), and 2 is taken: the softest moves ")
    assert stiff.endswith("; under a hand it gives 2.0 to 0.7 times as far, about.")
    pushed = with_stiffness(with_certainty(measure(hung()), hung()), hung())
    for ends, modulus in zip(
        (pushed.materials[0].gives_at_low, pushed.materials[0].gives_at_high), (1e9, 3e9), strict=True
    ):
        written = hung(modulus=modulus)
        told = with_stiffness(measure(written), written).gives
        assert [one.dent_m for one in ends] == pytest.approx([one.dent_m for one in told], abs=2e-3)
    assert not pushed.materials[1].gives_at_low, "of its weight no hand is told"
    assert heavy.startswith("Round cane has 400 to 650 kg/m3 (from memory), and 525 is taken: ")
    hose = hung(material="plastic hose", diameter=0.016, wall=0.002)
    assert "creeps" in material_lines(with_certainty(measure(hose), hose))[-1]

"""First designs settle with their hoops where they were asked for: wide flat tops too, under a heavy skirt."""

from __future__ import annotations

import numpy as np
import pytest

from cage3d.design.first.brief import Brief
from cage3d.design.first.starter import first_cage, first_design
from cage3d.design.first.text import written
from cage3d.design.read import read_text
from cage3d.report.curves import curve_through, height_towards
from cage3d.settle import SettledCage, settle
from cage3d.shape.lay_out import lay_out
from cage3d.study.aiming.first_numbers import as_it_hangs
from cage3d.units import INCH


def heights(hung: SettledCage, hoop: int) -> list[float]:
    """in, front, left, back and right."""
    curve = curve_through(hung.cage, hung.positions, hoop)
    return [height_towards(curve, side)[0] / INCH for side in ("front", "left", "back", "right")]


def test_the_hem_of_a_drum_hangs_in_the_middle_of_its_clearance():
    """From 8 to 10 in: at 9 in, to half of the eighth that drops are cut to.

    With its drops as laid out it hangs below the least, since a drum's first tapes lie flat and give.
    """
    measures = [inches * INCH for inches in (28, 42, 105)]
    brief = Brief(
        *measures, (8 * INCH, 10 * INCH), "drum", 38 * INCH, 8 * INCH, 5, steel=(0.007, 0.0005), skirt=1.5
    )
    laid_out = read_text(first_design(brief))
    assert np.mean(heights(settle(lay_out(laid_out)), -1)) < 7.75
    hanging = as_it_hangs(laid_out, first_cage(brief))
    found = read_text(written(brief, hanging))
    assert np.mean(heights(settle(lay_out(found)), -1)) == pytest.approx(9.0, abs=1 / 16)
    drops = hanging.drops[0]
    assert [drop / INCH * 8 for drop in drops] == pytest.approx([round(drop / INCH * 8) for drop in drops])
    assert [hoop.length for hoop in found.hoops] == [hoop.length for hoop in laid_out.hoops]


def test_upper_hoops_keep_their_levels():
    """Two hoops asked for at 0.6 and 1.0 of the way from the band's edge, 41 1/2 in up, down to 9 in: 22 in and 9 in.

    The shares are those of `levels`: steps of 1.5 and 1.1 of 2.6 in all, so that the first lies at 1.5/2.6.
    """
    brief = Brief(28 * INCH, 42 * INCH, 105 * INCH, (8 * INCH, 10 * INCH), "cone", hoops=2)
    laid_out = read_text(first_design(brief))
    found = settle(lay_out(read_text(written(brief, as_it_hangs(laid_out, first_cage(brief))))))
    edge = 42.0 - 0.5 * 39.37 * laid_out.waistband.depth
    assert np.mean(heights(found, 0)) == pytest.approx(edge - (edge - 9.0) * 1.5 / 2.6, abs=1 / 8)
    assert np.mean(heights(found, 1)) == pytest.approx(9.0, abs=1 / 8)


@pytest.mark.parametrize("hoops", [10, 16])
def test_a_top_hoop_above_the_hip_has_the_room_that_is_usual(hoops: int) -> None:
    """An inch was planned, and she widens fast below the waist: 3/4 in at least as it hangs, measured on her form."""
    brief = Brief(
        26 * INCH, 41.5 * INCH, 90 * INCH, silhouette="dome", hip=39 * INCH, hip_drop=8 * INCH, hoops=hoops
    )
    hung = settle(lay_out(read_text(first_design(brief))))
    assert hung.cage.form is not None
    assert hung.cage.form.clearance(hung.positions[hung.cage.connectivity.hoop_nodes[0]]).min() > 0.75 * INCH

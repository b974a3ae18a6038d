"""What a miniature takes to print: columns under what hangs over, worked out by hand."""

from __future__ import annotations

import pytest
from manifold3d import Manifold
from models import sample

from cage3d.miniature.body import PrintBody, body_of
from cage3d.miniature.build import build_ordered
from cage3d.miniature.order import Order
from cage3d.miniature.supports import Printing, column_volume


def body(solid: Manifold) -> PrintBody:
    return body_of("it", solid)


def test_a_table_wants_a_column_under_its_top() -> None:
    """A top 30 by 30 mm on a leg of 10 by 10, 20 mm above the bed: (30^2 - 10^2) 20, and 0.6 mm of room all round."""
    leg = Manifold.cube((10.0, 10.0, 20.5)).translate((10.0, 10.0, 0.0))
    table = leg + Manifold.cube((30.0, 30.0, 4.0)).translate((0.0, 0.0, 20.0))
    assert column_volume(body(table)) == pytest.approx((30.0**2 - 10.0**2) * 20.0, rel=0.08)


def test_what_stands_on_the_bed_or_leans_by_45_degrees_wants_none() -> None:
    assert column_volume(body(Manifold.cube((30.0, 30.0, 20.0)))) == 0.0
    assert column_volume(body(Manifold.cylinder(20.0, 10.0, 25.0, 96))) < 1.0  # 15 mm out over 20 mm up
    assert column_volume(body(Manifold.cylinder(20.0, 10.0, 70.0, 96))) > 1000.0  # 60 mm out over 20 mm up


def test_a_column_ends_on_the_part_below() -> None:
    """The same top over a plate at half its height: only the space between them, and none below."""
    leg = Manifold.cube((10.0, 10.0, 20.5)).translate((10.0, 10.0, 0.0))
    top = Manifold.cube((30.0, 30.0, 4.0)).translate((0.0, 0.0, 20.0))
    plate = Manifold.cube((34.0, 34.0, 10.0)).translate((-2.0, -2.0, 0.0))
    assert column_volume(body(leg + top + plate)) == pytest.approx((30.0**2 - 10.0**2) * 10.0, rel=0.12)


def test_hours_are_of_part_and_supports() -> None:
    """7 cm3 an hour of the part, 14 of supports."""
    assert Printing(70.0, 140.0).hours == pytest.approx(20.0)
    assert Printing(70.0, 140.0).words.startswith(
        "Takes about 70 cm3 of plastic and 140 cm3 of supports, and about 20 h with a nozzle of 0.4 mm"
    )


def test_flat_pieces_need_no_supports_and_standing_ones_do() -> None:
    flat, standing = (
        build_ordered(sample("a"), Order("1:6", "filament", flat=flat)).notes[-1] for flat in (True, False)
    )
    assert " and no supports, " in flat
    assert " cm3 of supports, " in standing
    assert not any("cm3" in note for note in build_ordered(sample("a"), Order("1:8", "powder")).notes)

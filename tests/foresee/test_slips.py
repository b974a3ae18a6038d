"""Marks settled again against slopes, and the spread of a sewn cage against cages sewn again and again."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from models import sample
from rigs import STRIP_10, design_of

from cage3d.foresee.slips import SHARE, level_within, sewing_changes, slip
from cage3d.report import measure, with_marks
from cage3d.report.mark_table import mark_table, sewing_lines
from cage3d.settle import settle
from cage3d.shape.lay_out import lay_out


def stiff_ring(tapes: int):
    """A ring that hardly bends on upright tapes at front, left, back and right, or at three places."""
    steel = STRIP_10 | {"modulus": 1e12, "yield_stress": 1e11, "thickness": 0.002}
    return settle(
        lay_out(
            design_of(waist=1.5, zero=1.2, drops=[[0.3]] * tapes, lengths=[1.5], steel=steel,
                      tapes={"stations": "on"}),
            48,
        )
    )  # fmt: skip


def test_a_mark_on_one_of_four_tapes_works_one_way_only() -> None:
    """A rigid ring sinks as far as four tapes let it, each of which holds its own place up.

    Front held 3 mm higher: c + a >= 3, c - a >= 0, c >= 0 for the middle's height c and the slope a; the least c is
    1.5 mm, so the sides rise by half. Front let down: c >= 0 at the sides, and nothing rises or sinks there.
    """
    settled = stiff_ring(4)
    low, high = slip(settled, 0, 0, 0.003), slip(settled, 0, 0, -0.003)
    assert low is not None
    assert high is not None
    assert (low.left, low.right) == pytest.approx((0, 0), abs=3e-4)
    assert -3.3e-3 < low.front < 3e-4
    assert (high.front, high.back) == pytest.approx((0.003, 0), abs=3e-4)
    assert (high.left, high.right) == pytest.approx((0.0015, 0.0015), abs=3e-4)


def test_the_table_prints_what_was_settled_both_ways() -> None:
    settled = stiff_ring(4)
    report = with_marks(measure(settled), settled)
    row = next(row for row in mark_table(report).rows if row[0] == "1")
    assert [float(figure) for figure in (row[3], row[5])] == pytest.approx([0, 0], abs=0.4)
    assert [float(figure) for figure in row[6:]] == pytest.approx([3.0, 1.5, 0.0, 1.5], abs=0.4)
    said = sewing_lines(report)
    assert said[0].startswith("No mark matters much more than the others")
    assert "nine times in ten" in said[1]
    assert report.spread is not None
    assert report.spread.level_within_m == level_within(settled)


def test_spread_of_a_rigid_ring_on_three_tapes() -> None:
    """Three heights off by 1.5875 mm (one sigma) fix a rigid plane: over the ring it spans 2 R times its slope.

    Slope in x and y: sigma sqrt(2/3) / R each, so the span is 2 sqrt(2/3) sigma times a Rayleigh variate,
    whose ninth decile is sqrt(2 ln 10) = 2.146: 5.563 mm. The ring's own length does next to nothing.
    """
    assert level_within(stiff_ring(3)) == pytest.approx(2 * np.sqrt(2 / 3) * 1.5875e-3 * 2.146, rel=0.05)


@pytest.mark.slow
@pytest.mark.parametrize("letter", ["a", "c", "e"])
def test_slopes_serve_for_the_spread(letter: str) -> None:
    """Two hundred cages sewn with the same slips and settled again: the same ninth decile within a sixth."""
    settled = sample(letter)
    changes, sigmas = sewing_changes(settled)
    hem, lot, spans = settled.cage.connectivity.hoop_nodes[-1], np.random.default_rng(7), []
    for _ in range(200):
        numbers = changes.added_to(settled.cage.parameters, lot.normal(size=len(sigmas)) * sigmas)
        sewn = settle(replace(settled.cage, parameters=numbers), settled)
        assert sewn.trusted
        spans.append(np.ptp(sewn.positions[hem, 2] - settled.positions[hem, 2]))
    assert level_within(settled) == pytest.approx(float(np.quantile(spans, SHARE)), rel=1 / 6)

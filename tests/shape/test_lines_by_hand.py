"""Hoops as lines of nodes, what is joined to what and every number on it: rings of eight nodes, worked by hand."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from hand.cage import GRAVITY, PLAIN, RING, changed

from cage3d.design.models import Hoop, Panel
from cage3d.design.read import read_data
from cage3d.shape.cage import Cage
from cage3d.shape.lay_out import lay_out
from cage3d.shape.lines import closed_line, default_resolution, edge_counts, open_line
from cage3d.shape.pulls import panel_ends, pull_sides
from cage3d.shape.steels import steels_of
from cage3d.shape.strip import stiffening
from cage3d.shape.waist import tape_zeros
from cage3d.shape.weights import hoop_weights, join_shares

EVEN = np.array([0.125, 0.375, 0.625, 0.875])
ROOT = np.sqrt(0.5)
# Hoops of 1, 1.2 and 0.8 m on four tapes; nodes 0 to 7, 8 to 15, 16 to 23, the waistband's 24 to 27.
THREE: dict[str, Any] = {
    "hoops": [RING, RING | {"length": 1200}, RING | {"length": 800}],
    "tapes": {"drops": [200, 100, 150]},
}


def of_eight(**written: Any) -> Cage:
    return lay_out(read_data(changed(changed(PLAIN, THREE), written)), 8)


def test_a_ring_begins_at_tape_1_and_is_divided_evenly_between_tapes() -> None:
    """Stretches of 20, 30, 30 and 20 % of a girth of 2 m, ten nodes round."""
    line = closed_line(2.0, np.array([0.1, 0.3, 0.6, 0.9]), 10)
    assert line.fractions == pytest.approx(np.arange(1, 11) / 10)
    assert line.arcs == pytest.approx([0.2] * 10)
    assert line.crossing.tolist() == [0, 2, 5, 8]
    assert (line.closed, line.girth) == (True, 2.0)


def test_every_stretch_has_two_edges_or_more() -> None:
    assert edge_counts(np.array([0.1, 0.2, 0.3, 0.31]), 10).tolist() == [2, 2, 3, 4]


@pytest.mark.parametrize(("hoops", "nodes"), [(1, 192), (2, 192), (3, 149), (4, 112), (5, 112), (40, 112)])
def test_nodes_round_a_hoop(hoops: int, nodes: int) -> None:
    """448 in all, but no more than 192 and no fewer than 112."""
    written = changed(PLAIN, {"hoops": [RING] * hoops, "tapes": {"drops": [150] * hoops}})
    assert default_resolution(read_data(written)) == nodes


def test_a_hoop_open_in_front_goes_from_tape_1_to_the_last() -> None:
    """1 m less two overhangs of 50 mm over three quarters of the girth, which so is 1.2 m; 50 mm are 1/24 of it."""
    line = open_line(Hoop(length=1.0, opening="front", overhang=0.05), EVEN, 8)
    assert line.fractions == pytest.approx([0.125 - 1 / 24, *np.arange(1, 8) / 8, 0.875 + 1 / 24])
    assert line.arcs == pytest.approx([0.05, *[0.15] * 6, 0.05])
    assert line.crossing.tolist() == [1, 3, 5, 7]
    assert (line.closed, line.girth) == (False, pytest.approx(1.2))


def test_a_hoop_open_behind_begins_on_her_right_and_passes_centre_front() -> None:
    line = open_line(Hoop(length=1.0, opening="back", overhang=0.05), EVEN, 8)
    assert line.fractions == pytest.approx([0.625 - 1 / 24, *np.arange(5, 12) / 8, 1.375 + 1 / 24])
    assert line.crossing.tolist() == [5, 7, 1, 3]
    radius = 1.2 / (2 * np.pi)
    places = line.on_circle(0.7)
    # Past tape 3 by a step she is at her right: x below zero, half way to the back; then the front.
    assert places[2] == pytest.approx([-radius, 0.0, 0.7])
    assert places[4] == pytest.approx([0.0, -radius, 0.7])
    assert places[6] == pytest.approx([radius, 0.0, 0.7])


def test_an_open_hoop_without_overhang_ends_at_its_tapes() -> None:
    line = open_line(Hoop(length=0.9, opening="front", overhang=0.0), EVEN, 8)
    assert line.fractions == pytest.approx(np.arange(1, 8) / 8)
    assert line.arcs == pytest.approx([0.15] * 6)
    assert line.crossing.tolist() == [0, 2, 4, 6]


def test_normals_point_outward_half_way_along_each_edge() -> None:
    ring = closed_line(1.0, np.arange(4) / 4, 8).edge_normals()
    turn = np.radians(22.5 + 45.0 * np.arange(8))
    assert ring == pytest.approx(np.column_stack([np.sin(turn), -np.cos(turn), np.zeros(8)]))
    gap = open_line(Hoop(length=0.9, opening="front", overhang=0.0), EVEN, 8).edge_normals()
    assert gap[0] == pytest.approx([np.sin(turn[1]), -np.cos(turn[1]), 0.0])
    assert len(gap) == 6


def test_first_circles_hang_level_on_their_tapes() -> None:
    """The waist's radius is 95.49 mm; steps of 63.66, 31.83 and -63.66 mm: 189.6, 94.8 and 135.8 mm down each."""
    cage = of_eight()
    heights = [cage.positions[nodes, 2] for nodes in cage.connectivity.hoop_nodes]
    for height, level in zip(heights, (0.990 - 0.189597, 0.990 - 0.284397, 0.990 - 0.420215), strict=True):
        assert height == pytest.approx([level] * 8, abs=2e-6)
    assert cage.positions[24:] == pytest.approx(
        0.6 / (2 * np.pi) * np.array([[0, -1, 0], [1, 0, 0], [0, 1, 0], [-1, 0, 0]]) + [0, 0, 0.990], abs=1e-7
    )


def test_a_tape_shorter_than_its_step_is_laid_out_a_tenth_of_it_down() -> None:
    held = {"panels": [{"tapes": [1, 2], "hoops": [1], "tightness": "50 %"}]}
    cage = of_eight(tapes={"drops": [60, 100, 150]}, **held)
    assert cage.positions[0, 2] == pytest.approx(0.990 - 0.006)


def test_what_is_joined_to_what() -> None:
    joined = of_eight().connectivity
    assert (joined.node_count, joined.hoop_count, joined.tape_count, joined.segment_count) == (28, 3, 4, 12)
    assert joined.crossing.tolist() == [[0, 2, 4, 6], [8, 10, 12, 14], [16, 18, 20, 22]]
    assert joined.anchors.tolist() == [24, 25, 26, 27]
    assert joined.pulls.tolist() == [
        [24, 0], [25, 2], [26, 4], [27, 6], [0, 8], [2, 10], [4, 12], [6, 14], [8, 16], [10, 18], [12, 20], [14, 22],
    ]  # fmt: skip
    assert joined.pull_names[:5] == (
        "tape 1 to hoop 1", "tape 2 to hoop 1", "tape 3 to hoop 1", "tape 4 to hoop 1", "tape 1 to hoop 2",
    )  # fmt: skip
    assert joined.edge_hoop.tolist() == joined.bend_hoop.tolist() == [0] * 8 + [1] * 8 + [2] * 8
    assert joined.edges[[0, 7, 8, 15]].tolist() == [[0, 1], [7, 0], [8, 9], [15, 8]]
    assert joined.bends[[0, 8]].tolist() == [[7, 0, 1], [15, 8, 9]]
    assert joined.bend_edges[[0, 8]].tolist() == [[7, 0], [15, 8]]
    assert joined.node_fraction[:16] == pytest.approx([*np.arange(8) / 8, *np.arange(8) / 8])
    assert np.isnan(joined.node_fraction[24:]).all()
    assert joined.closed.tolist() == [True] * 3


def test_ties_and_laces_join_the_nodes_their_words_say() -> None:
    """Hoop 3 tape 2 is node 16 + 2, waistband tape 3 node 24 + 2; a tenth off the chord of a quarter of 1.2 m."""
    cage = of_eight(
        ties=[
            {"from": "hoop 3 tape 2", "to": "waistband tape 3", "length": 300},
            {"from": "hoop 2 tape 4", "to": "hoop 1 tape 1", "length": 250, "name": "ribbon"},
        ],
        panels=[
            {"tapes": [2, 3], "hoops": [3, 1], "widths": [90, 140]},
            {"tapes": [3, 4], "hoops": [2], "tightness": "10 %"},
        ],
    )
    joined, lengths = cage.connectivity, cage.parameters.pull_length
    assert joined.pulls[12:].tolist() == [[18, 26], [14, 0], [18, 20], [2, 4], [12, 14]]
    assert joined.pull_names[12:] == ("tie 1", "ribbon", "panel 1 hoop 3", "panel 1 hoop 1", "panel 2 hoop 2")
    assert lengths[:12] == pytest.approx([0.2] * 4 + [0.1] * 4 + [0.15] * 4)
    assert lengths[12:] == pytest.approx([0.3, 0.25, 0.09, 0.14, 0.9 * 1.2 / (2 * np.pi) / ROOT])
    assert cage.parameters.pull_give == pytest.approx([0.0] * 17)
    assert panel_ends(Panel(tapes=(4, 1), hoops=(2,)), 2, joined.crossing).tolist() == [14, 8]


def test_numbers_along_the_steel() -> None:
    """Eighths of 1, 1.2 and 0.8 m; a node of a true circle lies on it: chords of 2 R sin 22.5."""
    numbers = of_eight(
        hoops=[RING, RING | {"length": 1200, "steel": {"width": 12, "thickness": 1, "set_radius": 500}},
               RING | {"length": 800, "steel": {"set_radius": 400, "threaded": "against"}}],
    ).parameters  # fmt: skip
    each = np.repeat([1.0, 1.2, 0.8], 8)
    assert numbers.arc_length == pytest.approx(each / 8)
    assert numbers.edge_length == pytest.approx(each / np.pi * np.sin(np.pi / 8))
    assert numbers.bend_length == pytest.approx(each / 8)
    assert numbers.set_curvature == pytest.approx(np.repeat([0.0, 2.0, -2.5], 8))
    assert numbers.strip_width == pytest.approx(np.repeat([0.010, 0.012, 0.010], 8))
    # Half the steel and one ribbon of half a millimetre.
    assert numbers.stand_off == pytest.approx([0.00075] * 8 + [0.001] * 8 + [0.00075] * 8 + [0.0] * 4)


def test_a_bend_has_half_the_steel_on_either_side() -> None:
    """Beside an overhang of 50 mm and an eighth of a girth of 1.2 m: (50 + 150) / 2."""
    written = {"tapes": {"stations": "between"}, "hoops": [RING | {"opening": "front", "overhang": 50}]}
    cage = lay_out(read_data(changed(PLAIN, written)), 8)
    assert cage.parameters.bend_length == pytest.approx([0.1, *[0.15] * 5, 0.1])
    assert cage.parameters.arc_length == pytest.approx([0.05, *[0.15] * 6, 0.05])
    # 40 g a metre: an end bears half of its overhang.
    steel = [0.025, 0.1, *[0.15] * 5, 0.1, 0.025]
    assert cage.parameters.own_weight[:9] == pytest.approx(0.040 * GRAVITY * np.array(steel))


def test_weights_on_nodes() -> None:
    """40 g a metre of strip; tapes of 12 g/m hang half on either end, the waistband's half not counted; 80 g more."""
    cage = of_eight(
        tapes={"weight": "12 g/m", "drops": [200, 100, 150]},
        hoops=[RING, RING | {"length": 1200, "carries": "80 g"}, RING | {"length": 800}],
    )
    grams = 1000 * cage.parameters.own_weight / GRAVITY
    assert grams[:8] == pytest.approx([5 + 1.2 + 0.6, 5] * 4)
    assert grams[8:16] == pytest.approx([6 + 10 + 0.6 + 0.9, 6 + 10] * 4)
    assert grams[16:24] == pytest.approx([4 + 0.9, 4] * 4)
    assert grams[24:].tolist() == [0.0] * 4
    assert cage.parameters.skirt_weight.tolist() == [0.0] * 28


@pytest.mark.parametrize(("at", "node"), [("back", 4), ("front", 0)])
def test_a_long_lap_lies_on_three_nodes(at: str, node: int) -> None:
    """200 mm: the 125 of one node and 37.5 of each neighbour, 30 % of it. 8 g more, where it lies doubled."""
    design = read_data(changed(PLAIN, {"hoops": [{"length": 1000, "join": {"overlap": 200}, "join_at": at}]}))
    line, (steel,) = closed_line(1.0, np.arange(4) / 4, 8), steels_of(design)
    beside = [(node - 1) % 8, (node + 1) % 8]
    expected = np.zeros(8)
    expected[node], expected[beside] = 1.0, 0.3
    assert steel.join is not None
    assert join_shares(line, steel.join) == pytest.approx(expected)
    grams = 1000 * hoop_weights(steel, 0.0, line) / GRAVITY
    assert grams == pytest.approx(5 + 8 * expected * 0.625)
    # Doubled 2; a bend of which 30 % is doubled is two lengths in series: 1 / (0.7 + 0.3 / 2).
    stiff = np.ones(8)
    stiff[node], stiff[beside] = 2.0, 1 / 0.85
    assert stiffening(steel.join, line) == pytest.approx(stiff)
    assert stiffening(None, line).tolist() == [1.0] * 8
    assert len(stiffening(None, open_line(Hoop(length=0.9, opening="front", overhang=0.0), EVEN, 8))) == 5


def test_tapes_begin_on_the_waistbands_lower_edge() -> None:
    """Heights of 1004, 1010, 1040 and 990 mm: half way between two sides their mean 1011 with (1004 - 1040) / 2 and
    (1010 - 990) / 2, each by cos 45; a band of 40 mm. An oval of three to two, 600 round (Ramanujan: 15.8654)."""
    heights = {"front": 1004, "left": 1010, "back": 1040, "right": 990}
    design = read_data(changed(PLAIN, {
        "wearer": {"waist_height": heights, "waist_breadth": 30, "waist_depth": 20}, "waistband": {"depth": 40},
        "tapes": {"count": 8},
    }))  # fmt: skip
    zeros = tape_zeros(design)
    between = [
        1011 + (-18 * front + 10 * left) * ROOT for front, left in ((1, 1), (-1, 1), (-1, -1), (1, -1))
    ]
    levels = [1004, between[0], 1010, between[1], 1040, between[2], 990, between[3]]
    assert 1000 * zeros[:, 2] == pytest.approx([level - 20 for level in levels])
    half_broad, half_deep = 0.6 * 3 / 15.8654, 0.6 * 2 / 15.8654
    assert zeros[[0, 2, 4, 6], :2] == pytest.approx(
        np.array([[0, -half_deep], [half_broad, 0], [0, half_deep], [-half_broad, 0]]), abs=1e-5
    )
    assert (zeros[1, 0] > 0, zeros[1, 1] < 0, zeros[5, 0] < 0, zeros[5, 1] > 0) == (True,) * 4


def test_sides_on_which_ties_run() -> None:
    """Her left is at positive x, her back at positive y; nothing is said of the twelve tapes and of a tie without."""
    ends = {"from": "hoop 1 tape 1", "to": "hoop 1 tape 2", "length": 150}
    ties = [ends | {"runs": side} for side in ("before", "left", "behind", "right")]
    design = read_data(
        changed(changed(PLAIN, THREE), {"tapes": {"stations": "between"}, "ties": [ends, *ties]})
    )
    sides = pull_sides(design, 12, 17)
    assert sides[13:].tolist() == [[0, -1], [1, 0], [0, 1], [-1, 0]]
    assert np.isnan(sides[:13]).all()

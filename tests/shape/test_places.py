"""Places on a cage in words, and who is whose neighbour along the steel: numbered by hand."""

from __future__ import annotations

import pytest
from rigs import STRIP_10, design_of

from cage3d.shape.joining import bend_pairs, bend_triples, edge_pairs, numbered
from cage3d.shape.lay_out import lay_out
from cage3d.shape.places import node_in_words

# A ring on four tapes from centre front, four edges between two: nodes 0 to 15, then the waistband's.
CLOSED = design_of(
    waist=0.8, zero=1.0, drops=[[0.2]] * 4, lengths=[1.2], steel=STRIP_10, tapes={"stations": "on"}
)
OPEN = design_of(
    waist=0.8, zero=1.0, drops=[[0.2]] * 4, lengths=[], steel=STRIP_10,
    hoops=[{"length": 1.2, "opening": "back", "overhang": 0.02}],
)  # fmt: skip


@pytest.mark.parametrize(
    ("node", "words"),
    [
        (0, "hoop 1 at tape 1"),
        (1, "hoop 1 between tapes 1 and 2"),
        (4, "hoop 1 at tape 2"),
        (11, "hoop 1 between tapes 3 and 4"),
        (15, "hoop 1 between tapes 4 and 1"),
        (16, "the waistband at tape 1"),
        (19, "the waistband at tape 4"),
    ],
)
def test_places_on_a_ring(node: int, words: str) -> None:
    assert node_in_words(lay_out(CLOSED, 16).connectivity, node) == words


@pytest.mark.parametrize(
    ("node", "words"),
    [
        (0, "hoop 1 beyond tape 3"),
        (1, "hoop 1 at tape 3"),
        (2, "hoop 1 between tapes 3 and 4"),
        (5, "hoop 1 at tape 4"),
        (8, "hoop 1 between tapes 4 and 1"),
        (9, "hoop 1 at tape 1"),
        (13, "hoop 1 at tape 2"),
        (14, "hoop 1 beyond tape 2"),
    ],
)
def test_places_on_a_hoop_open_at_the_back(node: int, words: str) -> None:
    """It begins past tape 3, on her right, runs over the front, and ends past tape 2: an overhang, 3 x 4 edges, one."""
    assert node_in_words(lay_out(OPEN, 16).connectivity, node) == words


def test_running_numbers() -> None:
    assert [group.tolist() for group in numbered([3, 2])] == [[0, 1, 2], [3, 4]]


def test_neighbours_along_a_ring_and_along_an_open_hoop() -> None:
    (nodes,) = numbered([4])
    assert edge_pairs(True, nodes).tolist() == [[0, 1], [1, 2], [2, 3], [3, 0]]
    assert edge_pairs(False, nodes).tolist() == [[0, 1], [1, 2], [2, 3]]
    assert bend_triples(True, nodes).tolist() == [[3, 0, 1], [0, 1, 2], [1, 2, 3], [2, 3, 0]]
    assert bend_triples(False, nodes).tolist() == [[0, 1, 2], [1, 2, 3]]
    assert bend_pairs(True, nodes).tolist() == [[3, 0], [0, 1], [1, 2], [2, 3]]
    assert bend_pairs(False, nodes[:3]).tolist() == [[0, 1], [1, 2]]

"""Each variant hangs as it would settled alone, whichever neighbour it was settled from."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest

from cage3d.study.sweeping import neighbours
from cage3d.study.sweeping.neighbours import Neighbours


class Catch:
    """Cages that hang at 0 or, beyond an edge, 1 m aside, and stay on their side while they are changed."""

    def __init__(
        self, monkeypatch: pytest.MonkeyPatch, edges: list[float], fails: tuple[int, ...] = ()
    ) -> None:
        self.edges, self.fails = edges, fails
        self.alone: list[int] = []
        monkeypatch.setattr(neighbours, "settle", self.settle)

    def cages(self, count: int) -> list[Any]:
        same = np.zeros((1, 2), dtype=int)
        joined = SimpleNamespace(edges=same, pulls=same, crossing=same, hoop_nodes=(np.arange(2),))
        return [SimpleNamespace(number=number, connectivity=joined, cloths=()) for number in range(count)]

    def settle(self, cage: Any, start: Any = None) -> Any:
        if start is None:
            self.alone.append(cage.number)
            side = float(sum(cage.number > edge for edge in self.edges) % 2)
        else:
            side = start.positions[0, 0]
        trusted = cage.number not in self.fails
        return SimpleNamespace(
            cage=cage, positions=np.array([[side, 0.0, 0.0]]), trusted=trusted, snaps=(), notes=()
        )


def sides(found: Neighbours) -> list[float]:
    return [found.settled[place].positions[0, 0] for place in range(len(found.cages))]


@pytest.fixture(autouse=True)
def named(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(neighbours, "node_in_words", lambda _joined, _node: "hoop 1 at the back")


def test_where_nothing_happens_three_are_settled_alone(monkeypatch: pytest.MonkeyPatch):
    catch = Catch(monkeypatch, [])
    found = Neighbours(catch.cages(13))
    assert sides(found) == [0.0] * 13
    assert catch.alone == [0, 6, 12]
    assert found.words == {}


@pytest.mark.parametrize("edge", [0.5, 3.5, 6.5, 9.5, 11.5])
def test_beyond_an_edge_each_hangs_as_it_does_alone(monkeypatch: pytest.MonkeyPatch, edge: float):
    """From below, the one behind the edge would come to rest before it: it is told that it can hang both ways."""
    catch = Catch(monkeypatch, [edge])
    found = Neighbours(catch.cages(13))
    assert sides(found) == [float(number > edge) for number in range(13)]
    behind = int(np.ceil(edge))
    assert list(found.words) == [behind]
    assert "hoop 1 at the back comes to rest 1000 mm from where it is told" in found.words[behind]


def test_an_island_that_holds_the_middle_is_found(monkeypatch: pytest.MonkeyPatch):
    found = Neighbours(Catch(monkeypatch, [3.5, 8.5]).cages(13))
    assert sides(found) == [float(3.5 < number < 8.5) for number in range(13)]


def test_behind_one_without_a_rest_all_are_settled_alone(monkeypatch: pytest.MonkeyPatch):
    catch = Catch(monkeypatch, [], fails=(3,))
    found = Neighbours(catch.cages(13))
    assert [place for place in range(13) if not found.settled[place].trusted] == [3]
    assert catch.alone == [0, 6, 12, 3, 1, 2, 4]


def test_few_and_none(monkeypatch: pytest.MonkeyPatch):
    assert Neighbours([]).settled == {}
    catch = Catch(monkeypatch, [])
    assert len(Neighbours(catch.cages(1)).settled) == 1
    assert len(Neighbours(catch.cages(2)).settled) == 2
    assert catch.alone == [0, 0, 1]

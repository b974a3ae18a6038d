"""Factors by qdldl: held to dense algebra and to SciPy's, and what one has to know of qdldl."""

from __future__ import annotations

from threading import Thread

import numpy as np
import pytest
from rigs import hard_cage

from cage3d.settle import factor, settle
from cage3d.settle.assembly import Pattern, Symmetric, pattern_of
from cage3d.settle.factor import Factor, by_elimination, by_superlu, factorise
from cage3d.shape.arrays import Floats
from cage3d.shape.lay_out import lay_out

SIZE = 40


def chain(step: int) -> Pattern:
    """Every unknown touches the one that many places on, in a ring: patterns of one size and one count of entries."""
    places = np.arange(SIZE)
    return pattern_of([np.column_stack([places, np.roll(places, -step)])], SIZE)


def chance_matrix(pattern: Pattern, seed: int) -> Symmetric:
    """Entries from -1 to 1, the diagonal 4 or -4: some pivots fall, none is small."""
    chance = np.random.default_rng(seed)
    upper = chance.uniform(-1.0, 1.0, len(pattern.indices))
    upper[pattern.diagonal] = 4.0 * chance.choice([-1.0, 1.0], SIZE)
    return Symmetric(pattern, upper)


def singular(pattern: Pattern) -> Symmetric:
    """An unknown that nothing holds."""
    upper = chance_matrix(pattern, 0).upper.copy()
    column = np.repeat(np.arange(SIZE), np.diff(pattern.indptr))
    upper[(column == 7) | (pattern.indices == 7)] = 0.0
    return Symmetric(pattern, upper)


def found(matrix: Symmetric, way=by_elimination) -> Factor:
    """Its factor, which there is."""
    told = way(matrix)
    assert told is not None
    return told


def off(told: Factor, matrix: Symmetric) -> float:
    """By how much the answer to one right-hand side is off dense algebra's."""
    right = np.arange(1.0, SIZE + 1.0)
    return float(np.abs(told.solve(right) - np.linalg.solve(matrix.whole.toarray(), right)).max())


@pytest.mark.parametrize("way", [by_elimination, by_superlu])
@pytest.mark.parametrize("seed", range(4))
def test_answers_and_falling_directions_are_those_of_dense_algebra(way, seed) -> None:
    matrix = chance_matrix(chain(3), seed)
    told = found(matrix, way)
    assert told.negative == int((np.linalg.eigvalsh(matrix.whole.toarray()) < 0.0).sum())
    assert off(told, matrix) < 1e-12


def test_a_singular_matrix_has_no_factor_before_and_after_a_good_one() -> None:
    """The first of its pattern would stop the finding of the order; a later one would answer with the old factor."""
    pattern = chain(5)
    assert by_elimination(singular(pattern)) is None
    good = chance_matrix(pattern, 1)
    assert off(found(good), good) < 1e-12
    assert by_elimination(singular(pattern)) is None
    assert by_superlu(singular(pattern)) is None
    assert off(found(good), good) < 1e-12


def test_what_is_no_number_has_no_factor() -> None:
    bad = chance_matrix(chain(5), 1)
    bad.upper[3] = np.nan
    assert by_elimination(bad) is None


def test_a_later_factor_of_the_same_pattern_spoils_no_earlier_one() -> None:
    pattern = chain(3)
    matrices = [chance_matrix(pattern, seed) for seed in (5, 6)]
    factors = [found(matrix) for matrix in matrices]
    assert by_elimination(singular(pattern)) is None
    for told, matrix in (*zip(factors, matrices, strict=True), (factors[0], matrices[0])):
        assert off(told, matrix) < 1e-12


def test_patterns_of_one_size_are_told_apart() -> None:
    """In turn, so that a pattern taken for the other would put numbers in wrong places."""
    for seed, step in enumerate((3, 5, 3, 5)):
        matrix = chance_matrix(chain(step), seed)
        assert off(found(matrix), matrix) < 1e-12
    assert chain(3) is chain(3)
    assert chain(3) is not chain(5)


def test_many_right_hand_sides_at_once() -> None:
    matrix = chance_matrix(chain(3), 2)
    rights = np.random.default_rng(2).normal(size=(SIZE, 3))
    assert found(matrix).solve(rights) == pytest.approx(np.linalg.solve(matrix.whole.toarray(), rights))


def test_threads_do_not_get_one_anothers_answers() -> None:
    """Four at the one elimination of a pattern."""
    matrices = [chance_matrix(chain(3), seed) for seed in range(4)]
    worst: list[float] = []

    def work(matrix: Symmetric) -> None:
        worst.append(max(off(found(matrix), matrix) for _ in range(50)))

    threads = [Thread(target=work, args=(matrix,)) for matrix in matrices]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert len(worst) == 4
    assert max(worst) < 1e-12


def test_a_cage_settles_the_same_without_qdldl(monkeypatch) -> None:
    def places() -> tuple[Floats, int]:
        settled = settle(lay_out(hard_cage(), 24))
        return settled.positions, settled.steps

    first, steps = places()
    used: list[Symmetric] = []
    monkeypatch.setattr(factor, "QDLDL_FOUND", False)
    monkeypatch.setattr(factor, "by_superlu", lambda matrix: used.append(matrix) or by_superlu(matrix))
    other, same = places()
    assert np.abs(first - other).max() < 1e-9
    assert steps == same
    assert used
    assert factorise(chance_matrix(chain(3), 1)) is not None

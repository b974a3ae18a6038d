"""How readings are weighed: posteriors worked out by hand, slips of the pen undone, the reading that tells most."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.stats import norm

from cage3d.design.models import Design
from cage3d.design.read import read_text
from cage3d.study.truing.asking import best_question, information
from cage3d.study.truing.background import Sewing
from cage3d.study.truing.causes import MARK, Cause
from cage3d.study.truing.doubts import undoubted
from cage3d.study.truing.felt import chance_loose
from cage3d.study.truing.hanging import Hanging
from cage3d.study.truing.judging import MODEL_SIGMA, ODDS, SECOND, Weighing, judged
from cage3d.study.truing.readings import Readings
from cage3d.study.truing.states import States

ROOT_12 = np.sqrt(12.0)
EACH, BOTH = ODDS / 2, 2 * ODDS * SECOND / 4  # of each of two causes against none, and of both


def readings(values: list[float], places: list[int] | None = None) -> Readings:
    """Read as finely as makes one sigma of 1 mm, with that of the mechanics."""
    step = ROOT_12 * np.sqrt(1e-6 - MODEL_SIGMA**2)
    at = np.arange(len(values)) if places is None else np.array(places)
    return Readings(at, np.array(values), float(step), np.zeros(0, dtype=np.intp), np.zeros(0, dtype=bool))


def two_figures(first: list[float], second: list[float]) -> States:
    """Two causes of one size each, and what they do to two figures (m)."""
    still = np.zeros((2, 2))
    causes = (Cause(MARK, 0, 0), Cause(MARK, 1, 0))
    return States(
        causes, np.array([0, 1]), np.array([0.01, 0.01]), Hanging(np.array([first, second]), still, still)
    )


def weighing(values: list[float], sewing: float = 0.0) -> Weighing:
    """Both figures go up together by `sewing` m a sigma of the only thing sewn."""
    base = Hanging(np.zeros(2), np.full(2, 5.0), np.zeros(2))
    return Weighing(base, Sewing(np.full((2, 1), sewing), np.ones(1)), readings(values))


def test_one_error_against_another_and_none() -> None:
    """Likelihoods of independent readings of one sigma of 1 mm; each cause has half of ODDS."""
    values = [0.002, 0.001]
    states = two_figures([0.003, 0.0], [0.0, 0.003])

    def likely(means: tuple[float, float]) -> float:
        return float(norm.pdf(values[0], means[0], 1e-3) * norm.pdf(values[1], means[1], 1e-3))

    odds = [
        likely((0, 0)), likely((0.003, 0)) * EACH, likely((0, 0.003)) * EACH, likely((0.003, 0.003)) * BOTH
    ]  # fmt: skip
    verdict = judged(weighing(values), states)
    assert verdict.none == pytest.approx(odds[0] / sum(odds))
    assert verdict.alone == pytest.approx(np.array(odds[1:3]) / sum(odds))
    assert verdict.chances[0] == pytest.approx((odds[1] + odds[3]) / sum(odds))
    assert verdict.order == [0, 1]


def test_ordinary_sewing_makes_it_less_sure() -> None:
    """Both figures 3 mm up are two errors at once, or one lot of sewing that moves both by 2 mm a sigma."""
    states = two_figures([0.003, 0.0], [0.0, 0.003])
    assert judged(weighing([0.003, 0.003]), states).paired > 0.75
    sewn = judged(weighing([0.003, 0.003], sewing=0.002), states)
    inverse = np.array([[5.0, -4.0], [-4.0, 5.0]]) / 9.0  # of the covariance 1 + 4 within, 4 between, in mm2
    odds = [
        np.exp(-np.array(left) @ inverse @ np.array(left) / 2) * share
        for left, share in (((3, 3), 1.0), ((0, 3), EACH), ((3, 0), EACH), ((0, 0), BOTH))
    ]
    assert sewn.none == pytest.approx(odds[0] / sum(odds))
    assert sewn.paired < 0.25


def test_what_nothing_explains_is_said() -> None:
    states = two_figures([0.003, 0.0], [0.0, 0.003])
    assert judged(weighing([0.003, 0.001]), states).explained
    assert not judged(weighing([0.05, -0.05]), states).explained


def test_a_tape_that_feels_loose_speaks_for_the_error_that_loosens_it() -> None:
    states = two_figures([0.003, 0.0], [0.003, 0.0])
    slack = np.array([[0.01, 0.0], [0.0, 0.01]])
    pulls = np.array([[-5.0, 0.0], [0.0, -5.0]])
    loose = States(states.causes, states.of, states.sizes, Hanging(states.hangs.figures, pulls, slack))
    own = weighing([0.003, 0.0])
    felt = Readings(
        own.readings.places, own.readings.values, own.readings.step, np.array([1]), np.array([True])
    )
    assert judged(own, loose).chances == pytest.approx([judged(own, loose).chances[0]] * 2)
    told = judged(Weighing(own.base, own.sewing, felt), loose)
    assert told.chances[1] > 10 * told.chances[0]
    assert chance_loose(np.array([5.0, 0.0]), np.array([0.0, 0.01])) == pytest.approx([0.02, 0.98], abs=0.02)


def test_information_of_a_reading() -> None:
    """Two causes alike likely: far apart a reading tells which, one bit; where they foresee the same, nothing."""
    even, cause = np.array([0.5, 0.5]), np.array([0, 1])
    assert information(even, cause, np.array([0.0, 0.1]), 1e-3) == pytest.approx(1.0, abs=1e-3)
    assert information(even, cause, np.array([0.01, 0.01]), 1e-3) == pytest.approx(0.0, abs=1e-9)
    # Two sigmas apart: mutual information of a binary input in Gaussian noise of that distance is 0.486 bits.
    assert information(even, cause, np.array([0.0, 2e-3]), 1e-3) == pytest.approx(0.486, abs=0.002)


def test_the_reading_asked_for_is_that_in_which_they_differ() -> None:
    """Both causes lift the first figure alike; only the second tells them apart, and it was not read."""
    states = two_figures([0.01, 0.0], [0.01, 0.02])
    own = weighing([0.0, 0.0])
    first = Weighing(own.base, own.sewing, readings([0.01], [0]))
    question = best_question(first, judged(first, states))
    assert question is not None
    assert (question.place, question.again, question.kind) == (1, False, "height")
    assert question.bits == pytest.approx(1.0, abs=0.1)


FOUR = """\
name: Four tapes
units: in
wearer: {waist: 26, waist_height: 40}
steel: {width: 12 mm, thickness: 0.6 mm}
tapes: {count: 4, drops: [9, 8]}
hoops: [{length: 52}, {length: 62}]
"""


def four() -> tuple[Design, Weighing, States]:
    """Two hoops on four tapes, her left lower than her right, and their widths; one cause lowers hoop 2 on tape 2."""
    base = Hanging(
        np.array([0.80, 0.79, 0.80, 0.81, 0.60, 0.58, 0.60, 0.62, 0.40, 0.42, 0.48, 0.52]),
        np.full(8, 2.0),
        np.zeros(8),
    )
    effect = np.zeros((1, 12))
    effect[0, 5] = -0.01
    still = np.zeros((1, 8))
    states = States((Cause(MARK, 1, 1),), np.array([0]), np.array([0.01]), Hanging(effect, still, still))
    own = Weighing(base, Sewing(np.full((12, 1), 1e-3), np.ones(1)), readings(list(base.figures)))
    return read_text(FOUR, "four.yaml"), own, states


@pytest.mark.parametrize("wrong", [False, True])
@pytest.mark.parametrize(
    ("slip", "kind", "words"),
    [
        (lambda x: x * 2.54, "unit", "all readings are in centimetres"),
        (lambda x: x * 25.4, "unit", "all readings are in millimetres"),
        (lambda x: np.r_[x[:8], x[8:] * 2.54], "unit", "the widths are in centimetres"),
        (lambda x: x[[3, 2, 1, 0, 7, 6, 5, 4, 8, 9, 10, 11]], "mirrored", "left and right are exchanged"),
        (lambda x: x[[0, 3, 2, 1, 4, 7, 6, 5, 8, 9, 10, 11]], "mirrored", "from tape 1"),
        (lambda x: x[[0, 1, 2, 3, 7, 6, 5, 4, 8, 9, 10, 11]], "mirrored", "of hoop 2 are written left for right"),
        (lambda x: x[[4, 5, 6, 7, 0, 1, 2, 3, 8, 9, 10, 11]], "exchanged", "heights of hoops 1 and 2 are exchanged"),
        (lambda x: x[[1, 0, 2, 3, 5, 4, 6, 7, 8, 9, 10, 11]], "exchanged", "heights of tapes 1 and 2 are exchanged"),
        (lambda x: x[[0, 1, 2, 3, 4, 5, 6, 7, 9, 8, 11, 10]], "exchanged", "widths from side to side and from front"),
    ],
)  # fmt: skip
def test_slips_of_the_pen_are_noticed(slip, kind: str, words: str, wrong: bool) -> None:  # type: ignore[no-untyped-def]
    """Each is told in words, and what is read without it is what hung there, with an error and without."""
    design, own, states = four()
    hung = own.readings.values + (states.hangs.figures[0] if wrong else 0.0)
    slipped = Weighing(own.base, own.sewing, own.readings.at(own.readings.places, slip(hung)))
    clear, doubts = undoubted(slipped, states, design)
    assert [doubt.kind for doubt in doubts] == [kind]
    assert words in doubts[0].text
    assert clear.readings.values == pytest.approx(hung)


def test_what_is_written_rightly_is_left_alone() -> None:
    design, own, states = four()
    assert undoubted(own, states, design) == (own, [])


def test_a_misread_figure_is_left_out() -> None:
    """One height written 4 in too low beside an error: left out, and the error is found all the same."""
    design, own, states = four()
    hung = own.readings.values + states.hangs.figures[0]
    hung[2] -= 0.1016
    slipped = Weighing(own.base, own.sewing, own.readings.at(own.readings.places, hung))
    clear, doubts = undoubted(slipped, states, design)
    assert [doubt.kind for doubt in doubts] == ["misread"]
    assert doubts[0].text.startswith("the height of hoop 1 at tape 3, 27 1/2 in, fits nothing near it")
    assert clear.readings.places.tolist() == [0, 1, 3, 4, 5, 6, 7, 8, 9, 10, 11]
    assert judged(clear, states).chances[0] > 0.99

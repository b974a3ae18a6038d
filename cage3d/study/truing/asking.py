"""Which reading more would tell most between the causes that are left: expected information, in bits."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.linalg import cho_solve

from cage3d.shape.arrays import Floats, Ints
from cage3d.steady import first_largest
from cage3d.study.truing.felt import chance_loose
from cage3d.study.truing.judging import MODEL_SIGMA, Verdict, Weighing

LEAST_BITS = 0.05  # less is not worth a walk round her
LEAST_CHANCE = 0.01  # of a state that is asked about
POINTS = 121  # of a reading that may come out one way or another
REACH = 4.0  # sigmas


@dataclass(frozen=True)
class Question:
    """A reading to take: a figure (place) or a tape to feel (segment), and what it is expected to tell."""

    kind: str  # "height", "width" or "feel"
    place: int
    again: bool  # it was taken already
    bits: float


def best_question(weighing: Weighing, verdict: Verdict, feeling: bool = True) -> Question | None:
    """The reading that would tell most; None where none would tell enough. feeling: tapes may be felt too."""
    chances, cause, means, pulls, slack = explanations(weighing, verdict)
    if len(chances) == 0:
        return None
    questions = [*figure_questions(weighing, chances, cause, means)]
    questions += feel_questions(weighing, chances, cause, pulls, slack) if feeling else []
    if not questions:
        return None
    best = questions[first_largest([round(question.bits, 4) for question in questions])]
    return best if best.bits > LEAST_BITS else None


def explanations(weighing: Weighing, verdict: Verdict) -> tuple[Floats, Ints, Floats, Floats, Floats]:
    """(chance, cause, figures (E, Q), pulls (E, S), slack (E, S)) of every state worth asking about, and of none."""
    states, base = verdict.states, weighing.base
    kept = np.flatnonzero(verdict.chances[states.of] > LEAST_CHANCE)
    kept = kept[verdict.single[kept] > LEAST_CHANCE * verdict.single[kept].max(initial=0.0)]
    chances = np.append(verdict.single[kept], verdict.none)
    cause = np.append(states.of[kept], -1)

    def with_none(changes: Floats, plain: Floats) -> Floats:
        return np.vstack([plain + changes, plain])

    return (
        chances / chances.sum(),
        cause,
        with_none(states.hangs.figures[kept], base.figures),
        with_none(states.hangs.pulls[kept], base.pulls),
        with_none(states.hangs.slack[kept], base.slack),
    )


def figure_questions(weighing: Weighing, chances: Floats, cause: Ints, means: Floats) -> list[Question]:
    """Every height and width, read for the first time or again by somebody else."""
    readings, effects = weighing.readings, weighing.sewing.effects
    shared = effects @ effects[readings.places].T  # (Q, R) of a figure with every reading
    solved = cho_solve((weighing.root, True), shared.T).T
    left = readings.values - means[:, readings.places]  # (E, R)
    foreseen = means + left @ solved.T  # (E, Q)
    variance = (effects**2).sum(axis=1) - (solved * shared).sum(axis=1)
    sigma = np.sqrt(np.maximum(variance, 0.0) + readings.sigma**2 + MODEL_SIGMA**2)
    heights = len(weighing.base.pulls)
    taken = set(readings.places.tolist())
    return [
        Question(
            "height" if place < heights else "width",
            place,
            place in taken,
            information(chances, cause, foreseen[:, place], float(sigma[place])),
        )
        for place in range(len(sigma))
    ]


def information(chances: Floats, cause: Ints, means: Floats, sigma: float) -> float:
    """Bits that a reading tells of the cause: how far each cause's foreseen readings differ from those of all."""
    grid = np.linspace(means.min() - REACH * sigma, means.max() + REACH * sigma, POINTS)
    each = np.exp(-(((grid[None, :] - means[:, None]) / sigma) ** 2) / 2.0) * chances[:, None]
    own = np.stack([each[cause == one].sum(axis=0) for one in np.unique(cause)])
    own /= own.sum()
    weight, all_of_them = own.sum(axis=1, keepdims=True), own.sum(axis=0, keepdims=True)
    with np.errstate(divide="ignore", invalid="ignore"):
        terms = own * np.log2(own / (weight * all_of_them))
    return float(np.nansum(terms))


def feel_questions(
    weighing: Weighing, chances: Floats, cause: Ints, pulls: Floats, slack: Floats
) -> list[Question]:
    """Every tape that was not felt yet."""
    loose = chance_loose(pulls, slack)  # (E, S)
    felt = set(weighing.readings.felt.tolist())
    out = []
    for segment in range(loose.shape[1]):
        if segment in felt:
            continue
        both = np.stack([loose[:, segment], 1.0 - loose[:, segment]]) * chances
        own = np.stack([both[:, cause == one].sum(axis=1) for one in np.unique(cause)])
        weight, all_of_them = own.sum(axis=1, keepdims=True), own.sum(axis=0, keepdims=True)
        with np.errstate(divide="ignore", invalid="ignore"):
            terms = own * np.log2(own / (weight * all_of_them))
        out.append(Question("feel", segment, False, float(np.nansum(terms))))
    return out

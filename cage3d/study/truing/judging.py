"""How likely each cause is, given what was measured (Bayes): none, a single one, or two together.

What is read is what the cage shows with the cause, which is settled, and what ordinary sewing and the tape measure's
step make of it, which enters by its covariance: without it the answer would be surer than it may be.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from scipy.linalg import cholesky, solve_triangular
from scipy.special import (
    chdtrc,
    logsumexp,
)  # scipy.stats has the first too, and takes as long to load as all else

from cage3d.shape.arrays import Floats, Ints
from cage3d.steady import falling, first_largest
from cage3d.study.truing.background import Sewing
from cage3d.study.truing.felt import chance_loose
from cage3d.study.truing.hanging import Hanging
from cage3d.study.truing.readings import Readings
from cage3d.study.truing.states import States

MODEL_SIGMA = 5e-4  # m, of settling coarsely and of reading between the sizes settled
# Before anything is measured, of one error anywhere in the cage against none, as it is measured because it looks wrong;
# and of a second one beside it [judgement].
ODDS, SECOND = 2.0, 0.15
MOST_PAIRS = 400  # that are weighed by feel too; the others together are less likely than the last of these
STRANGE = 1e-3
COARSE = 2  # every which size of the two of a pair is weighed


@dataclass(frozen=True)
class Weighing:
    """Readings beside the cage as written, and what ordinary sewing makes of each."""

    base: Hanging  # as written
    sewing: Sewing
    readings: Readings

    @cached_property
    def covariance(self) -> Floats:
        """(R, R) m2 of the readings."""
        own = self.sewing.effects[self.readings.places]
        alone = self.readings.sigma**2 + MODEL_SIGMA**2
        return np.asarray(own @ own.T + alone * np.eye(len(own)))

    @cached_property
    def root(self) -> Floats:
        return np.asarray(cholesky(self.covariance, lower=True))

    def whitened(self, values: Floats) -> Floats:
        """(..., R) m in sigmas that are independent of one another."""
        flat = values.reshape(-1, values.shape[-1]).T
        return np.asarray(solve_triangular(self.root, flat, lower=True).T.reshape(values.shape))

    @cached_property
    def off(self) -> Floats:
        """(R,) what was read less the cage as written, whitened."""
        return self.whitened(self.readings.values - self.base.figures[self.readings.places])

    def white(self, states: States) -> Floats:
        """(M, R) what the causes do to the readings, whitened."""
        return self.whitened(states.hangs.figures[:, self.readings.places])

    def by_feel(self, pulls: Floats, slack: Floats) -> Floats:
        """(...) log likelihood of what was felt, of changes of pulls and slack (..., S)."""
        felt = self.readings.felt
        chance = chance_loose(
            self.base.pulls[felt] + pulls[..., felt], self.base.slack[felt] + slack[..., felt]
        )
        return np.asarray(np.log(np.where(self.readings.loose, chance, 1.0 - chance)).sum(axis=-1))


@dataclass(frozen=True)
class Pair:
    """Two states together, and how likely their two causes are."""

    first: int
    second: int
    chance: float


@dataclass(frozen=True)
class Verdict:
    """What the readings say of every state, of none, and of two causes together."""

    states: States
    none: float  # probability
    single: Floats  # (M,) probability of each state alone
    pairs: tuple[Pair, ...]  # likeliest first
    excess: float  # chi squared of the best explanation
    count: int  # of readings with a measure

    @cached_property
    def alone(self) -> Floats:
        """(K,) of each cause alone."""
        return summed(self.states, self.single)

    @cached_property
    def weights(self) -> Floats:
        """(M,) that each state is at work, alone or with another."""
        weights = self.single.copy()
        for pair in self.pairs:
            weights[[pair.first, pair.second]] += pair.chance
        return weights

    @cached_property
    def chances(self) -> Floats:
        """(K,) that each cause is at work, alone or with another."""
        return summed(self.states, self.weights)

    @property
    def paired(self) -> float:
        """Probability of two causes."""
        return float(sum(pair.chance for pair in self.pairs))

    @property
    def order(self) -> list[int]:
        """Causes from the likeliest."""
        return falling(self.chances)

    def best(self, cause: int) -> int:
        """The likeliest state of a cause."""
        own = np.flatnonzero(self.states.of == cause)
        return int(own[first_largest(self.single[own] / max(float(self.single[own].max()), 1e-300))])

    def size(self, cause: int) -> tuple[float, float]:
        """(mean, standard deviation) m of its size, on that side, too low or too high, that is the likelier."""
        own = np.flatnonzero(self.states.of == cause)
        up = self.states.sizes[own] > 0.0
        likelier = up == bool(self.weights[own[up]].sum() > self.weights[own[~up]].sum())
        own = own[likelier]
        weights = self.weights[own] / max(float(self.weights[own].sum()), 1e-300)
        mean = float(weights @ self.states.sizes[own])
        return mean, float(np.sqrt(weights @ (self.states.sizes[own] - mean) ** 2))

    @property
    def explained(self) -> bool:
        """Whether anything weighed fits: a misfit that comes up once in a thousand hangings is none."""
        # scipy.stats has this too, and takes as long to load as all else that every command needs.
        return self.count == 0 or float(chdtrc(self.count, max(self.excess, 0.0))) > STRANGE


def summed(states: States, weights: Floats) -> Floats:
    """(K,) of weights (M,) of states."""
    return np.bincount(states.of, weights, len(states.causes)).astype(np.float64)


def judged(weighing: Weighing, states: States) -> Verdict:
    """The posterior over none, single causes and pairs."""
    white = weighing.white(states)
    misfit = ((weighing.off - white) ** 2).sum(axis=1)
    plain = float(weighing.off @ weighing.off)
    log_prior = np.log(ODDS / len(states.causes)) + np.log(states.density)
    single = -misfit / 2.0 + weighing.by_feel(states.hangs.pulls, states.hangs.slack) + log_prior
    still = np.zeros_like(weighing.base.pulls)
    none = -plain / 2.0 + float(weighing.by_feel(still, still))
    pairs, least = pairs_of(weighing, states, white)
    whole = float(logsumexp(np.concatenate([[none], single, [log for *_, log in pairs]])))
    return Verdict(
        states,
        float(np.exp(none - whole)),
        np.exp(single - whole),
        tuple(Pair(first, second, float(np.exp(log - whole))) for first, second, log in pairs),
        min(plain, float(misfit.min(initial=np.inf)), least),
        len(weighing.readings.places),
    )


def pairs_of(weighing: Weighing, states: States, white: Floats) -> tuple[list[tuple[int, int, float]], float]:
    """(the likeliest states of two causes with the log of the evidence of both, likeliest first; the least misfit).

    What two errors do together is taken as the sum of what each does.
    """
    some = states.every(COARSE)
    # Over all pairs of causes, each counted once, these priors add up to nearly ODDS * SECOND.
    each = np.sqrt(2.0 * ODDS * SECOND) / len(states.causes)
    prior = np.log(each) + np.log(states.only(some).density)
    log = logs_of_pairs(weighing.off, white[some], prior, states.of[some])
    ends = np.flatnonzero(np.diff(states.of[some], append=-1))
    starts = np.concatenate([[0], ends[:-1] + 1])
    top = float(log.max(initial=-np.inf))
    if not np.isfinite(top):
        return [], np.inf
    blocks = np.add.reduceat(np.add.reduceat(np.exp(log - top), starts, axis=0), starts, axis=1)
    likeliest = falling(blocks.ravel())[:MOST_PAIRS]
    found: list[tuple[int, int, float]] = []
    for row, column in (divmod(place, len(starts)) for place in likeliest):
        if blocks[row, column] <= 0.0:
            break
        own = log[starts[row] : ends[row] + 1, starts[column] : ends[column] + 1]
        a, b = divmod(int(np.argmax(own)), own.shape[1])
        first, second = int(some[starts[row] + a]), int(some[starts[column] + b])
        found.append((first, second, float(np.log(blocks[row, column]) + top)))
    both = np.array([(first, second) for first, second, _ in found], dtype=np.intp).reshape(-1, 2)
    felt = weighing.by_feel(states.hangs.pulls[both].sum(axis=1), states.hangs.slack[both].sum(axis=1))
    misfit = ((weighing.off - white[both].sum(axis=1)) ** 2).sum(axis=1)
    logs = np.array([log for *_, log in found]) + felt
    told = [(int(both[place, 0]), int(both[place, 1]), float(logs[place])) for place in falling(logs)]
    return told, float(misfit.min(initial=np.inf))


def logs_of_pairs(off: Floats, white: Floats, log_prior: Floats, of: Ints) -> Floats:
    """(m, m) log of prior and likelihood of two states together; -inf but where the second cause comes later."""
    alone = white @ off - (white**2).sum(axis=1) / 2.0 + log_prior
    log = alone[:, None] + alone[None, :] - white @ white.T - float(off @ off) / 2.0
    log[of[:, None] >= of[None, :]] = -np.inf
    return np.asarray(log)

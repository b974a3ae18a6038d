"""The fewest and smallest corrections that bring the hem back to its line, each settled before it is told."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace

import numpy as np

from cage3d.foresee.hem import hem_nodes
from cage3d.settle import SettledCage
from cage3d.settle.tangent import Tangent
from cage3d.shape.arrays import Floats
from cage3d.steady import rising
from cage3d.study.budget import Budget
from cage3d.study.truing.causes import DROP, MARK, Cause, changes_of, with_errors
from cage3d.study.truing.judging import Verdict, Weighing
from cage3d.units import inches

LEVEL = inches(1 / 4)  # from the lowest to the highest departure of the hem from its line [common practice]
MOST_MOVES = 6
MOSTLY = 0.75  # of what is likely, in which a correction must level the hem
FARTHEST = inches(5 / 4)  # by which a mark is moved; more wants a new tape
TRIED = 5  # corrections, of those that the slopes foresee as best, that are settled
MOST_STORIES, LEAST_STORY = (
    3,
    0.15,
)  # explanations that a correction is held against; their least share of the best


@dataclass(frozen=True)
class Move:
    """A correction: `amount` m more of a cause (mark down, drop or hoop or tie longer)."""

    cause: Cause
    amount: float

    def marks(self, hoops: int) -> int:
        """How many marks are unpicked for it; a drop takes along all that hang below."""
        return hoops - self.cause.hoop if self.cause.what == DROP else 1


@dataclass(frozen=True)
class Story:
    """One explanation: every cause's amount as the cage is believed to be sewn, settled, and how likely."""

    amounts: Floats  # (K,) m
    settled: SettledCage
    chance: float  # among the stories


@dataclass(frozen=True)
class Mended:
    """The corrections, and the hem with them."""

    moves: tuple[Move, ...]
    before: float  # m, from the lowest to the highest departure of the hem from its line, as it hangs
    after: float  # m, the same once mended, as the likeliest story has it
    worst: float  # m, in that story in which it comes out worst
    amounts: Floats  # (K,) m, what then is left of errors and corrections in the likeliest story
    level: float  # m, the limit
    given_up: bool = False  # as trying more takes very long

    @property
    def levels(self) -> bool:
        return self.after <= self.level


def hem_over(planned: SettledCage, settled: SettledCage) -> Floats:
    """(n,) m, how much higher than planned the hem hangs all along."""
    nodes = hem_nodes(planned.cage)
    return np.asarray(settled.positions[nodes, 2] - planned.positions[nodes, 2])


def hem_off(planned: SettledCage, settled: SettledCage) -> float:
    """m, from the lowest to the highest departure of the hem from the line that was planned."""
    return float(np.ptp(hem_over(planned, settled)))


@dataclass
class Bench:
    """Where corrections are tried: the cage as written, what may be moved, and the step she marks by."""

    planned: SettledCage
    causes: tuple[Cause, ...]
    movable: Sequence[bool]  # (K,)
    step: float  # m
    level: float = LEVEL
    told: Callable[[str], object] = lambda _what: None
    budget: Budget = field(default_factory=Budget)

    def hem(self, settled: SettledCage) -> Floats:
        """(n,) m, how much higher than planned the hem hangs all along."""
        return hem_over(self.planned, settled)

    def hung(self, amounts: Floats, near: SettledCage) -> SettledCage | None:
        changed = with_errors(self.planned.cage, amounts)
        found = self.budget.settle(changed, near) if changed is not None else None
        return found if found is not None and found.trusted else None

    def with_moves(self, amounts: Floats, moves: Sequence[Move]) -> Floats:
        changed = amounts.copy()
        for move in moves:
            changed[self.causes.index(move.cause)] += move.amount
        return changed

    def tried(self, stories: Sequence[Story], moves: Sequence[Move]) -> list[SettledCage] | None:
        """Every story with these corrections; None where one finds no rest."""
        hung = [self.hung(self.with_moves(story.amounts, moves), story.settled) for story in stories]
        return [one for one in hung if one is not None] if all(one is not None for one in hung) else None

    def off(self, settled: Sequence[SettledCage]) -> list[float]:
        return [hem_off(self.planned, one) for one in settled]


def stories_of(bench: Bench, weighing: Weighing, verdict: Verdict) -> list[Story]:
    """The likeliest explanations, each with what ordinary sewing it leaves to be believed in."""
    states = verdict.states
    told: list[tuple[float, tuple[int, ...]]] = [(verdict.none, ())]
    told += [
        (float(verdict.chances[cause]), (verdict.best(cause),)) for cause in verdict.order[:MOST_STORIES]
    ]
    told += [(pair.chance, (pair.first, pair.second)) for pair in verdict.pairs[:MOST_STORIES]]
    order = rising([-chance for chance, _ in told])[:MOST_STORIES]
    best = told[order[0]][0]
    kept = [told[place] for place in order if told[place][0] >= LEAST_STORY * best]
    stories = []
    for chance, parts in kept:
        error = np.zeros(len(states.causes))
        for state in parts:
            error[states.of[state]] += states.sizes[state]
        figures = (
            states.hangs.figures[list(parts)].sum(axis=0) if parts else np.zeros_like(weighing.base.figures)
        )
        amounts = error + weighing.sewing.amounts(states.causes, sewn(weighing, figures))
        near = bench.hung(error, bench.planned) if parts else bench.planned
        settled = bench.hung(amounts, near or bench.planned)
        if settled is not None:
            stories.append(Story(amounts, settled, chance))
    whole = sum(story.chance for story in stories)
    return [replace(story, chance=story.chance / whole) for story in stories]


def sewn(weighing: Weighing, figures: Floats) -> Floats:
    """(L,) the lots of ordinary sewing that are likeliest beside an error that changes the figures so (Q,) m."""
    places = weighing.readings.places
    left = weighing.readings.values - weighing.base.figures[places] - figures[places]
    return np.asarray(weighing.sewing.effects[places].T @ np.linalg.solve(weighing.covariance, left))


def mended(bench: Bench, stories: Sequence[Story], errors: Sequence[Move]) -> Mended:
    """The fewest corrections with which the hem is level: the error itself undone first, then marks that help most.

    errors: what is believed to be wrong. Where nothing levels it, the best that was found.
    """
    before = bench.off([stories[0].settled])[0]
    undone = [Move(one.cause, -round(one.amount / bench.step) * bench.step) for one in errors]
    undone = [one for one in undone if abs(one.amount) > 0.0 and bench.movable[bench.causes.index(one.cause)]]
    best: tuple[list[Move], list[SettledCage]] = ([], [story.settled for story in stories])
    if before > bench.level and undone:
        hung = bench.tried(stories, undone)
        if hung is not None and bench.off(hung)[0] < before:
            best = (undone, hung)
    while not levelled(bench, stories, best[1]) and len(best[0]) < MOST_MOVES:
        bench.told(f"trying a correction of {len(best[0]) + 1} marks")
        better = one_more(bench, stories, *best)
        if better is None:
            break
        best = better
    off = bench.off(best[1])
    left = bench.with_moves(stories[0].amounts, best[0])
    return Mended(
        tuple(best[0]), before, off[0], max(off), left, bench.level, given_up=bench.budget.left == 0
    )


def levelled(bench: Bench, stories: Sequence[Story], hung: Sequence[SettledCage]) -> bool:
    """Whether the hem is level in the likeliest story, and in most of the others, as likely as they are."""
    level = [off <= bench.level for off in bench.off(hung)]
    return level[0] and sum(story.chance for story, own in zip(stories, level, strict=True) if own) >= MOSTLY


def one_more(
    bench: Bench, stories: Sequence[Story], moves: list[Move], hung: Sequence[SettledCage]
) -> tuple[list[Move], list[SettledCage]] | None:
    """The correction more, or the larger one, that levels the hem best; None where none helps."""
    now = score(bench, stories, hung)
    best: tuple[list[Move], list[SettledCage]] | None = None
    for more in foreseen_best(bench, stories, hung):
        together = with_move(moves, more)
        settled = bench.tried(stories, together)
        if settled is None:
            continue
        reached = score(bench, stories, settled)
        if reached < now - 1e-6:
            now, best = reached, (together, settled)
    return best


def score(bench: Bench, stories: Sequence[Story], hung: Sequence[SettledCage]) -> float:
    """m, by how much the hem is off, story by story."""
    return float(sum(story.chance * off for story, off in zip(stories, bench.off(hung), strict=True)))


def with_move(moves: list[Move], more: Move) -> list[Move]:
    """The same mark is moved once, by both together."""
    same = [move for move in moves if move.cause == more.cause]
    rest = [move for move in moves if move.cause != more.cause]
    amount = more.amount + sum(move.amount for move in same)
    return [*rest, Move(more.cause, amount)] if abs(amount) > 1e-9 else rest


def foreseen_best(bench: Bench, stories: Sequence[Story], hung: Sequence[SettledCage]) -> list[Move]:
    """Marks and how far to move each, from that with which the slopes foresee the levellest hem."""
    marks = [place for place, cause in enumerate(bench.causes) if cause.what == MARK and bench.movable[place]]
    if not marks:
        return []
    steps = bench.step * np.arange(1, int(FARTHEST / bench.step + 1e-9) + 1)
    amounts = np.concatenate([-steps[::-1], steps])
    off = np.zeros((len(marks), len(amounts)))
    for story, one in zip(stories, hung, strict=True):
        hem = bench.hem(one)
        moved = hem_slopes(one)[:, marks]  # (n, k)
        after = hem[:, None, None] + moved[:, :, None] * amounts
        off += story.chance * np.ptp(after, axis=0)
    # The smaller of two moves that level it alike.
    best = off.argmin(axis=1)
    order = rising([float(off[row, column]) for row, column in enumerate(best)])[:TRIED]
    return [Move(bench.causes[marks[row]], float(amounts[best[row]])) for row in order]


def hem_slopes(settled: SettledCage) -> Floats:
    """(n, K) m a metre: how the hem goes with every cause."""
    moves = Tangent(settled).moves(changes_of(settled.cage))
    return np.asarray(moves[hem_nodes(settled.cage), 2])

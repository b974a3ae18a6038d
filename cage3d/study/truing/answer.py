"""What was found wrong with a hung cage: the record weighed, and which causes it cannot tell apart."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from cage3d.design.models import Design
from cage3d.study.truing.asking import Question
from cage3d.study.truing.doubts import Doubt
from cage3d.study.truing.judging import Verdict, Weighing
from cage3d.study.truing.mending import Mended, Move
from cage3d.study.truing.record import Record

MOST_CAUSES, LEAST_CHANCE = 6, 0.02  # that are told
APART = 2.5  # sigmas between what two causes would show: nearer than this they cannot be told apart


@dataclass(frozen=True)
class TrueAnswer:
    """A record weighed: what is likeliest, what to ask next, what to mend."""

    design: Design
    record: Record
    weighing: Weighing
    verdict: Verdict
    doubts: tuple[Doubt, ...]
    question: Question | None
    mended: Mended | None
    errors: tuple[Move, ...] = ()  # what is believed to be wrong
    mirrored: tuple[int, ...] = ()  # tapes from 0 to which each is mirrored; none where left and right differ

    @property
    def explained(self) -> bool:
        return self.verdict.explained

    @property
    def told(self) -> list[int]:
        """Places of the causes that are worth telling, likeliest first."""
        chances = self.verdict.chances
        return [place for place in self.verdict.order[:MOST_CAUSES] if chances[place] >= LEAST_CHANCE]

    @property
    def groups(self) -> list[list[int]]:
        """Causes that are told and that these readings cannot tell apart, each group by its likeliest."""
        states = self.verdict.states
        left, found = self.told, list[list[int]]()
        while left:
            first, rest = left[0], left[1:]
            own = self.weighing.white(states.only(np.array([self.verdict.best(first)])))[0]
            near = [place for place in rest if self.distance(own, place) < APART]
            found.append([first, *near])
            left = [place for place in rest if place not in near]
        return found

    def distance(self, own: Any, place: int) -> float:
        """Sigmas between what is shown by one state and by the most like state of another cause."""
        states = self.verdict.states
        others = self.weighing.white(states.only(np.flatnonzero(states.of == place)))
        return float(np.sqrt(((others - own) ** 2).sum(axis=1).min(initial=np.inf)))

"""What friction takes off a rope's pull at every place that it runs over (Euler, Eytelwein), and how that goes as they
move.

Cloth is let down over the hoops and slides until they hold it, so above a place the pull is that below times
exp(-friction x turn), from the free end up.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from cage3d.settle.terms.rope import Rope
from cage3d.shape.arrays import Bools, Floats

DOWN = np.array([0.0, 0.0, -1.0])
NO_TURN = 1e-12  # rad; a rope that runs on straight turns in no plane


@dataclass(frozen=True)
class Capstan:
    """R ropes over K places each, at one posture."""

    rope: Rope
    friction: float

    @cached_property
    def losses(self) -> Floats:
        """(R, K) N by which the pull is less above each place than below."""
        losses = self.below * -np.expm1(-self.friction * self.turns)
        return np.asarray(losses)

    @cached_property
    def below(self) -> Floats:
        """(R, K) N of pull below each place, never less than nothing."""
        rope = self.rope
        below = np.zeros(rope.spans.shape)
        pull = np.maximum(rope.weight - rope.down_to[:, -1], 0.0)
        kept = np.exp(-self.friction * self.turns)
        for place in range(rope.spans.shape[1] - 1, -1, -1):
            below[:, place] = pull
            pull = np.maximum(
                pull * kept[:, place] + rope.steepness[:, place] * rope.span_weights[:, place], 0.0
            )
        return below

    @cached_property
    def after(self) -> Floats:
        """(R, K, 3) unit, the way on from each place; straight down from the last."""
        after = np.concatenate(
            [self.rope.tangents[:, 1:], np.tile(DOWN, (len(self.rope.line), 1, 1))], axis=1
        )
        return np.where(self.last[:, :, None], DOWN, after)

    @cached_property
    def last(self) -> Bools:
        """(R, K) places from which a rope hangs straight down, those among them that fill up a row."""
        filled = self.rope.filled
        return np.concatenate([filled[:, 1:], np.ones((len(filled), 1), dtype=bool)], axis=1)

    @cached_property
    def turns(self) -> Floats:
        """(R, K) rad by which a rope turns at each place; nothing where a row is filled up."""
        before, after = self.rope.tangents, self.after
        across = np.linalg.norm(np.cross(before, after), axis=2)
        return np.where(self.rope.filled, 0.0, np.arctan2(across, (before * after).sum(axis=2)))

    def moved(self, moves: Floats, longer: Floats | None = None) -> Floats:
        """(R, K, C) N, how the losses grow with C moves (R, K + 1, 3, C) m of the line, its fixed end in front.

        longer: (R, C) m, how the ropes' lengths grow meanwhile, their weight staying.
        """
        rope, along = self.rope, np.diff(moves, axis=1)
        stretched = np.einsum("rkx,rkxc->rkc", rope.tangents, along)
        turned = (along - rope.tangents[..., None] * stretched[:, :, None]) * rope.over_span[..., None, None]
        reach = np.cumsum(stretched, axis=1)
        if longer is not None:
            reach = reach - (rope.ends / rope.length[:, None])[:, :, None] * longer[:, None, :]
        down_to = rope.there[:, :, None] * reach
        own = rope.steepness[:, :, None] * np.diff(down_to, axis=1, prepend=0.0)
        own -= rope.span_weights[:, :, None] * turned[:, :, 2]
        angles = self.friction * self.turns_moved(turned)
        kept = np.exp(-self.friction * self.turns)
        losses = np.zeros_like(stretched)
        pull = -down_to[:, -1] * (self.below[:, -1:] > 0.0)
        for place in range(rope.spans.shape[1] - 1, -1, -1):
            lost = self.below[:, place, None] * kept[:, place, None] * angles[:, place]
            losses[:, place] = pull * (1.0 - kept[:, place, None]) + lost
            pull = pull - losses[:, place] + own[:, place]
            if place:
                pull = pull * (self.below[:, place - 1, None] > 0.0)
        return np.asarray(losses)

    def turns_moved(self, turned: Floats) -> Floats:
        """(R, K, C) rad, how the turns grow as the tangents turn by (R, K, 3, C)."""
        before, after = self.rope.tangents, self.after
        across = np.cross(before, after)
        size = np.linalg.norm(across, axis=2, keepdims=True)
        normal = np.divide(across, size, out=np.zeros_like(across), where=size > NO_TURN)
        on = np.concatenate([turned[:, 1:], np.zeros_like(turned[:, :1])], axis=1)
        on = np.where(self.last[:, :, None, None], 0.0, on)
        growth = np.einsum("rkx,rkxc->rkc", np.cross(normal, after), on)
        growth -= np.einsum("rkx,rkxc->rkc", np.cross(normal, before), turned)
        return np.where(self.rope.filled[:, :, None], 0.0, growth)

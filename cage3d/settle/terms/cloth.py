"""A skirt that slides: lines of cloth fixed at the band, heavy ropes over the hoops, with capstan friction.

Between hoops a line runs straight, from the last hoop it hangs straight down. Without friction its energy is that of
its height: with N the second integral of its weight a length from the band, s the spans and a their steepness,

    V = M (z_edge) + N(L) - N(s_1 + .. + s_K) + sum_j a_j (N(s_1 + .. + s_j) - N(s_1 + .. + s_j-1))

so that its pull at a place is the weight of what hangs below, each part by how steep it runs (`rope.py` has the
derivatives). Friction lessens the pull above a hoop: cloth is let down over the hoops and slides until they hold it,
so above a hoop the pull is that below times exp(-friction x turn) (Euler, Eytelwein). These losses are forces known
so far, as those of constraints are: a loss takes its part of the pull from all spans above, and at rest it is what
the turn and the pull there make it.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from cage3d.settle.posture import Posture
from cage3d.settle.terms.capstan import Capstan
from cage3d.settle.terms.plain import PlainReading
from cage3d.settle.terms.rope import Rope, tail_sums
from cage3d.settle.terms.term import Blocks, Spring
from cage3d.settle.unknowns import Unknowns
from cage3d.shape.arrays import Floats, Ints
from cage3d.shape.cage import Cage
from cage3d.shape.changes import ParameterChanges
from cage3d.shape.cloth import Cloth

# m that a newton of loss counts for where it is not what the pulls make it: 1e-7 N as 1e-8 m.
AS_LENGTH = 0.1


@dataclass(frozen=True)
class SlidingCloth:
    """One row a line of cloth, over the nodes beside its crossings of K hoops."""

    cloth: Cloth
    full: Floats  # (R,) N, the whole skirt's
    weight: Floats  # (R,) N, as far as it is put on
    length: Floats  # (R,) m
    nodes: Ints  # (R, K, E)
    shares: Floats  # (R, K, E)
    stencil: Ints  # (R, 3 K E)
    name: str

    @property
    def held(self) -> int:
        return int(self.nodes.shape[0] * self.nodes.shape[1])

    def put_on(self, share: float) -> SlidingCloth:
        return replace(self, weight=share * self.full)

    def at(self, posture: Posture) -> ClothReading:
        points = np.einsum("rke,rkex->rkx", self.shares, posture.positions[self.nodes])
        line = np.concatenate([self.cloth.tops[:, None, :], points], axis=1)
        rope = Rope(line, self.weight, self.length, self.cloth.heaviness)
        return ClothReading(rope, self.shares, self.cloth)


def cloths_as_terms(cage: Cage, unknowns: Unknowns, share: float) -> list[SlidingCloth]:
    """Every skirt that slides, put on as far as `share` of its weight."""
    found, numbers = [], cage.parameters
    for number, cloth in enumerate(cage.cloths, start=1):
        nodes, shares = cloth.touched
        if not shares[:, :, 1].any():  # every crossing is a node
            nodes, shares = nodes[:, :, :1], shares[:, :, :1]
        stencil = unknowns.coordinates[nodes].reshape(len(nodes), -1)
        full = numbers.cloth_weight[cloth.rows]
        name = f"cloth {number}"
        found.append(
            SlidingCloth(
                cloth, full, share * full, numbers.cloth_length[cloth.rows], nodes, shares, stencil, name
            )
        )
    return found


@dataclass(frozen=True)
class ClothReading(PlainReading):
    """Lines of cloth at one posture. Their losses to friction are forces that hold nothing."""

    rope: Rope
    shares: Floats  # (R, K, E)
    cloth: Cloth

    def losses(self, known: Floats) -> Floats:
        """(R, K) N by which the pull is less above each hoop than below."""
        return known.reshape(self.rope.spans.shape)

    def energy(self, known: Floats, spring: Spring) -> float:  # noqa: ARG002
        return float(self.rope.energy.sum() - (self.losses(known) * self.rope.ends).sum())

    def gradient(self, known: Floats, spring: Spring) -> Blocks:  # noqa: ARG002
        return Blocks(self.on_nodes(self.rope.point_slopes(self.losses(known))[:, 1:]))

    def hessian(self, known: Floats, spring: Spring) -> Blocks:  # noqa: ARG002
        whole = self.rope.point_curves(self.losses(known))
        lines, hoops, beside = self.shares.shape
        each = np.einsum("rke,rkxly,rlf->rkexlfy", self.shares, whole, self.shares, optimize=True)
        return Blocks(each.reshape(lines, 3 * hoops * beside, 3 * hoops * beside))

    def on_nodes(self, vectors: Floats) -> Floats:
        """(R, 3 K E) over the nodes, of vectors (R, K, 3) at the crossings."""
        return np.asarray((self.shares[:, :, :, None] * vectors[:, :, None, :]).reshape(len(vectors), -1))

    def acting(self, known: Floats, spring: Spring) -> Floats:  # noqa: ARG002
        """(R K,) N, the losses that pulls and turns make as the cloth lies here."""
        return self.capstan.losses.ravel()

    def known_for(self, acting: Floats, spring: Spring) -> Floats:  # noqa: ARG002
        return acting

    def broken(self, acting: Floats, known: Floats) -> float:
        return AS_LENGTH * float(np.abs(acting - known).max(initial=0.0))

    @cached_property
    def capstan(self) -> Capstan:
        return Capstan(self.rope, self.cloth.friction)

    def pushes(self, known: Floats) -> tuple[Floats, Floats]:
        """((R, K E, 3) N on the nodes, (R, 3) N on the band) of the cloth."""
        slopes = self.rope.point_slopes(self.losses(known))
        return -self.on_nodes(slopes[:, 1:]).reshape(len(slopes), -1, 3), -slopes[:, 0]

    def gradient_change(self, acting: Floats, changes: ParameterChanges) -> Blocks | None:
        """Forces grow with the weight, losses with them."""
        grown: list[Floats] = []
        if changes.cloth_weight is not None:
            each = (
                self.gradient(acting, 0.0).values
                / np.where(self.rope.weight > 0.0, self.rope.weight, 1.0)[:, None]
            )
            grown.append(each[:, :, None] * changes.cloth_weight[self.cloth.rows][:, None, :])
        if changes.cloth_length is not None:
            more = changes.cloth_length[self.cloth.rows]
            longer = self.on_nodes(self.rope.point_slopes_with_length[:, 1:])
            still = np.zeros((*self.rope.line.shape, more.shape[1]))
            grown.append(longer[:, :, None] * more[:, None, :] + self.slopes_of(still, more))
        return Blocks(np.sum(grown, axis=0)) if grown else None

    def gradient_following(self, moves: Floats) -> Blocks | None:
        """Losses follow the way over the hoops. moves: (R, 3 K E, C) m of the nodes."""
        if self.cloth.friction == 0.0:
            return None
        each = moves.reshape(*self.shares.shape, 3, -1)
        points = np.einsum("rke,rkexc->rkxc", self.shares, each)
        line = np.concatenate([np.zeros_like(points[:, :1]), points], axis=1)
        return Blocks(self.slopes_of(line))

    def slopes_of(self, moves: Floats, longer: Floats | None = None) -> Floats:
        """(R, 3 K E, C) N, how the gradient grows as losses follow the line; see `Capstan.moved`."""
        pulls = -tail_sums(self.capstan.moved(moves, longer))
        lines = [self.rope.on_spans(pulls[:, :, one]) for one in range(pulls.shape[2])]
        return np.stack([self.on_nodes(line[:, 1:]) for line in lines], axis=2)

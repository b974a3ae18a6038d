"""Every cause at every size that is weighed, read between the sizes that were settled."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from scipy.interpolate import PchipInterpolator

from cage3d.shape.arrays import Bools, Floats, Ints
from cage3d.study.truing.causes import HOOP, Cause
from cage3d.study.truing.hanging import Hanging
from cage3d.study.truing.signatures import Signatures
from cage3d.units import inches

# m between sizes that are weighed, and the least that is told as an error: less is ordinary sewing.
STEPS = {HOOP: inches(1 / 8)}
USUAL_STEP = inches(1 / 16)
LEASTS = {HOOP: inches(1 / 4)}
USUAL_LEAST = inches(1 / 8)


@dataclass(frozen=True)
class States:
    """M cages with one error each: which cause, how much, and how they would hang, less the cage as written."""

    causes: tuple[Cause, ...]
    of: Ints  # (M,) places among the causes
    sizes: Floats  # (M,) m
    hangs: Hanging  # (M, ...)

    @cached_property
    def density(self) -> Floats:
        """(M,) of each size among those of its cause: all alike."""
        counts = np.bincount(self.of, minlength=len(self.causes))
        return np.asarray(1.0 / counts[self.of])

    def every(self, count: int) -> Ints:
        """Places of every so many sizes of each cause, the first among them."""
        first = np.searchsorted(self.of, self.of)
        return np.flatnonzero((np.arange(len(self.of)) - first) % count == 0)

    def only(self, chosen: Bools | Ints) -> States:
        hangs = Hanging(self.hangs.figures[chosen], self.hangs.pulls[chosen], self.hangs.slack[chosen])
        return States(self.causes, self.of[chosen], self.sizes[chosen], hangs)


def states_of(signatures: Signatures) -> States:
    """Sizes on even steps, each way as far as the cage found a rest."""
    rows = [between(signatures, place) for place in range(len(signatures.causes))]
    of = np.repeat(np.arange(len(rows)), [len(sizes) for sizes, _ in rows])
    parts = [
        np.concatenate([getattr(hang, name) for _, hang in rows]) for name in ("figures", "pulls", "slack")
    ]
    return States(signatures.causes, of, np.concatenate([sizes for sizes, _ in rows]), Hanging(*parts))


def between(signatures: Signatures, place: int) -> tuple[Floats, Hanging]:
    """(sizes (G,) m, how the cage hangs with them) of one cause."""
    cause = signatures.causes[place]
    settled = ~np.isnan(signatures.figures[place]).any(axis=1)
    half = len(settled) // 2
    known = np.insert(np.array(cause.sizes)[settled], int(settled[:half].sum()), 0.0)
    step, least = STEPS.get(cause.what, USUAL_STEP), LEASTS.get(cause.what, USUAL_LEAST)
    sizes = step * np.arange(np.ceil(known[0] / step - 1e-9), np.floor(known[-1] / step + 1e-9) + 1)
    sizes = sizes[np.abs(sizes) > least - 1e-9]

    def read(part: Floats) -> Floats:
        own = part[place][settled]
        if len(known) < 2 or not len(sizes):
            return np.zeros((0, part.shape[2]))
        whole = np.insert(own, int(settled[:half].sum()), 0.0, axis=0)
        return np.asarray(PchipInterpolator(known, whole, axis=0)(sizes))

    if len(known) < 2:
        sizes = sizes[:0]
    return sizes, Hanging(read(signatures.figures), read(signatures.pulls), read(signatures.slack))

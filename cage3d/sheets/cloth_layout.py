"""How gores are laid on the cloth as it is bought: side by side across it, top to tail by turns, row below row."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from cage3d.shape.arrays import Floats
from cage3d.sheets.gores import GoreSet
from cage3d.steady import steady

LEVELS = 64  # at which a gore's breadth is looked at
BETWEEN = 0.005  # m between two cut edges


@dataclass(frozen=True)
class LaidGore:
    """One gore on the cloth."""

    one: GoreSet
    place: int  # which of its set
    outline: Floats  # (k, 2) m, x across the cloth from one selvedge, y along it


@dataclass(frozen=True)
class ClothLayout:
    """All gores on cloth of a width."""

    width: float  # m
    length: float  # m
    gores: tuple[LaidGore, ...]


def laid_on_cloth(sets: Sequence[GoreSet], width: float) -> ClothLayout:
    """Row after row, the broadest first; in a row every other gore stands on its head.

    The cloth has no nap, and its grain runs along.
    """
    broadest = sorted(sets, key=lambda one: (-steady(float(np.ptp(one.outline[:, 0])), 6), one.letter))
    todo = [(one, place) for one in broadest for place in range(len(one.gores))]
    laid: list[LaidGore] = []
    down = 0.0
    while todo:
        row, todo = fill_row(todo, width)
        tall = max(float(np.ptp(outline[:, 1])) for _, _, outline in row)
        laid += [LaidGore(one, place, outline + np.array([0.0, down])) for one, place, outline in row]
        down += tall + BETWEEN
    return ClothLayout(width, down - BETWEEN if laid else 0.0, tuple(laid))


def fill_row(
    todo: Sequence[tuple[GoreSet, int]], width: float
) -> tuple[list[tuple[GoreSet, int, Floats]], list[tuple[GoreSet, int]]]:
    """(one row across the cloth, what is left): every gore that still fits, in turn; the first always does."""
    row: list[tuple[GoreSet, int, Floats]] = []
    left: list[tuple[GoreSet, int]] = []
    tall = max(float(np.ptp(one.outline[:, 1])) for one, _ in todo)
    levels = np.linspace(0.0, tall, LEVELS)
    taken = np.zeros(LEVELS)  # m across, at each level
    for one, place in todo:
        outline = turned(one.outline, one.mirrored[place], on_head=len(row) % 2 == 1)
        low, high = breadth(outline, levels)
        gap = BETWEEN if row else 0.0
        at = float(np.max(np.where(np.isfinite(low), taken + gap - low, -np.inf)))
        at = max(at, -float(outline[:, 0].min()))
        if row and at + float(outline[:, 0].max()) > width:
            left.append((one, place))
            continue
        row.append((one, place, outline + np.array([at, 0.0])))
        taken = np.maximum(taken, np.where(np.isfinite(high), at + high, -np.inf))
    return row, left


def turned(outline: Floats, mirror: bool, on_head: bool) -> Floats:
    """The outline as it lies: mirrored where its gore is, on its head, its top at nothing."""
    x, y = outline.T
    x = -x if mirror != on_head else x  # half a turn about the middle turns x too
    y = -y if on_head else y
    return np.column_stack([x, y - y.min()])


def breadth(outline: Floats, levels: Floats) -> tuple[Floats, Floats]:
    """((L,) least, (L,) greatest) x of an outline at levels; inf and -inf where it is not."""
    starts, ends = outline, np.roll(outline, -1, axis=0)
    step = ends[:, 1] - starts[:, 1]
    with np.errstate(divide="ignore", invalid="ignore"):
        share = (levels[:, None] - starts[:, 1]) / step
    x = starts[:, 0] + share * (ends[:, 0] - starts[:, 0])
    met = (share >= 0.0) & (share <= 1.0) & np.isfinite(share)
    return np.where(met, x, np.inf).min(axis=1), np.where(met, x, -np.inf).max(axis=1)

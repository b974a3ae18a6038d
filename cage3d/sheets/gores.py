"""The gores to cut: equal ones in one set, each laid flat with its casing lines, notches and cut edge."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from cage3d.design.rules.gores import said_of_cloth
from cage3d.errors import DesignError, Problem
from cage3d.shape.arrays import Floats
from cage3d.shape.cage import Cage
from cage3d.shape.gores import cloth_girths, seam_shares
from cage3d.shape.marks import drops_of
from cage3d.sheets.flattening import STEPS, NotFlatError, area, flat_gore
from cage3d.sheets.tapes import letter_of, side_of, tape_sets

SAME = 1e-5  # m, gores whose lines differ by less are one set


@dataclass(frozen=True)
class GoreCasing:
    """One casing on a gore laid flat, each line (n, 2) m."""

    hoop: int  # from 1
    upper: Floats
    steel: Floats
    lower: Floats


@dataclass(frozen=True)
class GoreSet:
    """Equal gores, and those that are their mirror image; x by her left, y down, m, the first as it is worn."""

    letter: str
    gores: tuple[int, ...]  # from 1: the seam at which each begins, by her left
    names: tuple[str, ...]  # of each, by its seams and side: "1–2 L"
    mirrored: tuple[bool, ...]
    even: bool  # its own mirror image: cut on the fold
    flat: Floats  # (R, n, 2) waistband's edge and each steel at rest
    top: Floats  # (n, 2) cut above, into the waistband
    hem: Floats  # (n, 2) cut below, to turn up
    casings: tuple[GoreCasing, ...]
    widths: Floats  # (R,) m along the waistband's edge and each steel
    seam: float  # m, allowance at both edges

    @property
    def edges(self) -> tuple[Floats, Floats]:
        """The two seams (R + 2, 2) m, from the cut above to the cut below: her right one first."""
        return tuple(np.vstack([self.top[side], self.flat[:, side], self.hem[side]]) for side in (0, -1))  # type: ignore[return-value]

    @property
    def cut_edges(self) -> tuple[Floats, Floats]:
        """The same with the seam allowance."""
        right, left = self.edges
        return beside_line(right, self.seam), beside_line(left, -self.seam)

    @property
    def outline(self) -> Floats:
        """(k, 2) m, the cut edge all round."""
        right, left = self.cut_edges
        return np.vstack([right[:1], self.top[1:-1], left, self.hem[-2:0:-1], right[::-1][:-1]])

    @property
    def finished_area(self) -> float:
        """m2 between its seams, from the waistband's edge to the lowest steel."""
        first, last = self.flat[:, 0], self.flat[:, -1]
        return area(np.vstack([self.flat[0], last[1:-1], self.flat[-1, ::-1], first[-2:0:-1]]))

    @property
    def notches(self) -> list[tuple[Floats, Floats]]:
        """From the seam to the cut edge, where steels cross the seams."""
        marks = []
        for seam, cut in zip(self.edges, self.cut_edges, strict=True):
            marks += [(seam[place], cut[place]) for place in range(2, len(seam) - 1)]
        return marks


def beside_line(line: Floats, off: float) -> Floats:
    """(k, 2) m, a line moved `off` m square to itself, to her right of its way down where that is more than nothing."""
    along = np.diff(line, axis=0)
    along /= np.linalg.norm(along, axis=1)[:, None]
    square = np.column_stack([-along[:, 1], along[:, 0]])
    before, after = np.vstack([square[:1], square]), np.vstack([square, square[-1:]])
    corner = before + after
    corner *= 2.0 / (corner**2).sum(axis=1)[:, None]
    return np.asarray(line + off * corner)


def gore_sets(cage: Cage) -> tuple[GoreSet, ...]:
    """Equal and mirrored gores together, in the order of their first seam by her left.

    Raises DesignError where a gore cannot be sewn, or not be cut as one flat piece.
    """
    try:
        tape_sets(cage)  # whether casings lie clear of one another and of the hem
    except DesignError as fault:
        raise DesignError([of_gores(problem) for problem in fault.problems]) from fault
    found: list[GoreSet] = []
    for number in range(1, cage.design.tapes.count + 1):
        one = laid_flat(cage, number)
        place = next((p for p, other in enumerate(found) if alike(one.flat, other.flat) is not None), None)
        if place is None:
            found.append(one)
            continue
        other = found[place]
        found[place] = joined_by(other, one, bool(alike(one.flat, other.flat)))
    return tuple(replace(one, letter=letter_of(number)) for number, one in enumerate(found))


def of_gores(problem: Problem) -> Problem:
    """What was found of a seam as of a tape, said of the cloth."""
    told = said_of_cloth(problem)
    if told.where.startswith("tapes.allowance.bottom"):
        return Problem("cloth.allowance.hem", told.said, told.why, told.try_this)
    return told


def alike(one: Floats, other: Floats) -> bool | None:
    """Whether gores laid flat are mirror images, None where they are neither equal nor that."""
    if np.allclose(one, other, rtol=0.0, atol=SAME):
        return False
    return True if np.allclose(mirrored(one), other, rtol=0.0, atol=SAME) else None


def mirrored(flat: Floats) -> Floats:
    return np.asarray(flat[:, ::-1] * np.array([-1.0, 1.0]))


def joined_by(first: GoreSet, other: GoreSet, turned: bool) -> GoreSet:
    """The first gore's set with another in it."""
    return replace(
        first,
        gores=first.gores + other.gores,
        names=first.names + other.names,
        mirrored=(*first.mirrored, turned),
    )


def laid_flat(cage: Cage, number: int) -> GoreSet:
    """The gore that begins at seam `number` (from 1) by her left. Raises DesignError where it is no flat piece."""
    design, marks = cage.design, cage.marks
    cloth = design.cloth
    assert cloth is not None
    beyond = number % design.tapes.count
    start, end = float(cage.stations[number - 1]), float(cage.stations[beyond])
    span = (end - start) % 1.0 or 1.0
    shares = seam_shares(design, np.mod(start + span * np.arange(STEPS + 1) / STEPS, 1.0))
    widths = span * cloth_girths(design)
    lengths = drops_of(design).T @ shares.T
    name = f"{number}–{beyond + 1} {side_of((start + span / 2.0) % 1.0)}"
    try:
        flat = flat_gore(widths, lengths)
    except NotFlatError:
        why = f"gore {name} cannot be cut as one flat piece: its casings spread more than it is long there"
        raise DesignError(
            Problem("cloth.levels", "", why, "Write lower levels, hoops more alike, or more gores")
        ) from None
    depths = np.vstack([np.zeros(STEPS + 1), np.cumsum(lengths, axis=0)])
    lines = [
        GoreCasing(
            hoop + 1,
            *(
                at_depth(flat, depths, shares @ own[:, hoop])
                for own in (marks.upper, marks.steel, marks.lower)
            ),
        )
        for hoop in range(len(design.hoops))
    ]
    return GoreSet(
        letter="", gores=(number,), names=(name,), mirrored=(False,), even=alike(mirrored(flat), flat) is False,
        flat=flat, top=at_depth(flat, depths, np.full(STEPS + 1, -cloth.allowance.top)),
        hem=at_depth(flat, depths, depths[-1] + cloth.allowance.hem), casings=tuple(lines), widths=widths,
        seam=cloth.allowance.seam,
    )  # fmt: skip


def at_depth(flat: Floats, depths: Floats, depth: Floats) -> Floats:
    """(n, 2) m: each line's place at its own depth (n,) m; beyond its ends straight on."""
    rows = np.clip((depths[1:-1] < depth).sum(axis=0), 0, len(flat) - 2)
    columns = np.arange(flat.shape[1])
    above, below = flat[rows, columns], flat[rows + 1, columns]
    share = (depth - depths[rows, columns]) / (depths[rows + 1, columns] - depths[rows, columns])
    return np.asarray(above + share[:, None] * (below - above))

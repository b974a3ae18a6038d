"""Which tapes, ties and laces meet the wearer, and the way that each takes over her."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

import numpy as np

from cage3d.settle.contact import FormGap
from cage3d.settle.terms.lying import Lying, lain, lie, lie_anew
from cage3d.settle.terms.string import Strings, meeting, pieces_of, pushed_out, round_the_side
from cage3d.shape.arrays import Bools, Floats, Ints
from cage3d.shape.cage import Connectivity

OFF = 0.0005  # m, half a doubled tape: two layers of ribbon of half a millimetre (common practice)
STRAIGHT_THROUGH = 1e-3  # m from her axis, within which a line has no side of its own and goes behind her


@dataclass(frozen=True)
class Way:
    """Lines that lie on the wearer."""

    rows: Ints  # (S,) of the pulls
    lying: Lying

    def lines(self) -> Iterator[tuple[int, Floats]]:
        """Every line's row, and the places (k, 3) m that it runs through from end to end."""
        strings = self.lying.strings
        nodes = np.split(self.lying.nodes, np.cumsum(strings.counts)[:-1])
        for row, ends, inner in zip(self.rows, strings.ends, nodes, strict=True):
            yield int(row), np.vstack([ends[:1], inner, ends[1:]])


@dataclass
class OverWearer:
    """The pulls as strings about one form. Keeps each string's last shape, where the next search for it begins."""

    gap: FormGap
    pieces: Ints  # (P,)
    level: Floats  # (P,) gap kept: nothing, or under nothing where a line starts inside the form
    sides: Floats  # (P, 3) unit and level: out of her, on the side on which the line passes her
    written: Floats  # (P, 2) unit: the same where it was written, nan where the straight line tells
    last: dict[int, tuple[Lying, int]] = field(default_factory=dict)  # row: (strings, which of them)

    def ways(self, ends: Floats) -> tuple[Way, ...]:
        """The ways of all pulls that meet her, straight lines between their ends (P, 2, 3) do."""
        close = np.flatnonzero(passes_close(self.gap, ends) | ~np.isnan(self.written[:, 0]))
        if not len(close):
            return ()
        # A straight line may clear her and yet be on the other side of her than was written.
        must = ~np.isnan(self.written[close, 0])
        must[~must] = meeting(self.gap, self.strings(ends, close[~must]))
        rows = close[must]
        known = np.array([int(row) in self.last for row in rows], dtype=bool)
        ways = []
        for some, search in ((rows[known], self.again), (rows[~known], self.anew)):
            if len(some):
                ways.append(Way(some, search(self.strings(ends, some), some)))
        for way in ways:
            self.keep(way)
        return tuple(ways)

    def strings(self, ends: Floats, rows: Ints) -> Strings:
        return Strings(self.pieces[rows], ends[rows], self.level[rows], OFF)

    def anew(self, strings: Strings, rows: Ints) -> Lying:
        start, written = pushed_out(self.gap, strings, self.sides[rows]), self.written[rows]
        told = ~np.isnan(written[:, 0])
        if told.any():
            start[told[strings.of_node]] = round_the_side(self.gap, strings.chosen(told), written[told])
        return lie_anew(self.gap, strings, start)

    def again(self, strings: Strings, rows: Ints) -> Lying:
        """From the last shapes, carried along with their ends to first order; those themselves where no end moved."""
        first, _ = self.last[int(rows[0])]
        if first.strings.are(strings):
            return first
        nodes, push = [], []
        for place, row in enumerate(rows):
            lying, own = self.last[int(row)]
            part = lying.string(own)
            moved = (strings.ends[place] - lying.strings.ends[own]).ravel()
            nodes.append(lying.nodes[part] + lying.response[part] @ moved)
            push.append(lying.push[part])
        return lie(self.gap, strings, np.vstack(nodes), np.concatenate(push))

    def told(self, ways: Mapping[int, Floats]) -> None:
        """Searches begin at ways (k, 3) that rest on her, ends and all, by the row of the pull."""
        rows = np.array(
            [row for row in sorted(ways) if len(ways[row]) == self.pieces[row] + 1], dtype=np.intp
        )
        if len(rows):
            lines = [ways[row] for row in rows.tolist()]
            ends = np.stack([line[[0, -1]] for line in lines])
            strings = Strings(self.pieces[rows], ends, self.level[rows], OFF)
            self.keep(Way(rows, lain(self.gap, strings, np.vstack([line[1:-1] for line in lines]))))

    def begin_at(self, other: OverWearer) -> None:
        """Searches begin where another's ended: of lines on the same side of the same form, of as many pieces."""
        if self.gap.form != other.gap.form or len(self.pieces) != len(other.pieces):
            return
        side = np.isclose(self.written, other.written, equal_nan=True).all(axis=1)
        same = (self.pieces == other.pieces) & side
        self.last.update({row: shape for row, shape in other.last.items() if same[row]})

    def keep(self, way: Way) -> None:
        for place, row in enumerate(way.rows):
            self.last[int(row)] = (way.lying, place)


def over_wearer_of(gap: FormGap, lengths: Floats, ends: Floats, joined: Connectivity) -> OverWearer:
    """ends: (P, 2, 3) m, in the first shape."""
    level = np.zeros(len(lengths))
    # A waistband is worn on the body: where a tape starts inside the form, the form is moved back to it.
    for end in (0, 1):
        fixed = np.flatnonzero(joined.pulls[:, end] >= joined.free_nodes)
        fixed = fixed[gap.near(ends[fixed, end])]
        level[fixed] = np.minimum(level[fixed], gap.gaps(ends[fixed, end], OFF))
    return OverWearer(gap, pieces_of(lengths), level, sides_of(ends), joined.pull_sides)


def nearest_to_axis(ends: Floats) -> Floats:
    """(P, 2) m, where straight lines (P, 2, 3) pass nearest to the axis, seen from above."""
    start, along = ends[:, 0, :2], ends[:, 1, :2] - ends[:, 0, :2]
    square = np.maximum((along**2).sum(axis=1), 1e-18)
    share = np.clip(-(start * along).sum(axis=1) / square, 0.0, 1.0)
    return np.asarray(start + share[:, None] * along)


def passes_close(gap: FormGap, ends: Floats) -> Bools:
    """(P,) whether a line could touch the form: a quick sieve."""
    low, high = gap.levels
    level = (ends[:, :, 2].min(axis=1) < high) & (ends[:, :, 2].max(axis=1) > low)
    return np.asarray(level & (np.linalg.norm(nearest_to_axis(ends), axis=1) < gap.reach))


def sides_of(ends: Floats) -> Floats:
    """(P, 3) unit: from the axis to each line; of a line that goes through it, across the line and to her back."""
    nearest = nearest_to_axis(ends)
    away = np.linalg.norm(nearest, axis=1)
    along = ends[:, 1, :2] - ends[:, 0, :2]
    across = np.column_stack([-along[:, 1], along[:, 0]])
    across /= np.maximum(np.linalg.norm(across, axis=1), 1e-12)[:, None]
    # Behind her; a line from front to back goes by her left.
    across *= np.where(across @ [1e-6, 1.0] < 0.0, -1.0, 1.0)[:, None]
    through = away < STRAIGHT_THROUGH
    flat = np.where(through[:, None], across, nearest / np.maximum(away, 1e-12)[:, None])
    return np.column_stack([flat, np.zeros(len(flat))])

"""What may be wrong with a cage that hangs otherwise than foreseen: one mark, drop, hoop, tie or lace at a time."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from cage3d.foresee.sensitivity import mark_changes, marks_of
from cage3d.foresee.slips import longer
from cage3d.shape.arrays import Floats, Ints
from cage3d.shape.cage import Cage, Connectivity
from cage3d.shape.changes import ParameterChanges, side_by_side
from cage3d.units import inches

MARK, DROP, HOOP, TIE, PANEL = "mark", "drop", "hoop", "tie", "panel"
# m, three sizes of each error, settled both ways: a tape falls slack within the first, and from the last on nobody
# would need to be told where to look [common practice].
SIZES = {
    MARK: (inches(1 / 4), inches(5 / 8), inches(5 / 4)),
    DROP: (inches(1 / 4), inches(5 / 8), inches(5 / 4)),
    HOOP: (inches(1 / 2), inches(3 / 2), inches(3)),
    TIE: (inches(3 / 8), inches(1), inches(2)),
    PANEL: (inches(3 / 8), inches(1), inches(2)),
}
LEAST_LEFT = 0.3  # share of a drop or tie that an error leaves; with less it is another cage


@dataclass(frozen=True, order=True)
class Cause:
    """One thing that may be other than written; tape and hoop from 0, -1 where it has none."""

    what: str  # of SIZES
    tape: int = -1  # or seam
    hoop: int = -1
    number: int = -1  # of a tie or panel, from 0

    @property
    def sizes(self) -> tuple[float, ...]:
        """m, at which it is settled: too high or short first, from the largest."""
        own = SIZES[self.what]
        return (*(-size for size in reversed(own)), *own)


def causes_of(cage: Cage) -> tuple[Cause, ...]:
    """Every single thing that may be wrong; of a tape's lowest hoop a drop is the same as its mark."""
    joined, design = cage.connectivity, cage.design
    marks = [(tape, hoop) for hoop, tape in marks_of(joined).tolist()]
    drops = [(tape, hoop) for hoop, tape in joined.segments[drops_of(joined)].tolist()]
    laces = [(number, hoop - 1) for number, panel in enumerate(design.panels) for hoop in panel.hoops]
    return (
        *(Cause(MARK, tape, hoop) for tape, hoop in marks),
        *(Cause(DROP, tape, hoop) for tape, hoop in drops),
        *(Cause(HOOP, hoop=hoop) for hoop in range(joined.hoop_count)),
        *(Cause(TIE, number=number) for number in range(len(design.ties))),
        *(Cause(PANEL, hoop=hoop, number=number) for number, hoop in laces),
    )


def drops_of(joined: Connectivity) -> Ints:
    """Tape segments of some length below which their tape goes on."""
    segments = joined.segments.tolist()
    goes_on = [row for row, (hoop, tape) in enumerate(segments) if hoop < joined.hoops_of(tape)[-1]]
    return np.setdiff1d(np.array(goes_on, dtype=np.intp), joined.meeting)


def changes_of(cage: Cage) -> ParameterChanges:
    """A metre of each of `causes_of`: a mark too low, all else too long; of cloth evenly to the seams beside."""
    joined, numbers = cage.connectivity, cage.parameters
    drops = np.eye(joined.segment_count)[:, drops_of(joined)]
    lengths = [mark_changes(joined), joined.with_segments(drops)]
    arcs = numbers.arc_length
    steel = ParameterChanges(
        edge_length=longer(numbers.edge_length, joined.edge_hoop, arcs, joined.edge_hoop),
        arc_length=longer(arcs, joined.edge_hoop, arcs, joined.edge_hoop),
        bend_length=longer(numbers.bend_length, joined.bend_hoop, arcs, joined.edge_hoop),
    )
    parts = [ParameterChanges(pull_length=np.hstack(lengths)), steel]
    if len(joined.tie_rows):
        parts.append(ParameterChanges(pull_length=np.eye(len(joined.pulls))[:, joined.tie_rows]))
    return side_by_side(parts)


def with_errors(cage: Cage, amounts: Floats) -> Cage | None:
    """The cage with `amounts` (K,) m of every cause; None where too little is left of a drop or tie."""
    numbers = changes_of(cage).added_to(cage.parameters, amounts)
    least = LEAST_LEFT * cage.parameters.pull_length
    if np.any(numbers.pull_length < np.minimum(least, cage.parameters.pull_length)):
        return None
    return replace(cage, parameters=numbers)

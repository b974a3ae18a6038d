"""A cage as written, that can be changed: every change goes through the rules of the design."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from numbers import Integral
from pathlib import Path
from typing import TYPE_CHECKING, Any

import numpy as np

from cage3d.design.faults import printable
from cage3d.design.models import Design
from cage3d.design.putting import plain, put
from cage3d.design.read import read_as_written
from cage3d.design.read import read_data as design_of
from cage3d.design.routes import NOWHERE, above_table, entry_of
from cage3d.errors import CageError, DesignError, Problem

if TYPE_CHECKING:
    from cage3d.door.aimed import AimedCage
    from cage3d.door.hung import HungCage

FEWEST_NODES, MOST_NODES = 16, 4096  # a hoop; beyond, the answer is no finer and takes minutes


@dataclass(frozen=True, repr=False)
class WrittenCage:
    """A design that keeps the rules. Changed copies are made by `with_...`; bare numbers are in its units."""

    design: Design  # in SI units
    written: Mapping[str, Any] = field(compare=False)  # the same as plain data, values as they were written

    def __repr__(self) -> str:
        return f"<WrittenCage '{self.name}': {len(self.design.hoops)} hoops on {self.carriers}>"

    @property
    def carriers(self) -> str:
        """What its hoops hang on: '8 tapes', or '6 gores'."""
        return f"{self.design.tapes.count} {'tapes' if self.design.cloth is None else 'gores'}"

    @property
    def name(self) -> str:
        return self.design.name

    def with_hoop(self, number: int, **values: Any) -> WrittenCage:
        """Some keys of one hoop written otherwise, such as length="70 in"; None takes a key away.

        number: from 1, from the top. Raises DesignError, as for a file.
        """
        hoop = self._counted("hoop", number, len(self.design.hoops))
        return self.with_values({f"hoops[{hoop}].{key}": value for key, value in values.items()})

    def with_drop(self, hoop: int, drop: Any, tape: int | None = None) -> WrittenCage:
        """The drop from the hoop above (the waistband above hoop 1) written otherwise, on one tape or all.

        hoop, tape: from 1; drop: "7 1/2 in", or a bare number. Raises DesignError, as for a file.
        """
        if self.design.cloth is not None:
            why = "no tapes carry this cage, and it has no drops"
            raise DesignError(Problem("cloth", "", why, 'Write with_values({"cloth.levels": [...]})'))
        count = self.design.tapes.count
        column = self._counted("hoop", hoop, len(self.design.hoops))
        row = None if tape is None else self._counted("tape", tape, count)
        rows = plain(self.written["tapes"]["drops"])
        bare = not any(isinstance(values, list) for values in rows)
        if bare and row is None and len(rows) == len(self.design.hoops):
            return self.with_values({f"tapes.drops[{column}]": drop})
        rows = [list(rows) for _ in range(count)] if bare else rows
        comes = above_table(self.design)[:, column] != NOWHERE
        for own in np.flatnonzero(comes) if row is None else [row]:
            if not comes[own]:
                why = f"no stretch of tape {own + 1} comes to hoop {hoop}"
                raise DesignError(Problem(f"tape {own + 1}", "", why, "Name a tape that does"))
            rows[own][entry_of(self.design, int(own), column)] = drop
        return self.with_values({"tapes.drops": rows})

    def with_tie(self, number: int, **values: Any) -> WrittenCage:
        """Some keys of one tie written otherwise, or one tie more: from_="hoop 3 tape 3", to=..., length=...

        number: from 1; one past the last adds a tie. Raises DesignError, as for a file.
        """
        tie = self._counted("tie", number, len(self.design.ties) + 1)
        return self.with_values({f"ties[{tie}].{key.rstrip('_')}": value for key, value in values.items()})

    def with_values(self, values: Mapping[str, Any]) -> WrittenCage:
        """Any values written otherwise, all at once and checked together.

        values: by place, as faults name places: {"tapes.drops[0]": "7 in", "steel": {...}}; a number in [ ] counts
        from 0. None takes a key away. Raises DesignError with every Problem found, as for a file.
        """
        data = plain(self.written)
        for place, value in values.items():
            put(data, place, value)
        return read_data(data)

    def settle(
        self,
        nodes: int | None = None,
        *,
        most_steps: int | None = None,
        cancel: Callable[[], bool] | None = None,
    ) -> HungCage:
        """The cage as it hangs; ask `trusted` of it.

        nodes: about how many round a hoop; None: `default_resolution`, which the tests hold to be fine enough. Error
        falls with their square. Raises CageError for a number of nodes that cannot be.
        most_steps: after which a cage that will not settle is given up; None: 3000. cancel: asked before each step;
        where it says yes, CancelledError is raised.
        """
        from cage3d.door.hung import HungCage
        from cage3d.settle.settling import MOST_STEPS, settle
        from cage3d.shape.lay_out import lay_out

        refuse_nodes(nodes)
        most = MOST_STEPS if most_steps is None else most_steps
        return HungCage(self, settle(lay_out(self.design, nodes), most_steps=most, cancel=cancel))

    def aim(
        self,
        wanted: Sequence[Mapping[str, Any]] | None = None,
        *,
        keep: Sequence[str] = (),
        free: Sequence[str] = (),
        each_tape: bool = False,
        within: Any = "1/8 in",
        outline: str | Path | None = None,
        scale: float | None = None,
    ) -> AimedCage:
        """The cage whose lengths and drops give the wanted shape as it hangs, rounded as she cuts.

        wanted: as in a design, [{"hoop": 4, "height": "17 1/2 in"}]; None: what the design wants. keep, free: names of
        what stays or may change too, such as "hoop 2" or "tie"; each_tape: drops may change on every tape for itself;
        within: near enough; outline: a file of outlines, scale: 0.1 for a drawing at 1:10. Raises CageError.
        """
        from cage3d.door.aimed import aimed

        return aimed(self, wanted, keep, free, each_tape, within, outline, scale)

    @staticmethod
    def _counted(what: str, number: int, count: int) -> int:
        """The number from 0. Raises DesignError for one that there is not."""
        if isinstance(number, Integral) and not isinstance(number, bool) and 1 <= number <= count:
            return int(number) - 1
        why, try_this = f"there is no such {what}", f"Write a whole number from 1 to {count}"
        raise DesignError(Problem(printable(f"{what} {number}"), "", why, try_this))


def read(path: str | Path) -> WrittenCage:
    """The cage written in a file. Raises DesignError with every Problem found, at its line and column."""
    return WrittenCage(*read_as_written(path))


def read_data(data: Mapping[str, Any], units: str | None = None) -> WrittenCage:
    """The cage in a dict as YAML would give it; units: of bare numbers, where the dict does not say them.

    Raises DesignError whose problems name the part of the design: hoops[3].length.
    """
    known = plain(data)
    known = ({"units": units} if units else {}) | known
    return WrittenCage(design_of(known), known)


def refuse_nodes(nodes: Any) -> None:
    """Raises CageError for what is no number of nodes a hoop."""
    whole = isinstance(nodes, Integral) and not isinstance(nodes, bool)
    if nodes is not None and not (whole and FEWEST_NODES <= nodes <= MOST_NODES):
        try_this = f"Write a whole number from {FEWEST_NODES} to {MOST_NODES}, or leave it out"
        raise CageError(
            Problem("nodes", printable(str(nodes)), "this is no number of nodes round a hoop", try_this)
        )

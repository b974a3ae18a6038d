"""One hoop's steel as it is made: its section, what it is cut to, and how its ends meet."""

from __future__ import annotations

from dataclasses import dataclass

from cage3d.design import trade
from cage3d.design.models import Design, Hoop, Join
from cage3d.shape.section import Section
from cage3d.shape.section_kinds import section_of


@dataclass(frozen=True)
class SteelJoin:
    """How the two ends of a closed hoop meet."""

    written: Join
    centre: float  # its middle as a share of the girth from centre front
    added: float  # kg: the second layer of strip in an overlap, or the tube

    @property
    def lapped(self) -> bool:
        """Whether the strip lies double; else a tube holds two butting ends."""
        return self.written.overlap is not None

    @property
    def length(self) -> float:
        """m of strip that the join covers."""
        return self.written.overlap if self.written.overlap is not None else (self.written.tube or 0.0)

    @property
    def overlap(self) -> float:
        """m of strip beyond the finished length: an overlap takes its own length, a tube none."""
        return self.length if self.lapped else 0.0

    @property
    def stiffening(self) -> float:
        """Factor on every stiffness of the strip where the join lies."""
        return trade.LAP_STIFFENING if self.lapped else trade.TUBE_STIFFENING


@dataclass(frozen=True)
class HoopSteel:
    """The steel of one hoop."""

    section: Section
    finished: float  # m of centre line, round a closed hoop or end to end of an open one
    join: SteelJoin | None  # None where the hoop is open or closes without one

    @property
    def cut(self) -> float:
        """m to cut it to."""
        return self.finished + (self.join.overlap if self.join is not None else 0.0)


def steels_of(design: Design) -> tuple[HoopSteel, ...]:
    """(H,) every hoop's steel, from the top."""
    return tuple(hoop_steel(design, hoop) for hoop in range(len(design.hoops)))


def hoop_steel(design: Design, hoop: int) -> HoopSteel:
    """The steel of one hoop (from 0)."""
    section = section_of(design.steel_of(hoop))
    return HoopSteel(section, design.hoops[hoop].length, join_of(design, hoop, section))


def join_of(design: Design, hoop: int, section: Section) -> SteelJoin | None:
    """The join of a hoop: as written, the usual one where nothing is written, None where there is none."""
    hoop_written = design.hoops[hoop]
    if hoop_written.opening != "none" or hoop_written.join == "none":
        return None
    join = section.own_join if hoop_written.join is None else hoop_written.join.at(hoop_written.length)
    lapped = join.overlap is not None
    added = (join.overlap or 0.0) * section.mass if lapped else section.tube_mass(join.tube or 0.0)
    return SteelJoin(join, middle_of_ends(hoop_written), added)


def middle_of_ends(hoop: Hoop) -> float:
    """Where the two ends of a closed hoop meet, as a share of the girth from centre front."""
    return 0.5 if hoop.join_at == "back" else 0.0

"""The cutting list: what each hoop is cut to, and the marks along its steel from the cut end."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from cage3d.design.models import Design, Hoop, Join
from cage3d.design.models.cage import Slide
from cage3d.design.routes import stations_on
from cage3d.design.rules.openings import end_tapes, goes_round
from cage3d.shape.cage import Cage
from cage3d.shape.lines import hoop_lines
from cage3d.shape.section import Section
from cage3d.shape.steels import SteelJoin, middle_of_ends
from cage3d.sheets.writing import Writing

SAME_PLACE = 0.0005  # m, two marks nearer than this are one
NODES = 64  # of the hoop line; the marks do not depend on it


@dataclass(frozen=True)
class SteelMark:
    """A mark across the strip: what meets it there, and how far it lies from the first cut end (m)."""

    names: tuple[str, ...]
    at: float

    @property
    def text(self) -> str:
        return " · ".join(self.names)


@dataclass(frozen=True)
class SteelCut:
    """One hoop's steel."""

    hoop: int  # from 1, from the top
    section: Section
    opening: str  # none, front or back; of a hoop beside her, its own side that is next to her
    finished: float  # m, centre line round a closed hoop, end to end of an open one
    join: SteelJoin | None
    join_at: str  # front or back, of a closed hoop
    exact: float  # m, finished length and what the join takes
    cut: float  # m, as written on the list: rounded once, and all sums are of this
    marks: tuple[SteelMark, ...]  # rising
    slide: Slide | None = None  # where its join slides
    between: tuple[int, int] | None = None  # end tapes (from 1) of an open hoop that does not go round her
    beside: str | None = None  # left or right, of a hoop that stands there; its front and back are its own
    sewn: bool = False  # its ends, in their last casings or on the waistband
    on_band: bool = False  # sewn to the waistband, both ends
    label: str = ""  # what it is called where hoops of several cages are cut together

    @property
    def named(self) -> str:
        """'hoop 3', or as it is called in an order."""
        return self.label or f"hoop {self.hoop}"

    @property
    def closed(self) -> bool:
        return self.opening == "none"

    @property
    def tips(self) -> int:
        """Caps on the ends that stay free; a join covers the ends of a closed hoop."""
        return 0 if self.closed else 2

    @property
    def overlap(self) -> float:
        """m of strip that lies double in the join."""
        return 0.0 if self.join is None else self.join.overlap


def cutting_list(cage: Cage) -> tuple[SteelCut, ...]:
    """Every hoop's cut, from the top."""
    return tuple(steel_cut(cage, hoop) for hoop in range(len(cage.steels)))


def steel_cut(cage: Cage, hoop: int) -> SteelCut:
    """The cut of one hoop (from 0)."""
    written, steel = cage.design.hoops[hoop], cage.steels[hoop]
    marks = closed_marks(cage, hoop) if written.opening == "none" else open_marks(cage, hoop)
    return SteelCut(
        hoop=hoop + 1,
        section=steel.section,
        opening=written.opening,
        finished=steel.finished,
        join=steel.join,
        join_at=written.join_at,
        exact=steel.cut,
        cut=Writing.of(cage.design.units).rounded(steel.cut),
        marks=marks,
        slide=written.slide,
        between=between_tapes(cage.design, hoop),
        sewn=written.ends == "sewn",
        on_band=int((cage.connectivity.edge_hoop[cage.connectivity.sewn_edges] == hoop).sum()) == 2,
        beside=written.beside,
    )


def between_tapes(design: Design, hoop: int) -> tuple[int, int] | None:
    """The tapes (from 1) between which an open hoop (from 0) stands that does not go round her; None where it does."""
    if design.hoops[hoop].opening == "none" or goes_round(design, hoop):
        return None
    first, last = end_tapes(stations_on(design)[hoop], design.hoops[hoop].opening)
    return first + 1, last + 1


def closed_marks(cage: Cage, hoop: int) -> tuple[SteelMark, ...]:
    """Marks of a ring from the end that starts in the join, round by rising tape numbers.

    Both ends pass the middle of the join by half the overlap, so the middle is marked at either end.
    """
    finished, join = cage.steels[hoop].finished, cage.steels[hoop].join
    overlap = 0.0 if join is None else join.overlap
    middle, start = middle_of_ends(cage.design.hoops[hoop]), overlap / 2.0
    stations, line = stations_on(cage.design)[hoop], cage.design.line
    front, back = centres_of(cage.design.hoops[hoop])
    places = [(f"{line} {tape + 1}", float(at)) for tape, at in enumerate(stations) if not np.isnan(at)]
    places += [(front, 0.0), (back, 0.5)]
    marks = []
    for name, fraction in places:
        along = float((fraction - middle) % 1.0) * finished
        # A place in the middle of the join is met twice.
        marks += [(name, start + along)] + ([(name, start + finished)] if along < SAME_PLACE else [])
    if overlap:
        marks += [("other end", overlap), ("other end", finished)]
    marks += [
        mark for end in slid_ends(cage.design.hoops[hoop]) for mark in end_marks(*end, finished + overlap)
    ]
    return gathered(marks)


def centres_of(hoop: Hoop) -> tuple[str, str]:
    """What its foremost and rearmost places are called: centre front and back are hers, not a basket's."""
    return ("CF", "CB") if hoop.beside is None else ("front", "back")


def slid_ends(hoop: Hoop) -> list[tuple[str, float]]:
    """(what it is called, m that lie double) at both ends of a join that slides, as far as they are not as written."""
    slide = hoop.slide
    if slide is None or not isinstance(hoop.join, Join):
        return []
    ends = (("longest", slide.most), ("shortest", slide.least))
    return [
        (name, hoop.join.at(length).overlap or 0.0)
        for name, length in ends
        if abs(length - hoop.length) > SAME_PLACE
    ]


def end_marks(name: str, overlap: float, cut: float) -> list[tuple[str, float]]:
    """Where each end comes to lie on the other, from the first cut end."""
    return [(name, overlap), (name, cut - overlap)]


def open_marks(cage: Cage, hoop: int) -> tuple[SteelMark, ...]:
    """Marks of an open hoop from its first end; the places are the model's own."""
    line, named = hoop_lines(cage.design, NODES)[hoop], cage.design.line
    along = np.concatenate([[0.0], np.cumsum(line.arcs)])
    along[-1] = cage.steels[hoop].finished  # to the last bit, which a sum may miss
    marks = [
        (f"{named} {tape + 1}", float(along[node])) for tape, node in enumerate(line.crossing) if node >= 0
    ]
    front, back = centres_of(cage.design.hoops[hoop])
    for name, centre in ((front, 0.0), (back, 0.5), (front, 1.0)):
        if line.fractions[0] <= centre <= line.fractions[-1]:
            marks.append((name, float(np.interp(centre, line.fractions, along))))
    return gathered(marks)


def gathered(marks: list[tuple[str, float]]) -> tuple[SteelMark, ...]:
    """Rising marks; what lies in one place becomes one mark with several names."""
    out: list[SteelMark] = []
    for name, at in sorted(marks, key=lambda mark: (mark[1], mark[0])):
        if out and at - out[-1].at < SAME_PLACE:
            out[-1] = SteelMark((*out[-1].names, name), out[-1].at)
        else:
            out.append(SteelMark((name,), at))
    return tuple(out)

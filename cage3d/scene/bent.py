"""Where steel is bent more sharply than it should be: the stretch of the hoop, and words."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from cage3d.design import trade
from cage3d.report.record import Report
from cage3d.settle.state import SettledCage
from cage3d.shape.arrays import Floats
from cage3d.steady import percent, steady

KEPT = 1.0  # share of the strain at yield above which a kink stays


@dataclass(frozen=True)
class BentSteel:
    """One stretch of a hoop that is bent too sharply."""

    line: Floats  # (k, 3) m, along the steel
    words: str
    number: int  # of the hoop, from 1


def bent_steel(settled: SettledCage, report: Report) -> tuple[BentSteel, ...]:
    """Every stretch with more strain than is warned of, hoop by hoop; of the cage that the report is of."""
    joined = settled.cage.connectivity
    shares = steady_shares(settled)
    found = []
    for hoop in report.hoops:
        if steady(hoop.strain_used, 4) <= trade.STRAIN:
            continue
        own = np.flatnonzero(joined.bend_hoop == hoop.number - 1)
        for run in runs(shares[own] > trade.STRAIN, bool(joined.closed[hoop.number - 1])):
            nodes = joined.bends[own[run]]
            line = settled.positions[[nodes[0, 0], *nodes[:, 1], nodes[-1, 2]]]
            found.append(BentSteel(line, words(hoop.number, float(shares[own[run]].max())), hoop.number))
    return tuple(found)


def steady_shares(settled: SettledCage) -> Floats:
    """(B,) strain of every bend as a share of that at yield, without its last bits."""
    return np.round(settled.strains, 4)


def words(hoop: int, share: float) -> str:
    over = "kinks here" if share > KEPT else "bent sharply"
    return f"hoop {hoop} {over}: {percent(share)} of what it bears"


def runs(marked: np.ndarray[tuple[int], np.dtype[np.bool_]], closed: bool) -> list[list[int]]:
    """Places of neighbours that are marked, run by run; in a closed ring the last is the first one's neighbour."""
    places = [int(place) for place in np.flatnonzero(marked)]
    if not places:
        return []
    found = [[places[0]]]
    for before, after in pairwise(places):
        if after == before + 1:
            found[-1].append(after)
        else:
            found.append([after])
    if closed and len(found) > 1 and places[0] == 0 and places[-1] == len(marked) - 1:
        found[0] = found.pop() + found[0]
    return found

"""Laced panels: two tapes with eyelets along them, laced crosswise from eyelet to eyelet."""

from __future__ import annotations

from dataclasses import replace
from functools import partial

import numpy as np

from cage3d.design import trade
from cage3d.design.models import Panel
from cage3d.mesh.extras import Extras
from cage3d.mesh.frames import node_frames
from cage3d.mesh.hanging import ribbon_runs
from cage3d.mesh.part import Part
from cage3d.mesh.solid import Solid, joined
from cage3d.mesh.sweep import rectangle, sweeps
from cage3d.mesh.tapes import OVER_WEARER, TapeLines
from cage3d.mesh.vectors import cross, dot, size, unit
from cage3d.mesh.wearer import drawn_form, laid_over
from cage3d.settle.state import SettledCage
from cage3d.shape.arrays import Floats
from cage3d.shape.section_kinds import rounded
from cage3d.steady import steady

A_SIDE = trade.EYELETS_PER_PANEL // 2
PARTS = 8  # of a lace from eyelet to eyelet; even, so that the place where two cross is a point of both
ONE_HOOP = 0.06  # m that a panel on a single hoop reaches above and below it; drawn only
FROM_EDGE = 0.006  # m, middle of an eyelet from the tape's edge [common practice]
EYELET, WIRE = 0.0035, 0.0009  # m, radius of an eyelet's ring and of its rim; drawn only
DOWN = np.array([0.0, 0.0, -1.0])


def panel_parts(settled: SettledCage, tapes: TapeLines) -> list[Part]:
    """The lace of every panel, and its eyelets."""
    design, joins = settled.cage.design, settled.cage.connectivity
    row = joins.segment_count + len(design.ties)
    parts = []
    for number, panel in enumerate(design.panels, start=1):
        rows = np.arange(row, row + len(panel.hoops))
        first, second, inward = eyelets(settled, panel, tapes)
        longer = settled.cage.parameters.pull_length[rows] / np.maximum(settled.pull_spans[rows], 1e-9)
        lace = lacing(first, second, inward, at_eyelets(settled, panel, longer))
        lace = replace(lace, points=laid_over(drawn_form(settled), lace.points, OVER_WEARER))
        parts.append(
            Part(f"panel {number}", "panels", lace, "lace", number, partial(facts_of, settled, panel, rows))
        )
        rims = joined([rim for side in (first, second) for rim in rings(side)])
        parts.append(Part(f"panel {number} eyelets", "panels", rims, "hardware", number))
        row += len(panel.hoops)
    return parts


def facts_of(
    settled: SettledCage, panel: Panel, rows: np.ndarray[tuple[int], np.dtype[np.intp]]
) -> dict[str, object]:
    """What the balance of forces says of the lace at each of its hoops."""
    measures = Extras(settled.cage.design.units)
    lengths = settled.cage.parameters.pull_length[rows]
    for hoop, length in zip(panel.hoops, lengths, strict=True):
        measures.add(f"width_at_hoop_{hoop}", float(length))
    return measures.with_facts(
        hoops=list(panel.hoops),
        tensions_N=[steady(float(force), 4) for force in settled.state.pull_force[rows]],
        slack_m=[steady(float(slack), 6) for slack in settled.slack[rows]],
    )


def reaches(settled: SettledCage, panel: Panel) -> Floats:
    """(2 tapes, 2) m along each tape from the band, where its eyelets begin and end."""
    hoops = np.array([min(panel.hoops), max(panel.hoops)]) - 1
    marks = settled.cage.marks.steel[np.array(panel.tapes) - 1][:, hoops]
    if hoops[0] == hoops[1]:
        return np.asarray(marks + np.array([-ONE_HOOP, ONE_HOOP]))
    return np.asarray(marks)


def eyelets(settled: SettledCage, panel: Panel, tapes: TapeLines) -> tuple[Floats, Floats, Floats]:
    """(first tape's, second tape's, into the cage), each (A_SIDE, 3): places in m, and a unit direction."""
    sides = []
    for tape, (start, end) in zip(panel.tapes, reaches(settled, panel), strict=True):
        along = tapes.along[tape - 1]
        # Past its end a tape has no eyelets.
        sides.append(tapes.at(tape - 1, np.linspace(max(start, along[0]), min(end, along[-1]), A_SIDE)))
    (first, one_way), (second, other_way) = sides
    across = second - first
    aside = max(settled.cage.design.tapes.width / 2.0 - FROM_EDGE, 0.0)
    towards = np.sign(np.einsum("ij,ij->i", one_way, across))[:, None] * aside * one_way
    back = np.sign(np.einsum("ij,ij->i", other_way, across))[:, None] * aside * other_way
    first, second = first + towards, second - back
    inward = np.cross(np.gradient((first + second) / 2.0, axis=0), across)
    inward /= np.maximum(np.linalg.norm(inward, axis=1), 1e-12)[
        :, None
    ]  # none where the lace is drawn quite shut
    off = 2.0 * trade.RIBBON_THICKNESS + trade.LACE_THICKNESS
    # Tapes are laced on their inner side.
    inward *= np.where(np.einsum("ij,ij->i", inward[:, :2], (first + second)[:, :2]) > 0.0, -1.0, 1.0)[
        :, None
    ]
    return first + off * inward, second + off * inward, inward


def at_eyelets(settled: SettledCage, panel: Panel, values: Floats) -> Floats:
    """(A_SIDE,) what is told at the panel's hoops, at its eyelets."""
    marks = settled.cage.marks.steel[panel.tapes[0] - 1]
    own = np.array([marks[hoop - 1] for hoop in panel.hoops])
    order = np.argsort(own)
    start, end = reaches(settled, panel)[0]
    return np.interp(np.linspace(start, end, A_SIDE), own[order], values[order])


def lacing(first: Floats, second: Floats, inward: Floats, longer: Floats) -> Solid:
    """A bar across the uppermost eyelets, below it two laces that cross between each pair and the next.

    longer: (A_SIDE,) lace in it over what it spans; above 1 it hangs down.
    """
    places = np.repeat(np.arange(len(first) - 1), 2)
    over = trade.LACE_THICKNESS * 0.6 * np.where(places % 2, 1.0, -1.0)  # by turns one lies over the other
    over[1::2] *= -1.0
    start = np.where(np.arange(len(places))[:, None] % 2, second[places], first[places])
    end = np.where(np.arange(len(places))[:, None] % 2, first[places + 1], second[places + 1])
    return joined(
        bars(
            np.vstack([first[:1], start]),
            np.vstack([second[:1], end]),
            np.vstack([inward[:1], inward[places]]),
            np.append(0.0, over),
            np.append(longer[0], longer[places]),
        )
    )


def bars(start: Floats, end: Floats, inward: Floats, off: Floats, longer: Floats) -> list[Solid]:
    """Laces from eyelet to eyelet (b, 3), their middles moved into the cage by `off` (b,) m."""
    lengths = size(end - start) * np.maximum(longer, 1.0)
    lines = ribbon_runs(start, end, lengths, np.broadcast_to(DOWN, start.shape), PARTS)
    swing = np.sin(np.linspace(0.0, np.pi, PARTS + 1))
    lines = lines + (off[:, None] * swing)[..., None] * inward[:, None]
    frames = node_frames(lines, np.broadcast_to(inward[:, None], lines.shape), False)
    section = rectangle(trade.LACE_THICKNESS, trade.LACE_WIDTH)
    return sweeps(lines, frames, np.broadcast_to(section, (len(lines), *section.shape)))


def rings(side: Floats) -> list[Solid]:
    """The eyelets at (b, 3) down one tape: small rings on it, seen from inside the cage."""
    along = unit(np.gradient(side, axis=0))
    out = side * [1.0, 1.0, 0.0]
    out = unit(out - dot(out, along)[:, None] * along)
    across = cross(along, out)
    turn = 2.0 * np.pi * np.arange(12)[:, None] / 12
    circles = EYELET * (np.cos(turn) * along[:, None] + np.sin(turn) * across[:, None])
    lines = side[:, None] + circles
    section = rounded(WIRE, 6)
    sections = np.broadcast_to(section, (len(lines), *section.shape))
    return sweeps(lines, node_frames(lines, circles, True), sections, smooth=True)

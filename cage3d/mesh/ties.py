"""Ties: narrow ribbons between two crossings inside the cage, laid against her legs where they meet them."""

from __future__ import annotations

from functools import partial

import numpy as np

from cage3d.design import trade
from cage3d.mesh.extras import lengths
from cage3d.mesh.frames import node_frames
from cage3d.mesh.hanging import ribbon_run
from cage3d.mesh.part import Part
from cage3d.mesh.solid import Solid
from cage3d.mesh.sweep import rectangle, sweep
from cage3d.mesh.tapes import OVER_WEARER
from cage3d.mesh.wearer import drawn_form, laid_over
from cage3d.settle.state import SettledCage
from cage3d.shape.arrays import Floats

PARTS = 48  # of a tie's length, whichever way it runs: stages of hanging match vertex for vertex
DOWN = np.array([0.0, 0.0, -1.0])


def tie_parts(settled: SettledCage) -> list[Part]:
    """Every tie, as a ribbon on edge; a slack one hangs down in an arc of its own length."""
    design, joined = settled.cage.design, settled.cage.connectivity
    return [tie_part(settled, joined.segment_count + place, place + 1) for place in range(len(design.ties))]


def tie_part(settled: SettledCage, row: int, number: int) -> Part:
    length = float(settled.cage.parameters.pull_length[row])
    first, second = settled.positions[settled.cage.connectivity.pulls[row]]
    way = settled.state.ways.get(row)
    if way is None:
        line = ribbon_run(first, second, length, DOWN, PARTS)
    else:
        line = laid_over(drawn_form(settled), in_parts(way, PARTS), OVER_WEARER)
    body = ribbon(line, trade.TIE_WIDTH, trade.TIE_THICKNESS)
    return Part(f"tie {number}", "ties", body, "tie", number, partial(tie_facts, settled, row))


def tie_facts(settled: SettledCage, row: int) -> dict[str, object]:
    length, slack = float(settled.cage.parameters.pull_length[row]), float(settled.slack[row])
    return {
        **lengths(settled.cage.design.units, length=length, slack=slack),
        "tension_N": round(float(settled.state.pull_force[row]), 4),
        "called": settled.cage.connectivity.pull_names[row],
    }


def in_parts(way: Floats, count: int) -> Floats:
    """(count + 1, 3) m, a way (k, 3) in parts of one length."""
    along = np.concatenate([[0.0], np.cumsum(np.linalg.norm(np.diff(way, axis=0), axis=1))])
    places = np.linspace(0.0, along[-1], count + 1)
    return np.column_stack([np.interp(places, along, column) for column in way.T])


def ribbon(line: Floats, width: float, thickness: float) -> Solid:
    """A ribbon on edge along (k, 3), its face to the side; one that runs straight down faces the front."""
    along = (line[-1] - line[0]) / np.linalg.norm(line[-1] - line[0])
    upright = DOWN if abs(along @ DOWN) < 0.9 else np.array([1.0, 0.0, 0.0])
    # Square to the ribbon and to the plane a slack one hangs in.
    tangents = np.gradient(line, axis=0)
    faces = np.cross(tangents, upright)
    frames = node_frames(line, faces / np.linalg.norm(faces, axis=1)[:, None], False)
    return sweep(line, frames, rectangle(thickness, width))

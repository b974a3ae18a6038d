"""A settled hoop as a smooth line with its strip's frame: what everything on a hoop is swept along.

A cubic spline through the nodes with continuous curvature; a tape pulls at a point, which
leaves the bending moment, and so the curvature, without a jump. The strip's normals are
the means of the solver's at the two edges that meet in a node, drawn through likewise.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.interpolate import CubicSpline

from cage3d.mesh.frames import Frames, frames_from_edges, node_frames
from cage3d.report.curves import hoop_spline
from cage3d.settle.state import SettledCage
from cage3d.shape.arrays import Floats


@dataclass(frozen=True)
class StripLine:
    """The centre line of one hoop; places on it are metres of steel from its first node."""

    along: Floats  # (n,) m, place of each node; a closed hoop has its first node once more at the end
    fractions: Floats  # (n,) share of the girth from centre front of each node, rising, may pass 1
    centre: CubicSpline  # place -> (3,) m
    normal: CubicSpline  # place -> (3,) not unit, across the strip's thickness
    closed: bool
    half_turn: bool

    @property
    def length(self) -> float:
        """m of steel, round or end to end."""
        return float(self.along[-1])

    def at(self, places: Floats) -> Floats:
        """(n, 3) m; places on a closed hoop run on past its first node."""
        return np.asarray(self.centre(places))

    def tangents(self, places: Floats) -> Floats:
        """(n, 3) unit, by the wearer's left."""
        along = np.asarray(self.centre(places, 1))
        return np.asarray(along / np.linalg.norm(along, axis=-1, keepdims=True))

    def place_of(self, fraction: float) -> float:
        """m from the first node of a place told as a share of the girth from centre front."""
        first = float(self.fractions[0])
        return float(np.interp((fraction - first) % 1.0 + first, self.fractions, self.along))

    def whole(self, steps: int) -> tuple[Floats, Frames]:
        """The hoop's line (m) and frames in at least `steps` steps, every node among the points."""
        per_edge = -(-steps // (len(self.along) - 1))
        parts = np.arange(per_edge) / per_edge
        inner = (self.along[:-1, None] + np.diff(self.along)[:, None] * parts).ravel()
        places = inner if self.closed else np.append(inner, self.along[-1])
        line = self.at(places)
        return line, node_frames(line, np.asarray(self.normal(places)), self.closed, self.half_turn)

    def stretch(self, start: float, end: float, count: int) -> tuple[Floats, Frames]:
        """The line and frames of a stretch of the hoop between two places (m), in count - 1 parts."""
        places = np.linspace(start, end, count)
        line = self.at(places)
        return line, node_frames(line, np.asarray(self.normal(places)), False)


def strip_line(settled: SettledCage, hoop: int) -> StripLine:
    """Hoop `hoop` (from 0) of a settled cage."""
    joined = settled.cage.connectivity
    closed = bool(joined.closed[hoop])
    nodes, edges = joined.hoop_nodes[hoop], joined.hoop_edges[hoop]
    points, fractions = settled.positions[nodes], joined.node_fraction[nodes]
    frames = frames_from_edges(points, settled.strip_normals[edges], closed)
    along = np.concatenate([[0.0], np.cumsum(settled.cage.parameters.arc_length[edges])])
    centre = hoop_spline(settled, hoop)
    if not closed:
        normal = CubicSpline(along, frames.normals, bc_type="natural")
        return StripLine(along, fractions, centre, normal, False, False)
    return StripLine(
        along,
        np.append(fractions, fractions[0] + 1.0),
        centre,
        normals_round(along, frames),
        True,
        frames.half_turn,
    )


def normals_round(along: Floats, frames: Frames) -> CubicSpline:
    """The normals round a closed hoop; after a half turn at the seam they repeat after two rounds."""
    normals = frames.normals
    if not frames.half_turn:
        return CubicSpline(along, np.vstack([normals, normals[:1]]), bc_type="periodic")
    twice = np.concatenate([along, along[1:] + along[-1]])
    return CubicSpline(twice, np.vstack([normals, -normals, normals[:1]]), bc_type="periodic")

"""How a section stands at every node of a line: frames that are given, not carried.

Frames carried along a closed curve miss their start by the curve's total torsion, and an
"up" vector leans the section wherever the strip rolls; so every node's frame comes from the
solver (or whoever knows how the strip lies) and the section is set square to it. At each
node the section lies in the plane that halves the angle of the two edges and is stretched
across it (a mitre), so that the volume is the section's area times the line's length.

Lines are (..., n, 3): one, or many of n nodes at once, in which every one comes out as it would alone.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from cage3d.mesh.vectors import cross, dot, size, unit
from cage3d.shape.arrays import Floats
from cage3d.steady import without_noise

# A mitre sharper than this would grow without bound; tapes folded back on themselves get a blunt one.
LONGEST_MITRE = 2.0
PARALLEL = 1e-6  # below this a direction is lost, and any direction square to the line serves


@dataclass(frozen=True)
class Frames:
    """Where the section lies at each node of a line; n nodes."""

    tangents: Floats  # (..., n, 3) unit, square to the plane of the section
    normals: Floats  # (..., n, 3) unit, the section's first axis: across a strip's thickness, outward
    widths: Floats  # (..., n, 3) unit, its second axis: tangent x normal
    bends: Floats  # (..., n, 3) unit or nothing, the way the line turns
    mitres: Floats  # (..., n) how much longer than it is the section is drawn along the bend
    closed: bool
    half_turn: bool  # a closed strip meets its own start turned by pi, back to front

    def placed(self, section: Floats) -> Floats:
        """(..., n, k, 3) m from the line's nodes, a section (..., k, 2) m along (normal, width) at each."""
        across, along = section[..., None, :, :1], section[..., None, :, 1:]
        offsets = across * self.normals[..., None, :] + along * self.widths[..., None, :]
        bends = self.bends[..., None, :]
        return np.asarray(offsets + (self.mitres[..., None] * dot(offsets, bends))[..., None] * bends)


def node_frames(line: Floats, normals: Floats, closed: bool, half_turn: bool = False) -> Frames:
    """Frames at the nodes of a line (..., n, 3) m from the wanted normals there, made square to it."""
    return frames_between(*edges_at_nodes(line, closed), normals, closed, half_turn)


def frames_from_widths(line: Floats, widths: Floats, closed: bool) -> Frames:
    """Frames at the nodes of a line (..., n, 3) m of a ribbon told by the direction of its width there."""
    before, after = edges_at_nodes(line, closed)
    return frames_between(before, after, cross(widths, mean_direction(before, after)), closed, False)


def frames_from_edges(line: Floats, edge_normals: Floats, closed: bool) -> Frames:
    """Frames at the nodes of a line (n, 3) m from the strip's normal on every edge.

    edge_normals: (n, 3) of a closed line, (n - 1, 3) of an open one; a node takes the mean of
    its two edges. A strip of two like faces may be told by either of its normals: each edge
    takes the one nearer to the edge before, and a closed one that comes back opposite to its
    start is marked as a half turn.
    """
    signs = np.where(dot(edge_normals[1:], edge_normals[:-1]) < 0.0, -1.0, 1.0)
    aligned = edge_normals * np.cumprod(np.concatenate([[1.0], signs]))[:, None]
    half_turn = closed and bool(aligned[-1] @ aligned[0] < 0.0)
    if closed:
        before = np.roll(aligned, 1, axis=0)
        before[0] *= -1.0 if half_turn else 1.0
        return node_frames(line, before + aligned, closed, half_turn)
    return node_frames(line, np.vstack([aligned, aligned[-1:]]) + np.vstack([aligned[:1], aligned]), closed)


def frames_between(before: Floats, after: Floats, normals: Floats, closed: bool, half_turn: bool) -> Frames:
    """Frames where the edges `before` and `after` (..., n, 3) meet."""
    tangents = mean_direction(before, after)
    square = normals - dot(normals, tangents)[..., None] * tangents
    lost = size(square) < PARALLEL
    if lost.any():
        other = cross(tangents, np.eye(3)[np.argmin(without_noise(np.abs(tangents)), axis=-1)])
        square = np.where(lost[..., None], other, square)
    square = unit(square)
    return Frames(
        tangents, square, cross(tangents, square), *mitres(before, after, tangents), closed, half_turn
    )


def edges_at_nodes(line: Floats, closed: bool) -> tuple[Floats, Floats]:
    """(before, after), each (..., n, 3) unit: the edges that meet at each node; at a free end one twice."""
    if closed:
        after = unit(np.roll(line, -1, axis=-2) - line)
        return np.roll(after, 1, axis=-2), after
    along = unit(line[..., 1:, :] - line[..., :-1, :])
    before = np.concatenate([along[..., :1, :], along], axis=-2)
    return before, np.concatenate([along, along[..., -1:, :]], axis=-2)


def mean_direction(before: Floats, after: Floats) -> Floats:
    """(..., n, 3) unit, halfway between two edges; where a line folds back on itself, along the edge after."""
    both = before + after
    length = size(both)
    folded = length < PARALLEL
    if folded.any():
        return unit(np.where(folded[..., None], after, both))
    return np.asarray(both / length[..., None])


def mitres(before: Floats, after: Floats, tangents: Floats) -> tuple[Floats, Floats]:
    """((..., n, 3) direction of the bend, (..., n) 1 / cos(half the turn) - 1 by which it is longer along it)."""
    bend = after - before
    direction = bend / np.maximum(size(bend), 1e-12)[..., None]
    half = dot(after, tangents)
    return np.asarray(direction), np.minimum(1.0 / np.maximum(half, 1e-6), LONGEST_MITRE) - 1.0

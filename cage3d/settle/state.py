"""The state of a cage and the settled cage with its proof."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np

from cage3d.settle.bends import StripFrames, bend_curvatures, strain_shares
from cage3d.settle.contact import FormGap
from cage3d.shape.arrays import Floats, Ints
from cage3d.shape.cage import Cage
from cage3d.shape.in_short import InShort


@dataclass(frozen=True, repr=False)
class State(InShort):
    """Where everything is and what pulls; frozen, replaced at every accepted step."""

    positions: Floats  # (N, 3) m
    angles: Floats  # (E,) rad, strip's roll against its reference frame
    normals: Floats  # (E, 3) unit, reference frame carried in time by parallel transport
    twists: Floats  # (B,) rad, turn of the reference frame along the strip
    forces: Mapping[str, Floats]  # N, of every term that holds something, by its name
    between: Ints  # (C, 2) nodes on both sides of every place between nodes where the wearer can push
    spans: Floats  # (P,) m, shortest way between both ends of every tape segment and tie, over the wearer if need be
    ways: Mapping[int, Floats]  # (k, 3) m, from end to end, of those pulls that lie on the wearer
    cloth: Floats  # (N, 3) N on the nodes, of skirts that slide
    cloth_on_band: Floats  # (3,) N on the waistband, of the same

    @property
    def pull_force(self) -> Floats:
        """(P,) N, tension of tapes and ties, never negative."""
        return self.forces["pulls"]

    @property
    def floor_push(self) -> Floats:
        """(hoop nodes,) N, never negative."""
        return self.forces["floor"]

    @property
    def wearer_push(self) -> Floats:
        """(hoop nodes,) N a unit of her gap, never negative: at the node and half of what pushes between it and its
        neighbours.
        """
        push = self.force_of("wearer", len(self.floor_push)).copy()
        between = self.forces.get("wearer between nodes", np.zeros(0))
        np.add.at(push, self.between[: len(between)], between[:, None] / 2.0)
        return push

    def force_of(self, name: str, count: int) -> Floats:
        """(count,) N; none where no term of that name held so many."""
        force = self.forces.get(name)
        return np.zeros(count) if force is None or len(force) != count else force


@dataclass(frozen=True)
class Snap:
    """A hoop that went over to another shape."""

    held: float  # the largest load before it, as a factor on the planned skirt
    node: int  # that went farthest
    travel: float  # m


@dataclass(frozen=True, repr=False)
class SettledCage(InShort):
    """A cage in equilibrium, with the proof of it.

    An unsettled or unstable one is never shown as an answer: ask `trusted`.
    """

    cage: Cage
    state: State
    residual: float  # N, largest unbalanced force
    distance: float  # m, how far a node would move in one more step towards rest
    lowest_eigenvalue: float  # N/m, of the Hessian (angles scaled by the strip's width)
    settled: bool
    stable: bool
    steps: int  # Newton steps taken
    notes: tuple[str, ...] = ()  # what happened on the way, in words: snaps, unstable modes followed
    snaps: tuple[Snap, ...] = ()  # on the way to the planned skirt, in turn
    worst_node: str = ""  # where the residual is largest, in words
    given_up: bool = False  # after as many steps as it was allowed

    @property
    def trusted(self) -> bool:
        return self.settled and self.stable

    @property
    def positions(self) -> Floats:
        """(N, 3) m."""
        return self.state.positions

    @cached_property
    def tangents(self) -> Floats:
        """(E, 3) unit, along the strip, round by the wearer's left."""
        first, second = self.cage.connectivity.edges.T
        along = self.positions[second] - self.positions[first]
        return np.asarray(along / np.linalg.norm(along, axis=1)[:, None])

    @cached_property
    def strip_normals(self) -> Floats:
        """(E, 3) unit, across the strip's thickness (outward on a plain ring)."""
        reference, angle = self.state.normals, self.state.angles[:, None]
        return np.asarray(np.cos(angle) * reference + np.sin(angle) * np.cross(self.tangents, reference))

    @cached_property
    def strip_widths(self) -> Floats:
        """(E, 3) unit, along the strip's width: tangent x normal (down on a plain ring)."""
        return np.cross(self.tangents, self.strip_normals)

    @property
    def strip_frames(self) -> StripFrames:
        """How the steel lies on every edge."""
        return StripFrames(self.tangents, self.strip_normals, self.strip_widths)

    @cached_property
    def pressed_by_her(self) -> Floats:
        """(hoop nodes,) N, never negative: her gap is only about metres, so a push of it is a few per cent off."""
        push, form = self.state.wearer_push, self.cage.form
        pressed = np.flatnonzero(push)
        if form is None or not len(pressed):
            return push
        gap, off = FormGap(form), self.cage.parameters.stand_off[pressed]
        push[pressed] *= np.linalg.norm(gap.derivatives(self.positions[pressed], off)[1], axis=1)
        return push

    @cached_property
    def hoop_curves(self) -> dict[int, Any]:
        """By hoop, the smooth curve through its nodes, once somebody has worked it out (report.curves)."""
        return {}

    @cached_property
    def hoop_splines(self) -> dict[int, Any]:
        """By hoop, the spline of that curve (report.curves)."""
        return {}

    @cached_property
    def curvatures(self) -> tuple[Floats, Floats]:
        """(the easy way, the stiff way), each (B,) 1/m, at every bend."""
        return bend_curvatures(self.cage, self.strip_frames)

    @cached_property
    def strains(self) -> Floats:
        """(B,) strain of the fibre that is bent most, over the strain at which the steel stays bent."""
        return strain_shares(self.cage, self.strip_frames)

    @property
    def pull_spans(self) -> Floats:
        """(P,) m, shortest way between the two ends of every tape segment and tie."""
        return self.state.spans

    def pull_way(self, row: int) -> Floats:
        """(k, 3) m, from end to end of a tape segment or tie: straight, or the way that it takes over the wearer."""
        way = self.state.ways.get(row)
        return self.positions[self.cage.connectivity.pulls[row]] if way is None else way

    def pull_middle(self, row: int) -> Floats:
        """(3,) m, the middle of that line; its pieces are equal."""
        way = self.pull_way(row)
        return np.asarray((way[(len(way) - 1) // 2] + way[len(way) // 2]) / 2.0)

    @cached_property
    def slack(self) -> Floats:
        """(P,) m, how much longer a tape segment or tie is than the way it spans."""
        return np.maximum(self.cage.parameters.pull_length - self.pull_spans, 0.0)

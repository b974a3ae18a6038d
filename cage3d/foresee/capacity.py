"""How much skirt a cage carries: the load grows from nothing until the first hoop gives way.

A hoop gives way where the way of hanging stops being a valley (the lowest eigenvalue reaches
zero), where it snaps to another shape, or where the strip reaches its yield stress. The load is
raised in steps, each settled from the last; of a step that breaks a third is tried, as long as that
is not shorter than FINE. A snap that settling met on the way to the planned skirt is the first to give way.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from cage3d.design import stock
from cage3d.design.models import Design, Steel, SteelOfHoop
from cage3d.settle.bends import StripFrames, strain_shares
from cage3d.settle.hanging import SPRINGS
from cage3d.settle.model import Model, loaded, model_of
from cage3d.settle.rest import Rest
from cage3d.settle.settling import settle
from cage3d.settle.snaps import FINE, FIRST_STEP, finest, snap_between, step_on, travel_of
from cage3d.settle.stability import lowest_mode
from cage3d.settle.state import SettledCage
from cage3d.settle.taking_up import posture_of
from cage3d.shape.cage import Cage
from cage3d.shape.lay_out import lay_out
from cage3d.steady import first_largest, steady

MOST = 10.0  # a cage that carries ten times its skirt is asked no further
MODE_NOISE = (
    1e-3  # share of a mode's largest motion; of two modes alike in stiffness any mixture may come out
)


@dataclass(frozen=True)
class Capacity:
    """The load at which the first hoop gives way, as a factor on the planned skirt."""

    factor: float  # the largest load that still holds; MOST where `reached` is False
    reached: bool  # whether a hoop gave way at all
    hoop: int  # from 0, the one that gives way; -1 where none does
    how: str  # "loses its shape", "snaps", "bends beyond its yield" or "past what it bears", "" where none gives way


def carries(settled: SettledCage) -> Capacity | None:
    """The capacity of a settled cage; None where no skirt hangs on it.

    The load grows from the bare cage, not from the planned one: a cage that gave way on the way to
    its planned skirt may rest well in its new shape, and has a factor under 1.
    Raises ValueError where the cage is not settled and stable under its planned skirt.
    """
    if not settled.trusted:
        raise ValueError("only a settled and stable cage has a capacity")
    if not settled.cage.parameters.skirt_hangs:
        return None
    model = model_of(settled.cage, SPRINGS[-1])
    if settled.snaps:
        first = settled.snaps[0]
        return Capacity(first.held, True, hoop_of_node(settled.cage, first.node), "snaps")
    factor, good = where_to_begin(model, settled)
    fault = fault_of(loaded(model, factor), good)
    if fault is not None:
        return Capacity(factor, True, *fault)
    step = FIRST_STEP
    while factor < MOST:
        step = min(step, MOST - factor)
        trial, found = tried(model, good, factor, step)
        if found is None:
            good, factor, step = trial, factor + step, min(step * 1.6, max(FIRST_STEP, 0.5 * factor))
            continue
        fault, step = found, step / 3.0
        if step < FINE * max(factor, FIRST_STEP):
            return Capacity(factor, True, *fault)
    return Capacity(factor, False, -1, "")


def tried(model: Model, good: Rest, factor: float, step: float) -> tuple[Rest, tuple[int, str] | None]:
    """(the rest under a load larger by `step`, what gives way there).

    A step that ends elsewhere than foreseen counts as a snap until shorter ones show that it goes back.
    """
    trial, elsewhere = step_on(model, good, factor, step)
    fault = fault_of(loaded(model, factor + step), trial)
    if fault is not None or not elsewhere:
        return trial, fault
    if step <= finest(factor) and snap_between(model, factor, good, trial) is None:
        return trial, None
    farthest = first_largest(travel_of(trial.posture.positions - good.posture.positions))
    return trial, (hoop_of_node(model.cage, farthest), "snaps")


def where_to_begin(model: Model, settled: SettledCage) -> tuple[float, Rest]:
    """(0, the bare cage at rest); (1, the planned cage) where the bare one has no rest of its own."""
    bare = settle(settled.cage.without_skirt())
    factor, start = (0.0, bare) if bare.trusted else (1.0, settled)
    posture, forces = posture_of(model, start.state)
    return factor, Rest(posture, forces, start.residual, 0.0, start.distance, 0, 0, "at rest")


def fault_of(model: Model, after: Rest) -> tuple[int, str] | None:
    """(hoop, how) where a load is too much for the cage at this rest, else None."""
    joined = model.cage.connectivity
    if not after.settled:
        return hoop_of_node(model.cage, after.worst_node), "loses its shape"
    rod = after.posture.rod
    shares = strain_shares(model.cage, StripFrames(rod.tangents, rod.normals, rod.widths))
    if shares.max() >= 1.0:
        hoop = int(joined.bend_hoop[first_largest(shares)])
        steel = model.cage.steels[hoop].section.steel.made_of.is_steel
        return hoop, "bends beyond its yield" if steel else "bends past what it bears"
    lowest = lowest_mode(model, after.posture, after.forces)
    if not lowest.stable:
        motion = np.abs(lowest.mode[: 3 * model.free_nodes]).reshape(-1, 3).max(axis=1)
        return hoop_of_node(model.cage, first_largest(motion / motion.max(), MODE_NOISE)), "loses its shape"
    return None


def hoop_of_node(cage: Cage, node: int) -> int:
    """The hoop a node belongs to."""
    starts = [nodes[0] for nodes in cage.connectivity.hoop_nodes]
    return int(np.searchsorted(starts, node, side="right")) - 1


@dataclass(frozen=True)
class Choice:
    """A strip of the stock that carries a wanted factor."""

    width: float  # m
    thickness: float  # m
    mass: float  # kg of all hoops, bare
    factor: float  # what it was tried at and held


def lightest_steel(design: Design, wanted: float) -> Choice | None:
    """The lightest strip of the stock, in every hoop, under which the cage holds `wanted` times its skirt.

    Of strips of equal weight the narrower one.

    None where no strip of the stock does, or no skirt hangs on the cage.
    """
    if not design.skirts:
        return None
    steel_length = sum(hoop.length for hoop in design.hoops)
    for strip in sorted(
        stock.STRIPS, key=lambda strip: (steady(1e6 * strip.width * strip.thickness, 6), strip.width)
    ):
        tried = with_steel(design, strip.width, strip.thickness)
        if holds(tried, wanted):
            mass = steel_length * strip.width * strip.thickness * tried.steel.density
            return Choice(strip.width, strip.thickness, mass, wanted)
    return None


def with_steel(design: Design, width: float, thickness: float) -> Design:
    """The design with one bare strip of steel in every hoop: its own steel's, or the usual where it has none."""
    own = design.steel if design.steel.made_of.is_steel else Steel(width=width, thickness=thickness)
    bare = {"width": width, "thickness": thickness, "strands": 1, "layers": 1, "coating": 0.0}
    steel = own.model_copy(update={**bare, "material": None, "least_radius": None})
    hoops = tuple(hoop.model_copy(update={"steel": SteelOfHoop()}) for hoop in design.hoops)
    return design.model_copy(update={"steel": steel, "hoops": hoops})


def holds(design: Design, wanted: float) -> bool:
    """Whether the cage carries `wanted` times its skirt without giving way."""
    settled = settle(lay_out(design))
    if not settled.trusted:
        return False
    capacity = carries(settled)
    return capacity is not None and capacity.factor >= wanted

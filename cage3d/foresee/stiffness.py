"""How the cage feels: how far its hem goes in under a hand, and how far hoops droop between their tapes.

A hand's push of about 2 N at one place of the hem [common practice], that grows bit by bit and keeps to its line.
The cage is really settled with it: a soft hem goes so far that tapes fall slack, or that it meets her, and a stiffness
at rest would tell something else.
Most of the way the whole cage swings on its tapes, whatever its steel; what the hoop itself gives is told apart.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from cage3d.design.baskets import hem_hoops
from cage3d.design.rules.openings import is_half
from cage3d.settle.assembly import pattern_of
from cage3d.settle.bends import StripFrames, strain_shares
from cage3d.settle.model import Model, model_of
from cage3d.settle.rest import come_near_rest
from cage3d.settle.state import SettledCage
from cage3d.settle.taking_up import posture_of
from cage3d.settle.terms.push import Push, push_of
from cage3d.shape.arrays import Floats
from cage3d.shape.weights import GRAVITY
from cage3d.steady import first_largest, first_least, steady

PUSH_GRAMS = 200  # a hand's, on a spring balance [common practice]
PUSH = PUSH_GRAMS / 1000.0 * GRAVITY  # N
# m by which the hoop gives: less is called stiff, from there to the next is usual, and more than the last is limp
# [common practice].
STIFF, USUAL, LIMP = 0.020, 0.050, 0.080
INWARD = {
    "front": (0.0, 1.0, 0.0),
    "left": (-1.0, 0.0, 0.0),
    "back": (0.0, -1.0, 0.0),
    "right": (1.0, 0.0, 0.0),
}
ACROSS = {"front": "back", "left": "right", "back": "front", "right": "left"}
# m by which the hoop gives; a hem that goes further folds rather than gives, may do so in more than one way, and the
# last bits of a machine then choose between them. Our own judgement.
FARTHEST = 0.1524
PARTS = 4  # in which the push grows, each settled from the last: so a hem gives that is pressed in slowly
SPRING = 1000.0  # N a unit strain, while forces known so far hold the constraints
NEAR = 2e-4  # m, how near to rest
TOLD = 3  # decimals of a metre
MOST_STEPS = 120  # of Newton in one part; a hem that takes more is on its way to another shape


@dataclass(frozen=True)
class Give:
    """How the hem answers a push at one side; all None where it gives by more than FARTHEST, or finds no rest."""

    side: str
    inward: float | None  # m, how far the pushed place goes in: the cage swings and the hoop gives
    dent: float | None  # m, of that how much nearer it comes to the place across: what the hoop gives
    strain: float | None  # share of what the steel bears at its tightest bend meanwhile


def gives(settled: SettledCage, sides: Sequence[str] | None = None) -> tuple[Give, ...]:
    """What a push of PUSH does at each side: those that `sides_pushed` tells where none are named.

    Raises ValueError for a cage that is no answer.
    """
    if not settled.trusted:
        raise ValueError("only a settled and stable cage has a stiffness")
    sides = sides_pushed(settled) if sides is None else sides
    model = pushed(model_of(settled.cage, SPRING), np.zeros_like(settled.positions), settled.positions)
    return tuple(give(settled, side, model) for side in sides)


def sides_pushed(settled: SettledCage) -> tuple[str, ...]:
    """Front, left and back of a hem that goes round her, or where half a hoop is; of baskets the outside of each."""
    design = settled.cage.design
    hems = hem_hoops(design)
    beside = [design.hoops[hoop].beside for hoop in hems]
    if all(beside):
        return tuple(str(side) for side in beside)
    missing = {design.hoops[hoop].opening for hoop in hems if is_half(design, hoop)}
    return tuple(side for side in ("front", "left", "back") if side not in missing)


def give(settled: SettledCage, side: str, model: Model) -> Give:
    """model: of the cage with a push somewhere."""
    node, across = pushed_and_across(settled, side)
    force = np.zeros_like(settled.positions)
    force[node] = PUSH * np.array(INWARD[side])
    posture, forces = posture_of(model, settled.state)
    inward, dent = 0.0, 0.0
    for part in range(1, PARTS + 1):
        model = pushed_otherwise(model, part / PARTS * force)
        rest = come_near_rest(model, posture, forces, NEAR, MOST_STEPS)
        posture, forces = rest.posture, rest.forces
        moved = (posture.positions - settled.positions) @ INWARD[side]
        inward, dent = float(moved[node]), float(moved[node] - moved[across].mean())
        if not rest.settled or dent > FARTHEST:
            return Give(side, None, None, None)
    rod = posture.rod
    shares = strain_shares(settled.cage, StripFrames(rod.tangents, rod.normals, rod.widths))
    return Give(
        side, steady(float(inward), TOLD), steady(float(dent), TOLD), steady(float(shares.max()), TOLD)
    )


def pushed(model: Model, force: Floats, places: Floats) -> Model:
    """The model with a push (N, 3) N on its nodes, which lie at places (N, 3) m."""
    terms = (*model.terms, push_of(force, places, model.unknowns))
    pattern = pattern_of([term.stencil for term in terms], model.unknowns.size)
    return replace(model, terms=terms, pattern=pattern)


def pushed_otherwise(model: Model, force: Floats) -> Model:
    """A model that is pushed already, under another push (N, 3) N."""
    terms = tuple(
        replace(term, force=force[: model.free_nodes]) if isinstance(term, Push) else term
        for term in model.terms
    )
    return replace(model, terms=terms)


def pushed_and_across(settled: SettledCage, side: str) -> tuple[int, list[int]]:
    """The node of the hem that is pushed at a side, and what lies across: a node, or both ends of a bow beside her."""
    cage = settled.cage
    own = [hoop for hoop in hem_hoops(cage.design) if cage.design.hoops[hoop].beside == side]
    if not own:
        return hem_node(settled, side), [hem_node(settled, ACROSS[side])]
    nodes = cage.connectivity.hoop_nodes[own[0]]
    inwards = settled.positions[nodes] @ INWARD[side]
    far = [first_largest(inwards)] if cage.connectivity.closed[own[0]] else [0, -1]
    return int(nodes[first_least(inwards)]), nodes[far].tolist()


def hem_node(settled: SettledCage, side: str) -> int:
    """The node of the hem that lies nearest to a direction from the waist's axis."""
    nodes = settled.cage.connectivity.hoop_nodes[-1]
    out = -np.array(INWARD[side])[:2]
    along = settled.positions[nodes, :2]
    return int(nodes[first_largest(along @ out / np.linalg.norm(along, axis=1))])


def droops(settled: SettledCage) -> tuple[float, ...]:
    """(H,) m, how far each hoop's steel hangs at most below the straight line between two neighbouring tapes."""
    return tuple(droop(settled, hoop) for hoop in range(settled.cage.connectivity.hoop_count))


def droop(settled: SettledCage, hoop: int) -> float:
    """m; ends of an open hoop beyond their last tapes hang free and are not counted."""
    joined = settled.cage.connectivity
    nodes, heights = joined.hoop_nodes[hoop], settled.positions[:, 2]
    at_tapes = np.sort(np.searchsorted(nodes, joined.crossing[hoop][joined.passed[hoop]]))
    if joined.closed[hoop]:  # its line begins at its first tape, and ends there again
        at_tapes = np.append(at_tapes, len(nodes))
        nodes = np.append(nodes, nodes[0])
    between = np.arange(at_tapes[0], at_tapes[-1] + 1)
    level = np.interp(between, at_tapes, heights[nodes[at_tapes]])
    return float((level - heights[nodes[between]]).max())

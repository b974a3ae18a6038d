"""States handed out, and taken up again where they were: to the last bit, with their strings where they lay."""

from __future__ import annotations

import numpy as np

from cage3d.settle.model import Forces, Model
from cage3d.settle.posture import Posture, posture_told
from cage3d.settle.state import State
from cage3d.settle.terms import BETWEEN, Pulls, SlidingCloth, Wearer
from cage3d.shape.arrays import Floats


def state_of(model: Model, posture: Posture, forces: Forces) -> State:
    """The posture and its forces as the solver hands them out."""
    held = {term.name: force for term, force in zip(model.terms, forces, strict=True) if term.held}
    rod, spans, ways = posture.rod, np.zeros(0), dict[int, Floats]()
    between = np.zeros((0, 2), dtype=np.intp)
    cloth, on_band = np.zeros_like(posture.positions), np.zeros(3)
    for term, force in zip(model.terms, forces, strict=True):
        if isinstance(term, SlidingCloth):
            on_nodes, at_top = posture.asked(term).pushes(force)
            np.add.at(cloth, term.nodes.reshape(len(term.nodes), -1), on_nodes)
            on_band += at_top.sum(axis=0)
        if isinstance(term, Wearer) and term.name == BETWEEN:
            between = term.places.beside
        if isinstance(term, Pulls):
            reading = posture.asked(term)
            spans = reading.apart
            ways = {row: line for way in reading.ways for row, line in way.lines()}
    return State(
        posture.positions,
        posture.angles,
        rod.references,
        rod.twists,
        held,
        between,
        spans,
        ways,
        cloth,
        on_band,
    )


def posture_of(model: Model, state: State) -> tuple[Posture, Forces]:
    """A state of a cage about the same form taken up again; a term that had no force in it starts from none."""
    posture = posture_told(
        model.cage.connectivity, state.positions, state.angles, state.normals, state.twists
    )
    begin_at_state(model, state)
    return posture, forces_of(model, state)


def begin_at_state(model: Model, state: State) -> None:
    """Strings over her are looked for first where they lie in a state of a cage about the same form."""
    for term in model.terms:
        if isinstance(term, Pulls) and term.over is not None:
            term.over.told(state.ways)


def forces_of(model: Model, state: State) -> Forces:
    """What acts in a state, none where no term of that name held so many."""
    return tuple(state.force_of(term.name, term.held) for term in model.terms)

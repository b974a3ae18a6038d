"""The parts of a cage's energy, in the order in which settling walks them."""

from __future__ import annotations

from cage3d.settle.terms.cloth import SlidingCloth, cloths_as_terms
from cage3d.settle.terms.edges import edges_of
from cage3d.settle.terms.floor import floor_of
from cage3d.settle.terms.meets import meets_of
from cage3d.settle.terms.pulls import Pulls, pulls_of
from cage3d.settle.terms.roll import rolls_of
from cage3d.settle.terms.strip import strip_of
from cage3d.settle.terms.term import Blocks, Reading, Spring, Term, Upper
from cage3d.settle.terms.wearer import BETWEEN, Wearer, wearer_of
from cage3d.settle.terms.weights import Weights, weights_of
from cage3d.settle.unknowns import Unknowns
from cage3d.shape.arrays import Floats
from cage3d.shape.cage import Cage

__all__ = [
    "BETWEEN",
    "Blocks",
    "Pulls",
    "Reading",
    "SlidingCloth",
    "Spring",
    "Term",
    "Upper",
    "Wearer",
    "Weights",
    "terms_of",
]


def terms_of(cage: Cage, unknowns: Unknowns, weight: Floats, skirt: float) -> tuple[Term, ...]:
    """Every part of the energy. weight: (N,) N on the nodes; skirt: how far cloth that slides is put on."""
    joined, numbers = cage.connectivity, cage.parameters
    return (
        strip_of(joined, numbers, unknowns),
        edges_of(joined, numbers, unknowns),
        pulls_of(cage, unknowns),
        floor_of(unknowns),
        *([] if cage.form is None else wearer_of(cage, cage.form, unknowns)),
        weights_of(weight, unknowns),
        *cloths_as_terms(cage, unknowns, skirt),
        *rolls_of(cage, unknowns),
        *([meets_of(joined, numbers, unknowns)] if len(joined.meeting) else []),
    )

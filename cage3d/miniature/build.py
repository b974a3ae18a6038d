"""A miniature as it is ordered: flat pieces or standing, by what its process prints well."""

from __future__ import annotations

from dataclasses import replace

from cage3d.errors import CommandError
from cage3d.miniature.flat.kit import build_flat
from cage3d.miniature.flat.plan import TILT_TOLD, leaning
from cage3d.miniature.maquette import Maquette, build_maquette
from cage3d.miniature.order import Order
from cage3d.miniature.process import refuse
from cage3d.miniature.seams import refused_of_seams, said_of_seams
from cage3d.miniature.supports import printing_of
from cage3d.miniature.ways import RunTogetherError
from cage3d.settle.state import SettledCage
from cage3d.steady import exceeds, fixed


def build_ordered(settled: SettledCage, order: Order) -> Maquette:
    """The miniature in the kind that is ordered: flat pieces or standing.

    Where the order leaves it open, filament, which needs supports under all that hangs, takes the flat
    pieces where the whole cage can be made of them, and else says why it stands. Raises CommandError.
    """
    check_kinds(order.flat, order.split)
    if settled.cage.design.cloth is None:
        made = in_its_kind(settled, order)
    else:
        try:
            made = said_of_seams(in_its_kind(settled, order))
        except CommandError as fault:
            raise refused_of_seams(fault) from fault
    if not order.way.supports:
        return made
    return replace(made, notes=(*made.notes, printing_of(made.plates).words))


def in_its_kind(settled: SettledCage, order: Order) -> Maquette:
    """Flat or standing. Raises CommandError."""
    if order.flat:
        return build_flat(settled, order)
    if order.flat is False or order.split or order.parts or not order.way.supports:
        return build_maquette(settled, order)
    degrees, try_this = leaning(settled, order.at), ""
    if exceeds(degrees, TILT_TOLD):
        why = f"its hoops lean up to {fixed(degrees, 0)} degrees and would pinch in the slots of flat pieces"
    else:
        try:
            return build_flat(settled, order)
        except CommandError as fault:
            why, try_this = fault.problems[0].why, fault.problems[0].try_this
    try:
        made = build_maquette(settled, order)
    except RunTogetherError:
        raise
    except CommandError as fault:
        if not try_this:
            raise
        standing = fault.problems[0]
        raise refuse(
            standing.where, standing.said, f"{why}; and standing, {standing.why}", try_this
        ) from fault
    told = f"Made standing, which takes supports nearly everywhere, because {why}"
    return replace(made, notes=(told, *made.notes))


def check_kinds(flat: bool | None, split: bool) -> None:
    """Raises CommandError where flat pieces are to be cut as well."""
    if flat and split:
        why = "flat pieces are not cut, they are laid on as many beds as they need"
        raise refuse("--split", "--flat --split", why, "Leave out one of the two")

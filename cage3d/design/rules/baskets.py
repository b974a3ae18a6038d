"""Rules for hoops that stand beside her: their tapes, where they open, and what they do not go with."""

from __future__ import annotations

from collections.abc import Iterator

from cage3d.design.baskets import TOWARDS_HER, has_baskets, hem_hoops, own_half
from cage3d.design.models import Design
from cage3d.design.points import station_fractions
from cage3d.design.rules.skirt import places_of
from cage3d.design.rules.ties import side_of_tie, tied
from cage3d.errors import Problem

MIDDLE = 1e-9  # of the girth: a tape this near to centre front or back hangs at both sides
OTHER = {"left": "right", "right": "left"}


def cloth_goes_round_her(design: Design) -> Iterator[Problem]:
    if design.cloth is None:
        return
    for number, hoop in enumerate(design.hoops):
        if hoop.beside is not None:
            yield Problem(
                f"hoops[{number}].beside",
                hoop.beside,
                f"hoop {number + 1} hangs in the cloth, which goes round her",
                "Leave beside out, or write no cloth: hoops beside her hang on ribbons of their own",
            )


def hoops_open_where_they_can(design: Design) -> Iterator[Problem]:
    """One beside her towards her, one that goes round her at the front or the back."""
    for number, hoop in enumerate(design.hoops):
        where, said = f"hoops[{number}].opening", hoop.opening
        if hoop.opening == "none":
            continue
        if hoop.beside is None and hoop.opening in TOWARDS_HER:
            yield Problem(
                where,
                said,
                f"hoop {number + 1} goes round her, and such a hoop opens at the front or at the back",
                f"Write front or back; for a hoop that stands beside her, write beside: {OTHER[hoop.opening]} with it",
            )
        elif hoop.beside is not None and hoop.opening != TOWARDS_HER[hoop.beside]:
            inner = TOWARDS_HER[hoop.beside]
            yield Problem(
                where,
                said,
                f"hoop {number + 1} stands at her {hoop.beside} and can open only towards her, at its own {inner}",
                f"Write {inner}, or leave opening out for a ring of its own",
            )


def tapes_hang_at_its_side(design: Design) -> Iterator[Problem]:
    stations = station_fractions(design.tapes)
    if len(stations) != design.tapes.count:
        return  # another rule counts the stations
    for number, hoop in enumerate(design.hoops):
        if hoop.beside is None:
            continue
        for place, tape in enumerate(hoop.tapes or ()):
            if tape <= design.tapes.count and own_half(float(stations[tape - 1]), OTHER[hoop.beside]):
                yield Problem(
                    f"hoops[{number}].tapes[{place}]",
                    str(tape),
                    f"tape {tape} hangs at her {OTHER[hoop.beside]}, and hoop {number + 1} stands at her {hoop.beside}",
                    f"Write tapes of her {hoop.beside}, or leave tapes out for all of them",
                )


def skirts_lie_on_baskets(design: Design) -> Iterator[Problem]:
    """Where hoops stand beside her a skirt lies on them, shared round each by front, sides and back."""
    if not has_baskets(design):
        return
    for where, skirt in places_of(design):
        if skirt.slides:
            yield Problem(
                f"{where}.slides",
                "yes",
                "how cloth slides is worked out for hoops that go round her, and some stand beside her",
                "Leave slides out: the skirt then lies on them",
            )
        if isinstance(skirt.lies, tuple):
            yield Problem(
                f"{where}.lies",
                f"{len(skirt.lies)} shares",
                "shares by the tapes tell where a skirt lies on hoops that go round her, and some stand beside her",
                "Write {front: , sides: , back: }, or leave lies out",
            )


def hem_of_baskets(design: Design) -> Iterator[Problem]:
    """A hem of two hoops has no one front, nor one width."""
    if not design.hoops or design.hoops[-1].beside is None:
        return
    for key in ("front", "back", "sides", "left", "right", "width", "side_to_side", "front_to_back"):
        if getattr(design.hem, key) is not None:
            lowest = " and ".join(str(hoop + 1) for hoop in hem_hoops(design))
            yield Problem(
                f"hem.{key}",
                key,
                f"the hem is that of hoops beside her ({lowest}), each with sides and widths of its own",
                f"Write clearance, or under wanted {{hoop: {hem_hoops(design)[-1] + 1}, ...}} for each",
            )


def ties_of_a_basket_run_at_its_side(design: Design) -> Iterator[Problem]:
    """One from hoop to hoop of a basket passes her there, and nowhere else."""
    for number, tie, start, end in tied(design):
        side = side_of_tie(design, start, end)
        if side is not None and tie.runs not in (side, None):
            yield Problem(
                f"ties[{number}].runs",
                str(tie.runs),
                f"both ends are on hoops that stand at her {side}, and the tie passes her there",
                f"Write {side}, or leave runs out",
            )


AGREEING = (cloth_goes_round_her, tapes_hang_at_its_side)
RULES = (skirts_lie_on_baskets, hem_of_baskets)
RULES_OF_HOOPS = (hoops_open_where_they_can, ties_of_a_basket_run_at_its_side)

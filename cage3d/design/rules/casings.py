"""Rules for the casings: room for the strip, its place in them, and room for themselves on a tape."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from cage3d.design.hoop_materials import one_stuff
from cage3d.design.models import Design
from cage3d.design.routes import BAND, above_table, drop_table, entry_of, tapes_on
from cage3d.design.rules.cage import counts_agree
from cage3d.errors import Problem
from cage3d.units import show_length, show_mm

EASY = 0.003  # m of casing beyond what fills it, so that it can be threaded: common practice is 3 to 5 mm


def casings_have_room(design: Design) -> Iterator[Problem]:
    """A drop shorter than a casing is high leaves no tape between two casings: the cage hangs, but cannot be sewn."""
    if not counts_agree(design):
        return
    table, above_of = drop_table(design), above_table(design)
    for tape, row in enumerate(table):
        for hoop, drop in enumerate(row.tolist()):
            if 0.0 < drop < design.tapes.casing:
                source = int(above_of[tape, hoop])
                above = "the waistband" if source == BAND else f"the casing of hoop {source + 1}"
                yield Problem(
                    f"tapes.drops[{tape}][{entry_of(design, tape, hoop)}]",
                    show_length(drop, design.units),
                    f"the casing of hoop {hoop + 1} is {show_length(design.tapes.casing, design.units)} high and"
                    f" would lie over {above}",
                    "Write a lower tapes.casing, or a longer drop",
                )
                return


def steel_fits_its_casing(design: Design) -> Iterator[Problem]:
    casing = design.tapes.casing
    too_wide = [number for number in range(len(design.hoops)) if design.steel_of(number).one_fills > casing]
    if too_wide:
        width = f"{show_mm(design.steel_of(too_wide[0]).one_fills)} mm"
        yield Problem(
            "tapes.casing",
            show_length(casing, design.units),
            f"the casing is lower than the strip of hoop {too_wide[0] + 1} is wide ({width})",
            "Make it 3 to 5 mm higher than the strip is wide",
        )


def strands_fit_their_casing(design: Design) -> Iterator[Problem]:
    """Strips side by side need the room of them all; a casing that holds only one makes them lie over one another."""
    for number in range(len(design.hoops)):
        steel = design.steel_of(number)
        together = steel.fills
        if steel.one_fills <= design.tapes.casing < together:
            yield Problem(
                "tapes.casing",
                show_length(design.tapes.casing, design.units),
                f"the casing is lower than the {steel.strands} strips of hoop {number + 1} are wide side by side"
                f" ({show_mm(together)} mm)",
                "Make it 3 to 5 mm higher than that, or write fewer strands",
            )
            return


def what_is_round_fits_its_casing(design: Design) -> Iterator[Problem]:
    """Two layers stitched along lines h apart go 2 h round: what is of diameter d needs pi d of that."""
    casing = design.tapes.casing
    for number in range(len(design.hoops)):
        steel = design.steel_of(number)
        round_it = np.pi * steel.one_fills / 2.0
        if steel.made_of.form != "flat" and steel.one_fills <= casing < round_it:
            yield Problem(
                "tapes.casing",
                show_length(casing, design.units),
                f"stitched flat, it goes round what is {show_mm(2.0 * casing / np.pi)} mm thick, and the"
                f" {steel.made_of.stuff} of hoop {number + 1} is {show_mm(steel.one_fills)} mm thick",
                f"Write {show_length(round_it + EASY, design.units)} or more, or something thinner",
            )
            return


def rests_inside_the_casing(design: Design) -> Iterator[Problem]:
    casing, tapes = design.tapes.casing, design.tapes.count
    places: list[tuple[str, object, int]] = [("tapes.rest", design.tapes.rest, 0)]
    for number, hoop in enumerate(design.hoops):
        if isinstance(hoop.rest, tuple):
            own = len(tapes_on(design, number))
            if len(hoop.rest) != own:
                yield Problem(
                    f"hoops[{number}].rest",
                    f"{len(hoop.rest)} places",
                    f"there are {tapes} tapes" if own == tapes else f"hoop {number + 1} passes {own} tapes",
                    "Write one place for each tape, or one for them all",
                )
            places += [(f"hoops[{number}].rest[{tape}]", rest, number) for tape, rest in enumerate(hoop.rest)]
        else:
            places.append((f"hoops[{number}].rest", hoop.rest, number))
    for where, rest, number in places:
        room = casing - (design.steel_of(number).one_fills if design.hoops else 0.0)
        if isinstance(rest, float) and rest > max(room, 0.0):
            yield Problem(
                where,
                show_length(rest, design.units),
                f"the {one_stuff(design.stuff)} would rest above its casing",
                f"Write {show_length(max(room, 0.0), design.units)} or less, or bottom, middle or top",
            )


RULES = (steel_fits_its_casing, rests_inside_the_casing)
REMARKS = (casings_have_room, strands_fit_their_casing, what_is_round_fits_its_casing)

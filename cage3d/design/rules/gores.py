"""Rules for a petticoat of gores: can its cloth be cut, and does it hold its hoops?"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise

from cage3d.design import stock, trade
from cage3d.design.models import Design, Gores, Join, LevelsBySide, Seams
from cage3d.design.points import station_fractions
from cage3d.errors import Problem
from cage3d.units import UnitError, show_length
from cage3d.wording import of_seams

# Where what is said of tapes stands in a design of cloth.
PLACES = {
    "tapes.count": "cloth.gores",
    "tapes.stations": "cloth.seams",
    "tapes.casing": "cloth.casing",
    "tapes.rest": "cloth.rest",
    "tapes.drops": "cloth.levels",
}
NARROWEST = 1e-4  # m, by which cloth may come out shorter than its hoop, for rounding


def said_of_cloth(problem: Problem) -> Problem:
    """What a rule says of tapes and drops, said of the seams and levels of a petticoat's cloth."""
    if problem.where.startswith("cloth"):
        return problem
    where = next(
        (own + problem.where[len(key) :] for key, own in PLACES.items() if problem.where.startswith(key)),
        problem.where,
    )
    texts = (
        of_seams(text).replace("tapes.casing", "cloth.casing") for text in (problem.why, problem.try_this)
    )
    return replace(problem, where=where, why=next(texts), try_this=next(texts))


def carried_by_one(design: Design) -> Iterator[Problem]:
    """Tapes or cloth, and keys that belong to one of them."""
    if design.cloth is None:
        for number, panel in enumerate(design.panels):
            if panel.seams is not None:
                yield Problem(
                    f"panels[{number}].seams",
                    "seams",
                    "a cage on tapes has no seams",
                    "Write tapes: [5, 6], the two that it is laced between",
                )
        return
    if not isinstance(design.tapes, Seams):
        yield Problem(
            "cloth",
            "cloth",
            "the hoops are carried by tapes or by cloth, and both are written",
            "Leave tapes out: levels and casings stand under cloth; or leave cloth out",
        )


def levels_in_order(design: Design) -> Iterator[Problem]:
    """As many as hoops, each below the one before."""
    cloth = design.cloth
    if cloth is None:
        return
    hoops = len(design.hoops)
    for where, row in written_rows(cloth):
        if len(row) != hoops:
            yield Problem(
                where,
                f"{len(row)} levels",
                f"there are {hoops} hoops",
                "Write one level for each hoop, down the cloth",
            )
        for place, (above, below) in enumerate(pairwise(row), start=1):
            if below <= above:
                yield Problem(
                    f"{where}[{place}]",
                    show_length(below, design.units),
                    f"casing {place + 1} does not lie below casing {place}",
                    "Levels count from the waistband's lower edge down the cloth: write them rising",
                )
    if not isinstance(cloth.levels, LevelsBySide) and len(cloth.levels) not in (1, cloth.gores):
        yield Problem(
            "cloth.levels",
            f"{len(cloth.levels)} lists of levels",
            f"there are {cloth.gores} seams",
            f"Write {cloth.gores} lists, one for each seam, a single list for them all, or front and back",
        )


def written_rows(cloth: Gores) -> Iterator[tuple[str, tuple[float, ...]]]:
    if isinstance(cloth.levels, LevelsBySide):
        for side in ("front", "sides", "back"):
            row = getattr(cloth.levels, side)
            if row is not None:
                yield f"cloth.levels.{side}", row
        return
    for number, row in enumerate(cloth.levels):
        yield f"cloth.levels[{number}]", row


def cloth_that_is_known(design: Design) -> Iterator[Problem]:
    cloth = design.cloth
    if cloth is not None and isinstance(cloth.fabric, str):
        try:
            stock.cloth_weight(cloth.fabric)
        except UnitError as fault:
            yield Problem("cloth.fabric", cloth.fabric, fault.why, fault.try_this)


def number_of_gores(design: Design) -> Iterator[Problem]:
    cloth = design.cloth
    if cloth is None:
        return
    if cloth.gores < trade.FEWEST_GORES:
        yield Problem(
            "cloth.gores",
            str(cloth.gores),
            "so few flat pieces do not go round her",
            f"Write {trade.FEWEST_GORES} or more; 4 to 8 are usual",
        )
    elif cloth.gores > trade.MOST_GORES:
        yield Problem(
            "cloth.gores",
            str(cloth.gores),
            f"there are more than {trade.MOST_GORES} gores",
            f"Write {trade.MOST_GORES} or fewer; 4 to 8 are usual",
        )


def cloth_as_wide_as_its_hoops(design: Design) -> Iterator[Problem]:
    cloth = design.cloth
    if cloth is None or cloth.girths is None:
        return
    if "ease" in cloth.model_fields_set:
        yield Problem(
            "cloth.ease", f"{cloth.ease:g}", "the cloth's girths are written too", "Leave ease or girths out"
        )
    if len(cloth.girths) != len(design.hoops):
        yield Problem(
            "cloth.girths",
            f"{len(cloth.girths)} girths",
            f"there are {len(design.hoops)} hoops",
            "Write the cloth's girth along each casing, from the top",
        )
        return
    for number, (girth, hoop) in enumerate(zip(cloth.girths, design.hoops, strict=True)):
        around = cloth.circle_of(hoop)
        if girth < around - NARROWEST:
            with_gap = "" if hoop.opening == "none" else " with its opening"
            yield Problem(
                f"cloth.girths[{number}]",
                show_length(girth, design.units),
                f"the cloth is narrower than hoop {number + 1}{with_gap} ({show_length(around, design.units)}):"
                " it does not go round it",
                "Make it as long as the hoop, or up to 3 % more",
            )


def gores_fit_the_cloth(design: Design) -> Iterator[Problem]:
    """The widest gore at each casing, with its seam allowances, against the width of the cloth."""
    cloth = design.cloth
    if cloth is None:
        return
    seams = station_fractions(design.tapes)
    if len(seams) != cloth.gores or (cloth.girths is not None and len(cloth.girths) != len(design.hoops)):
        return
    share = max(
        (after - before) % 1.0 or 1.0 for before, after in zip(seams, [*seams[1:], seams[0]], strict=True)
    )
    girths = cloth.girths or [(1.0 + cloth.ease) * cloth.circle_of(hoop) for hoop in design.hoops]
    if not girths:
        return
    widest = share * max(girths) + 2.0 * cloth.allowance.seam
    if widest > cloth.width:
        need = int(-(-max(girths) // (cloth.width - 2.0 * cloth.allowance.seam))) if cloth.width > 0.05 else 0
        more = f"Write gores: {need} or more" if need > cloth.gores else "Write seams at more even places"
        yield Problem(
            "cloth.width",
            show_length(cloth.width, design.units),
            f"the widest gore is {show_length(widest, design.units)} wide with its seams and cannot be cut from"
            " cloth of this width",
            f"{more}, or a wider cloth",
        )


def no_join_slides_in_cloth(design: Design) -> Iterator[Problem]:
    """The cloth round a hoop has one girth, and so has the hoop."""
    for number, hoop in enumerate(design.hoops):
        if design.cloth is not None and isinstance(hoop.join, Join) and hoop.join.slides:
            yield Problem(
                f"hoops[{number}].join",
                "join",
                f"hoop {number + 1} slides, and the cloth round it has one girth",
                "Leave least and most out; a join slides only where no cloth carries the hoop",
            )


def openings_in_one_gore(design: Design) -> Iterator[Problem]:
    """Steel crosses every seam: an opening lies within the gore at its middle."""
    cloth = design.cloth
    if cloth is None:
        return
    seams = station_fractions(design.tapes)
    for number, hoop in enumerate(design.hoops):
        if hoop.opening == "none":
            continue
        stuff = design.steel_of(number).made_of.stuff
        if "overhang" in hoop.model_fields_set:
            yield Problem(
                f"hoops[{number}].overhang",
                show_length(hoop.overhang, design.units),
                f"in cloth the {stuff} ends where its casing ends",
                "Leave overhang out, and write cloth.gap, from one end to the other",
            )
        centre = 0.0 if hoop.opening == "front" else 0.5
        nearest = min((abs((place - centre + 0.5) % 1.0 - 0.5) for place in seams), default=0.5)
        room = 2.0 * nearest * (hoop.length + cloth.gap)
        if cloth.gap + 0.02 > room:
            seam = min(range(len(seams)), key=lambda one: abs((seams[one] - centre + 0.5) % 1.0 - 0.5)) + 1
            yield Problem(
                f"hoops[{number}].opening",
                hoop.opening,
                f"seam {seam} would lie in the opening of hoop {number + 1}, which is"
                f" {show_length(cloth.gap, design.units)} wide, and carry no {stuff} there",
                "Write fewer gores or other seams (shares of the girth), so that one gore spans the opening, or a"
                " smaller cloth.gap",
            )


COUNTS = (number_of_gores, levels_in_order)
RULES = (carried_by_one, cloth_that_is_known, no_join_slides_in_cloth)
RULES_OF_SEAMS = (cloth_as_wide_as_its_hoops, gores_fit_the_cloth, openings_in_one_gore)

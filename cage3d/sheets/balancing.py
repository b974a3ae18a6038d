"""What the cage is held against when it hangs on its stand, and what to look for where it hangs otherwise."""

from __future__ import annotations

from math import asin, degrees, pi

from cage3d.report.record import HoopReport
from cage3d.report.tables import hangs_slack
from cage3d.sheets.baskets import made_alike
from cage3d.sheets.making import Making
from cage3d.steady import fixed
from cage3d.wording import numbered

HALF_INCH, CENTIMETRE = 0.0127, 0.010  # m
Heights = tuple[float, float, float, float]  # m above the floor, as `heights_of` has them


def if_it_hangs_off(making: Making) -> list[tuple[str, str]]:
    """(what is seen, what to look for and do), for every cage, with this one's own tilt."""
    stuff = making.design.stuff
    bend = {"steel": "kink", "cane": "crack"}.get(stuff, "dent")
    return [
        *baskets_differ(making),
        one_side_low(making),
        (
            "A hoop not level alone",
            making.says(
                f"Its {stuff} has slipped in its casings, or one casing was missed. Match marks to tapes again."
            ),
        ),
        (making.says("A tape slack"), slack_words(making)),
        ("Out of round", f"{out_of_round(making, bend)} A {bend}ed {stuff} is cut anew."),
        (
            "Turns on the waist",
            f"The band creeps: tighten the buckle, check the {making.design.line}s' places on the band.",
        ),
    ]


def one_side_low(making: Making) -> tuple[str, str]:
    """With what a half inch or centimetre across the lowest hoop does, were it rigid."""
    hem, lines = making.cuts[-1], f"{making.design.line}s"
    across = hem.finished / pi if hem.beside is None else making.report.hoops[-1].width_side_side_m
    step = HALF_INCH if making.writing.inches else CENTIMETRE
    tilt = degrees(asin(min(step / across, 1.0)))
    swapped = f"Two {'gores' if making.gores else 'tapes'} swapped or one turned over"
    return (
        "One side low" if hem.beside is None else "One side of a basket low",
        f"{swapped}; a seam allowance that is not like the others; a mark chained from the one before."
        f" {making.writing.full(step)} across hoop {hem.hoop} tips it {fixed(tilt, 1)}° and puts the hem out by as"
        f" much (common practice, {lines} as in a rigid hoop).",
    )


def out_of_round(making: Making, bend: str) -> str:
    """What may put a hoop out of shape; where hoops beside her are all open, no join does."""
    stuff, line = making.design.stuff, making.design.line
    if all(cut.beside is not None and not cut.closed for cut in making.cuts):
        bow = "which makes its bow stand out by more or less"
        return f"A tie too short or too long, {bow}, or a {bend} in the {stuff}."
    return f"A tie too short or too long, a {bend} in the {stuff}, or a join too near a {line}."


def baskets_differ(making: Making) -> list[tuple[str, str]]:
    """Of two baskets that are made alike."""
    if not made_alike(making):
        return []
    return [
        (
            "One basket higher, or farther from her",
            "Lay its tapes, hoops and ties on those of the other: every mark must meet its twin. The band may have"
            " turned: centre front to her front. She may stand unevenly, or be fuller at one side.",
        )
    ]


def slack_words(making: Making) -> str:
    """What a slack tape means, and which ones are foreseen to hang so."""
    pattern = "pattern" if making.gores else "strip"
    look = f"Its drop is longer than its neighbours leave it: compare its marks with the {pattern}."
    foreseen = []
    for hoop in making.report.hoops:
        parts = {tape.tape: part for tape in making.report.tapes if (part := tape.to(hoop.number))}
        loose = [tape for tape, part in parts.items() if hangs_slack(part.tension_N, part.slack_m)]
        if loose:
            foreseen.append(f"{numbered(making.design.line, loose)} above hoop {hoop.number}")
    return f"{look} Foreseen to hang slack, with the skirt on: {'; '.join(foreseen)}." if foreseen else look


def measured_heights(
    making: Making,
) -> list[tuple[int, Heights, Heights | None]]:
    """(hoop, its heights as `heights_of` has them with the skirt, the same bare), m above the floor."""
    rows = []
    for place, hoop in enumerate(making.report.hoops):
        bare = None if making.bare is None else making.bare.hoops[place]
        rows.append((hoop.number, heights_of(hoop), None if bare is None else heights_of(bare)))
    return rows


def heights_of(hoop: HoopReport) -> Heights:
    """Of one beside her its own: front, outside, back, next to her."""
    if hoop.beside == "right":
        return (hoop.height_front_m, hoop.height_right_m, hoop.height_back_m, hoop.height_left_m)
    return (hoop.height_front_m, hoop.height_left_m, hoop.height_back_m, hoop.height_right_m)

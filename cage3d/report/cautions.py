"""Cautions for who wears the cage and who stands by: report, page and sheets say them in the same words.

Those of the bench stand on the making sheets, those of printing go with the miniature.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from textwrap import fill

from cage3d.design import trade
from cage3d.design.models import Design
from cage3d.report.record import Report
from cage3d.units import show_length

TEXT_WIDTH = 100

PREDICTIONS = "Numbers here are predictions, not a safety certificate."
WHO_DECIDES = (
    "Follow local codes, stage fire safety and workplace rules, and the people qualified for them: "
    "fire officer, safety officer, physiotherapist."
)
FIRE = (
    "A wide skirt reaches flames, heaters and lamps before its wearer feels them. Keep off open flame, "
    "candles, pyrotechnics and radiant heaters; ask the fire officer and the venue."
)
BURNS = {"cane": "Hoops of cane burn.", "plastic": "Hoops of plastic melt and burn."}
SITTING = (
    "Take a backless stool or raise the back hoop; a pressed front hoop flies up. "
    "Do not sit on hoops: they kink."
)
BESIDE_SITTING = (
    "Take a stool or a chair without arms: arms, neighbours and narrow seats press baskets at the hips up or in. "
    "Lead them to her sides with both hands, and sit on none of their hoops: they kink."
)
KEEP_OFF = (
    "Keep one hoop's width from set edges, other performers, machinery, vehicles, escalators and swing doors."
)
SHARP_ENDS = "Look over tips and joins before each wear; a worn cap takes the cage out of use."
HEALTH = "The weight hangs on the waist and the corset; stop at numbness or pain."


def wearing_cautions(
    design: Design, report: Report, length: Callable[[float], str] | None = None
) -> tuple[tuple[str, str], ...]:
    """(what it is about, the caution) with this cage's own figures.

    length: how a length in m is written where they stand; in the design's units if left out.
    """
    length = length or partial(show_length, units=report.units)
    return (
        ("Fire", " ".join([FIRE, *(BURNS[stuff] for stuff in BURNS if stuff in report.stuff)])),
        ("Trips and stairs", trips(report, length)),
        ("Crowding and doors", crowding(design, report, length)),
        ("Sitting and rising", BESIDE_SITTING if stands_beside(report) else SITTING),
        ("Dressing", dressing(report)),
        ("Sharp ends", SHARP_ENDS),
        ("Health", HEALTH),
        ("Predictions", f"{PREDICTIONS} {WHO_DECIDES}"),
    )


def cautions_text(design: Design, report: Report) -> str:
    """The cautions as plain text, to stand under a report."""
    rows = (fill(f"{title}: {text}", TEXT_WIDTH) for title, text in wearing_cautions(design, report))
    return "\n".join(["\nBefore it is worn", *rows]) + "\n"


def trips(report: Report, length: Callable[[float], str]) -> str:
    low = report.hem.lowest_m
    so_low = ", low enough to trip over" if low < trade.TRIP_HEIGHT else ""
    if stands_beside(report):
        return (
            f"The hem hangs {length(low)} above the floor{so_low}. Beside her she does not see the steps: walk stairs"
            " with a hand on the rail, never go down fast; let no tie hang loose."
        )
    return (
        f"The hem hoop hangs {length(low)} above the floor{so_low}. Walk stairs with a hand on "
        "the rail, lift the front hoop, never go down fast; let no tie hang loose."
    )


def stands_beside(report: Report) -> bool:
    """Whether the hem is that of hoops beside her, with none before or behind her."""
    return report.hoops[-1].beside is not None


def crowding(design: Design, report: Report, length: Callable[[float], str]) -> str:
    if stands_beside(report) and len(report.hem_hoops) == 1:
        return (
            f"The basket is {length(report.width_side_side_m)} wide, all on one side of her and beside her own width,"
            f" and the skirt adds to it: measure her in it against the door. {KEEP_OFF}"
        )
    width, across = max(report.width_side_side_m, report.width_front_back_m), "at its widest"
    sideways = ""
    if stands_beside(report):
        width, across = report.width_side_side_m, "from side to side"
        sideways = f" Turned sideways it is {length(report.width_front_back_m)} deep: she goes through one side first."
    door = design.stage.door or trade.ACCESSIBLE_DOOR
    named = "the door" if design.stage.door else "an accessible door"
    compared = "wider than" if width > door else "narrower than"
    return (
        f"The cage is {length(width)} {across}, {compared} "
        f"{named} ({length(door)} clear), and the skirt adds to it.{sideways} {KEEP_OFF}"
    )


def dressing(report: Report) -> str:
    large = max(hoop.length_m for hoop in report.hoops) > trade.DRESSER_LENGTH
    return "Step in, waistband over the corset, buckle last; a buckle that opens at once, not knots." + (
        " Hoops of this size want a dresser." if large else ""
    )

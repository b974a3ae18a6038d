"""What goes with the cage: tags to cut out, final tie lengths, folding, care, spares, a log of repairs."""

from __future__ import annotations

from dataclasses import dataclass
from math import pi

from cage3d.design import trade
from cage3d.design.baskets import has_baskets, lowest_of
from cage3d.sheets.baskets import made_alike
from cage3d.sheets.cautions import stuffs
from cage3d.sheets.making import Making
from cage3d.sheets.steel import SteelCut
from cage3d.sheets.tapes import side_of
from cage3d.sheets.writing import plural
from cage3d.wording import capital, listed

RINGS = 3  # into which a closed hoop is twisted to travel


@dataclass(frozen=True)
class Tag:
    """Sewn or tied to one tape or hoop."""

    title: str
    text: str


def tags(making: Making) -> list[Tag]:
    """One for every hoop and every tape."""
    writing = making.writing
    hoops = [Tag(f"Hoop {cut.hoop}", f"{writing.full(cut.finished)}, {closing(cut)}") for cut in making.cuts]
    letters = {tape: one.letter for one in making.tapes for tape in one.tapes}
    tapes = [
        Tag(f"{capital(making.design.line)} {tape} {side_of(float(at))}", f"set {letters[tape]}")
        for tape, at in enumerate(making.stations, start=1)
    ]
    return [*hoops, *tapes]


def closing(cut: SteelCut) -> str:
    """How a hoop closes."""
    if cut.beside is not None:
        return f"her {cut.beside}, {'closed' if cut.closed else 'open'}"
    return f"joined {cut.join_at}" if cut.closed else f"open {cut.opening}"


def folding(making: Making) -> str:
    """How it travels: flat, and twisted only where the steel bears it."""
    flat = (
        "Lay it down on the floor, waistband in the middle: the hoops come to lie inside one another, and it is"
        " carried and stored flat, hung by three hoops or lying, nothing on it. Leave ties and laces tied."
    )
    if has_baskets(making.design):
        flat = (
            "Lay it down on the floor, waistband in the middle: the hoops of a basket come to lie on one another beside"
            " it, and it is carried and stored flat, hung by its band or lying, nothing on it. Leave ties and laces"
            " tied."
        )
    closed = [cut for cut in making.cuts if cut.closed]
    if not closed:
        return flat
    worst = max(closed, key=lambda cut: coiled(cut))
    share = coiled(worst)
    of = worst.section.steel.made_of
    words = f"Twisted into {RINGS} rings, hoop {worst.hoop} would be bent to {share:.0%} of what its {of.stuff} bears"
    words = words.replace("%", " %")
    if share > trade.STRAIN:
        return f"{flat} Never twist the hoops into smaller rings: {words[0].lower()}{words[1:]}, and {of.overbent}."
    return f"{flat} {words}: it may be twisted to travel, but springs open; hold it with three tapes."


def coiled(cut: SteelCut) -> float:
    """Share of the strain at yield in a hoop twisted into RINGS equal rings."""
    steel = cut.section.steel
    radius = cut.finished / (2.0 * pi * RINGS)
    return float(steel.bent_through / 2.0 / radius / steel.bears)


STAYS_DAMP = {
    "steel": "steel that stays damp rusts first at joins and tips",
    "cane": "cane that stays damp moulds and loses its round",
    "plastic": "plastic that is hung over a heater or left in a hot car goes out of shape",
}
SPOILT = {
    "steel": "a kinked steel is cut anew and not bent back",
    "cane": "a cracked cane is cut anew and not bound",
    "plastic": "creased plastic is cut anew and not bent back",
}
KEPT_ROUND = (
    " Plastic creeps: hang the cage by its band between shows, so that it is not kept in any other curve."
)


def care(making: Making) -> str:
    """How it is cleaned and looked over."""
    made_of = stuffs(cut.section for cut in making.cuts)
    stuff = listed(made_of)
    over = "a steel" if made_of == ["steel"] else stuff
    creeps = KEPT_ROUND if any(cut.section.steel.made_of.creeps for cut in making.cuts) else ""
    damp = listed([STAYS_DAMP[one] for one in made_of])
    if making.gores:
        dried = (
            f"To wash it open the casings at joins and tips, draw the {stuff} out, wash and press the cloth, and thread"
            f" again by the marks. Else sponge it and dry it at once, hanging, away from heat; {damp}."
        )
    else:
        dried = f"Sponge the tapes and dry them at once, hanging, away from heat; {damp}. Iron no tape over {over}."
    return (
        f"Never wash with the {stuff} in it. {dried} Before each wear look at the buckle"
        f" and at the stitches of the lowest casings; {listed([SPOILT[one] for one in made_of])}.{creeps} (Common"
        " practice.)"
    )


def hem_cuts(making: Making) -> list[SteelCut]:
    """Of the hoop that makes the hem, or of the lowest of each basket."""
    return [making.cuts[hoop] for hoop in lowest_of([cut.beside for cut in making.cuts])]


def spare_of(cut: SteelCut) -> str:
    """'a spare steel', '2 spare strips' where a hoop is of so many."""
    count = cut.section.pieces
    return f"a spare {cut.section.steel.made_of.stuff}" if count == 1 else f"{count} spare strips"


def spares(making: Making) -> str:
    """What is sent along."""
    writing = making.writing
    longest = max(making.tapes, key=lambda one: one.cut)
    things = [
        f"{spare_of(hem)} for {hem.named}, cut {writing.full(hem.cut)} and capped" for hem in hem_cuts(making)
    ]
    if made_alike(making):  # one serves at either side
        things = [things[0].replace(" for ", " for either basket as ")]
    if making.gores:
        things.append("a casing strip for the lowest hoop, and a piece of the cloth")
    else:
        things.append(f"ribbon for one tape, {writing.full(longest.ribbon)}")
    tips = sum(cut.tips for cut in making.cuts)
    laps = sum(1 for cut in making.cuts if cut.overlap)
    butted = [cut.section.socket for cut in making.cuts if cut.join is not None and not cut.overlap]
    fittings = {"tip": tips, "connector": laps, "tube": butted.count("tube"), "plug": butted.count("plug")}
    things += [plural(2, word) for word, count in fittings.items() if count]
    if making.design.ties:
        length = max(tie.length for tie in making.design.ties) + trade.TIE_EXTRA
        things.append(f"tape for one tie, {writing.full(length)}")
    return f"Send along {listed(things)}; thread and a needle. (Common practice.)"

"""The order of assembly of one cage, from the waistband to the last stitch, in words."""

from __future__ import annotations

from cage3d.design.baskets import has_baskets
from cage3d.design.hoop_materials import one_hoop, one_stuff
from cage3d.sheets.assembly.hanging import fixing_steps, hanging_step
from cage3d.sheets.assembly.step import Step
from cage3d.sheets.assembly.threading import threading_steps
from cage3d.sheets.assembly.ties import panel_step, steels_of, tie_steps
from cage3d.sheets.baskets import basket, made_alike, where_they_stand
from cage3d.sheets.making import Making
from cage3d.sheets.tapes import side_of
from cage3d.wording import capital, listed, numbered

WHERE = {"CF": "at centre front", "L": "on the wearer's left", "CB": "at centre back", "R": "on her right"}
BESIDE_FRONT = 1 / 8  # of the girth: a first tape that stands farther off is not beside centre front


def assembly_steps(making: Making) -> list[Step]:
    """From the waistband to the last stitch, for this cage."""
    design, writing = making.design, making.writing
    steps = [waistband_step(making), marks_step(making), *baskets_steps(making), *tape_steps(making)]
    steps += threading_steps(making.cuts, bool(making.gores))
    steps += tie_steps(design.ties, writing, steels_of(design))
    steps += [panel_step(number, panel, making) for number, panel in enumerate(design.panels, start=1)]
    return [*steps, hanging_step(making), *fixing_steps(making)]


def tape_steps(making: Making) -> list[Step]:
    """Tapes that begin at a hoop, and casings in which hoops meet."""
    stuff, hoop = one_stuff(making.design.stuff), one_hoop(making.design.stuff)
    steps = [
        Step(
            f"{capital(numbered('tape', one.tapes))} from {one.begins}",
            f"Not on the waistband: the first casing takes the {stuff} of {one.begins}, at its mark for the tape; its"
            " upper end is folded down over that casing and stitched.",
        )
        for one in making.tapes
        if not one.from_band
    ]
    meeting = {
        casing.hoops: sorted(tape for own in making.tapes for tape in own.tapes if casing in own.casings)
        for one in making.tapes
        for casing in one.casings
        if casing.meeting
    }
    return steps + [
        Step(
            f"Where {numbered('hoop', hoops)} meet",
            f"On {numbered('tape', tapes)} they lie in one casing, one {hoop} over the other: thread all of them"
            " through it, and leave them free to turn there.",
        )
        for hoops, tapes in meeting.items()
    ]


def waistband_step(making: Making) -> Step:
    band, waist = making.design.waistband, making.design.wearer.waist
    writing, tapes = making.writing, making.design.tapes
    cut = (
        f"Finished {writing.full(waist)} round, {writing.full(band.depth)} deep; cut"
        f" {writing.full(making.band.cut)}, turned and marked as section 3 has it"
    )
    inside = writing.full(tapes.allowance.top)
    if making.gores:
        return Step(
            "Waistband",
            f"{cut}. The gores are sewn together and cased as section 3 has it; sew the cloth in with its waistband"
            f" line on the lower edge, every seam at its mark: {inside} of it inside the band.",
        )
    which = "tape" if all(one.from_band for one in making.tapes) else "tape that begins here"
    return Step(
        "Waistband",
        f"{cut}, the {tapes.count} tapes counted from centre front by the wearer's left. Sew every {which} in with its"
        f" zero line on the lower edge: {inside} of each inside the band.",
    )


def marks_step(making: Making) -> Step:
    one = one_hoop(making.design.stuff)
    if making.gores:
        return Step(
            "Before threading",
            f"Every {one} is marked, deburred, rounded and capped; every seam bears its number at the band. Lay the"
            " petticoat out with its casings up and the slit towards you.",
        )
    return Step(
        "Before threading",
        f"Every {one} is marked, deburred, rounded and capped; every tape bears its number and side. Lay the"
        f" cage out with {laid_out(making)}.",
    )


def laid_out(making: Making) -> str:
    """Which tapes lie on which side of her."""
    if has_baskets(making.design):
        sides = [side_of(float(at)) for at in making.stations]
        parts = [
            f"{numbered('tape', own)} {where}"
            for side, where in WHERE.items()
            if (own := [tape for tape, its in enumerate(sides, start=1) if its == side])
        ]
        return listed(parts)
    last = making.design.tapes.count
    if side_of(float(making.stations[0])) == "CF":
        return f"tape 1 at centre front, tape 2 next to it on the wearer's left and tape {last} on her right"
    place = "beside" if making.stations[0] <= BESIDE_FRONT else "the first from"
    return f"tape 1 {place} centre front on the wearer's left and tape {last} on her right"


def baskets_steps(making: Making) -> list[Step]:
    """Which hoop belongs to which basket; none where all go round her."""
    stand = where_they_stand(making)
    if not stand:
        return []
    one = one_hoop(making.design.stuff)
    own = "Front and back of such a hoop are its own, its inner side is next to her."
    if not (basket(making, "left") and basket(making, "right")):
        return [Step("The basket", f"{stand}. {own}")]
    alike = (
        " They are made alike, one the mirror image of the other: whatever is done to one is done to the other, with"
        f" front and back as they are and left and right exchanged. Write L or R, the wearer's own, on each {one} and"
        " tape, so that none is swapped."
        if made_alike(making)
        else " They are not alike: keep their hoops and tapes apart, by their numbers."
    )
    return [Step("The two baskets", f"{stand}.{alike} {own}")]

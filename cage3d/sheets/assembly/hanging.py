"""Hanging and balancing the cage, and what is made fast once it hangs as it should, in words."""

from __future__ import annotations

from collections.abc import Sequence

from cage3d.design.hoop_materials import one_hoop
from cage3d.report.wishes import SAID
from cage3d.sheets.assembly.step import Step
from cage3d.sheets.baskets import made_alike
from cage3d.sheets.making import Making
from cage3d.sheets.steel import SteelCut
from cage3d.sheets.writing import Writing, plural, ranges
from cage3d.wording import listed


def hanging_step(making: Making) -> Step:
    writing, hem, wanted = making.writing, making.report.hem, making.design.hem.clearance
    own = [
        f"{writing.eighths(one.least_m)} to {writing.height(one.most_m)} {wished_at(one.what)}"
        for one in making.report.wished
    ]
    sure = making.report.certainty
    text = (
        "Hang the cage on a stand at the wearer's own waist heights and compare it with the table of heights"
        f" below, {places(making)}.{against_each_other(making)} With the skirt on, {lowest(making)} should hang"
        f" {writing.eighths(hem.lowest_m)} to {writing.height(hem.highest_m)} above the floor"
    )
    if sure is not None:
        text += f" (±{writing.more_or_less(max(sure.hem_lowest_m, sure.hem_highest_m))})"
    if wanted is not None:
        text += f"; wanted are {writing.eighths(wanted[0])} to {writing.height(wanted[1])}"
    if own:
        text += f"; of its own {'are wanted' if wanted is None else 'beside that'} {listed(own)}"
    text += ". Force nothing: find the mark that is off."
    if making.design.ties:
        text += " Then shorten or let out the ties, and write down what they end at."
    return Step("Hang and balance", text)


def places(making: Making) -> str:
    """Where the heights of the table are measured."""
    beside = [cut.beside is not None for cut in making.cuts]
    own = "its own front and back, its outside and next to her"
    if all(beside):
        return f"each hoop at {own}"
    return "front, sides and back" + (f", hoops beside her each at {own}" if any(beside) else "")


def against_each_other(making: Making) -> str:
    """How two baskets that are made alike prove each other."""
    if not made_alike(making):
        return ""
    return " Both baskets hang alike: what one measures and the other does not is a mark that is off in one of them."


def lowest(making: Making) -> str:
    """The hoop that makes the hem, or the lowest of each basket."""
    if making.cuts[-1].beside is None:
        return "the lowest hoop"
    hem = [hoop.number for hoop in making.report.hem_hoops]
    return f"the lowest hoop{'s' * (len(hem) > 1)}, {listed([str(hoop) for hoop in hem])},"


def wished_at(what: str) -> str:
    """'at the front', 'from side to side'."""
    said = SAID[what]
    return f"from {said}" if " to " in said else f"at {said}" if said.startswith("her") else f"at the {said}"


def sliding_step(cut: SteelCut, writing: Writing) -> Step:
    """A hoop that may be let out and taken in: its ends run in keepers, and no casing is sewn to it."""
    assert cut.slide is not None
    shortest, longest = (writing.full(length) for length in cut.slide)
    return Step(
        f"Hoop {cut.hoop} slides",
        "Crimp a keeper on each end, loose enough for the other layer to slide in it, and cap both ends. Leave its"
        f" casings free of it. It is {shortest} with each end at the other’s mark “shortest”, {longest} at"
        " “longest”; the end that has no mark of its own is at “other end”. Spread the tapes evenly each time.",
    )


def fixing_steps(making: Making) -> list[Step]:
    """What is made fast once the cage hangs as it should."""
    steps = [sliding_step(cut, making.writing) for cut in making.cuts if cut.slide is not None]
    joined = [cut for cut in making.cuts if cut.join is not None and cut.slide is None]
    if joined:
        steps.append(joins_step(joined))
    if making.gores:
        steps.append(casings_in_cloth_step(making))
    elif any(cut.slide is None for cut in making.cuts):
        steps.append(casings_step(making))
    return steps


def joins_step(joined: Sequence[SteelCut]) -> Step:
    """Of the hoops whose two ends meet for good; at least one."""
    words = "Clamp or crimp" if any(cut.overlap for cut in joined) else "Crimp"
    if all(cut.section.socket == "plug" and not cut.overlap for cut in joined):
        words = "Glue or pin"
    hoops = tuple(cut.hoop for cut in joined)
    if len(joined) == 1:
        return Step("Join", f"{words} the join of hoop {hoops[0]}; cover it with tape.")
    joins = f"the {plural(len(joined), 'join')} of hoops {ranges(hoops)}"
    return Step("Joins", f"{words} {joins}; cover with tape.")


def casings_in_cloth_step(making: Making) -> Step:
    each = one_hoop(making.design.stuff)
    held = f"Stitch each {each} to its casing at its ends and at every seam, two stitches a side"
    return Step("Casings", f"{held}, so that no cloth can slide. Close where it was threaded in.")


def casings_step(making: Making) -> Step:
    """Of tapes; those of a hoop that slides stay free of it, and so do those in which hoops meet and turn."""
    fixed = {cut.hoop for cut in making.cuts if cut.slide is None}
    casings = sum(
        len(one.tapes) * sum(casing.hoop in fixed and not casing.meeting for casing in one.casings)
        for one in making.tapes
    )
    turning = any(casing.meeting for one in making.tapes for casing in one.casings)
    coated = making.design.stuff == "steel"
    held = "through the coating or" if coated else "never through it but"
    free = " Those in which hoops meet stay free of them." if turning else ""
    tips = " Sew the casings over tips shut." if any(cut.tips for cut in making.cuts) else ""
    return Step(
        "Casings",
        f"Stitch each of the {casings} casings to its {making.design.stuff}, {held} on both sides of it,"
        f" two stitches a side, so that no tape can slide.{free}{tips}",
    )

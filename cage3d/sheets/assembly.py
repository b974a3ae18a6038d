"""The order of assembly and balancing of one cage, in words."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby

from cage3d.design import trade
from cage3d.design.models import Design, Panel, Tie
from cage3d.report.wishes import SAID
from cage3d.shape.section import Section
from cage3d.sheets.making import Making
from cage3d.sheets.steel import SteelCut
from cage3d.sheets.writing import Writing, plural, ranges
from cage3d.wording import capital, listed, numbered

PASSING = {
    None: "",
    "behind": ", behind her",
    "before": ", before her",
    "left": ", by her left",
    "right": ", by her right",
}


BESIDE_FRONT = 1 / 8  # of the girth: a first tape that stands farther off is not beside centre front


@dataclass(frozen=True)
class Step:
    """One thing to do."""

    title: str
    text: str


def assembly_steps(making: Making) -> list[Step]:
    """From the waistband to the last stitch, for this cage."""
    design, writing = making.design, making.writing
    steps = [waistband_step(making), marks_step(making), *tape_steps(making)]
    steps += threading_steps(making.cuts, bool(making.gores))
    steps += tie_steps(design.ties, writing, steels_of(design))
    steps += [panel_step(number, panel, making) for number, panel in enumerate(design.panels, start=1)]
    return [*steps, hanging_step(making), *fixing_steps(making)]


def tape_steps(making: Making) -> list[Step]:
    """Tapes that begin at a hoop, and casings in which hoops meet."""
    steps = [
        Step(
            f"{capital(numbered('tape', one.tapes))} from {one.begins}",
            f"Not on the waistband: the first casing takes the steel of {one.begins}, at its mark for the tape; its"
            " upper end is folded down over that casing and stitched.",
        )
        for one in making.tapes
        if not one.from_band
    ]
    meeting = {
        casing.hoops: sorted(tape for one in making.tapes for tape in one.tapes if casing in one.casings)
        for each in making.tapes
        for casing in each.casings
        if casing.meeting
    }
    return steps + [
        Step(
            f"Where {numbered('hoop', hoops)} meet",
            f"On {numbered('tape', tapes)} they lie in one casing, one steel over the other: thread all of them"
            " through it, and leave them free to turn there.",
        )
        for hoops, tapes in meeting.items()
    ]


def waistband_step(making: Making) -> Step:
    band, waist = making.design.waistband, making.design.wearer.waist
    writing = making.writing
    if making.gores:
        return Step(
            "Waistband",
            f"Finished {writing.full(waist)} round, {writing.full(band.depth)} deep; cut"
            f" {writing.full(making.band.cut)}, turned and marked as section 3 has it. The gores are sewn together and"
            " cased as section 3 has it; sew the cloth in with its waistband line on the lower edge, every seam at its"
            f" mark: {writing.full(making.design.tapes.allowance.top)} of it inside the band.",
        )
    which = "tape" if all(one.from_band for one in making.tapes) else "tape that begins here"
    return Step(
        "Waistband",
        f"Finished {writing.full(waist)} round, {writing.full(band.depth)} deep; cut"
        f" {writing.full(making.band.cut)}, turned and marked as section 3 has it, the"
        f" {making.design.tapes.count} tapes counted from centre front by"
        f" the wearer's left. Sew every {which} in with its zero line on the lower edge:"
        f" {writing.full(making.design.tapes.allowance.top)} of each inside the band.",
    )


def marks_step(making: Making) -> Step:
    one = "steel" if making.design.stuff == "steel" else "hoop"
    if making.gores:
        return Step(
            "Before threading",
            f"Every {one} is marked, deburred, rounded and capped; every seam bears its number at the band. Lay the"
            " petticoat out with its casings up and the slit towards you.",
        )
    place = "beside" if making.stations[0] <= BESIDE_FRONT else "the first from"
    return Step(
        "Before threading",
        f"Every {one} is marked, deburred, rounded and capped; every tape bears its number and side. Lay the"
        f" cage out with tape 1 {place} centre front on the wearer's left and tape {making.design.tapes.count}"
        " on her right.",
    )


def threading_steps(cuts: tuple[SteelCut, ...], in_cloth: bool = False) -> list[Step]:
    """How the hoops go in, from the top down, so that the cage hangs straight; like ones in one step."""
    steps = []
    for text, run in groupby(cuts, key=threading_in_cloth if in_cloth else threading):
        hoops = tuple(cut.hoop for cut in run)
        if len(hoops) == 1:
            steps.append(Step(f"Thread hoop {hoops[0]}", text))
        else:
            words = f"One after the other, from hoop {hoops[0]} down to hoop {hoops[-1]}. {text}"
            steps.append(Step(f"Thread hoops {ranges(hoops)}", words))
    return steps


def threading_in_cloth(cut: SteelCut) -> str:
    """The same in a casing that goes all the way."""
    loose = f"{own_curve(cut.section)}Match every mark to its seam. Leave it loose."
    if not cut.closed:
        other = "end" if cut.opening == "front" else "end at the back"
        return f"Open: thread from one {other} of its casing to the other; its tips lie at the casing's ends. {loose}"
    return f"Closed: thread in at centre {cut.join_at}; both ends meet there{join_words(cut)}. {loose}"


def threading(cut: SteelCut) -> str:
    """From where a hoop is threaded and where its ends lie."""
    loose = f"{own_curve(cut.section)}Match every mark to its tape. Leave it loose."
    if cut.between is not None:
        first, last = cut.between
        side = "behind" if cut.opening == "front" else "before"
        ends = "sew both ends fast there" if cut.sewn else "both ends past their last casings"
        return f"Stands {side} her: thread from tape {first} to tape {last}, {ends}. {loose}"
    if cut.opening == "front":
        return f"Open: thread from the back, end at centre front, both ends past their last casings. {loose}"
    if cut.opening == "back":
        return f"Open: thread from the front, end at centre back, both ends past their last casings. {loose}"
    if cut.join_at == "back":
        return f"Closed: thread from the front; both ends meet at centre back{join_words(cut)}. {loose}"
    return f"Closed: thread from the back; both ends meet at centre front{join_words(cut)}. {loose}"


def own_curve(section: Section) -> str:
    """Which way round steel that lies free in a curve goes in."""
    if section.set_curvature == 0.0:
        return ""
    hollow = "towards" if section.set_curvature > 0.0 else "away from"
    return f"{capital(section.steel.made_of.stuff)} with its own curve: its hollow side {hollow} her. "


def join_words(cut: SteelCut) -> str:
    if cut.join is None:
        return ""
    if cut.slide is not None:
        return ", lapped to the marks “other end” in its two keepers"
    return (
        ", lapped to the marks “other end”, not yet clamped"
        if cut.overlap
        else ", over the plug, not yet pinned"
        if cut.section.socket == "plug"
        else ", inside the tube, not yet crimped"
    )


def steels_of(design: Design) -> str:
    """What ties run between, in words."""
    return "steels" if design.stuff == "steel" else "hoops"


def tie_steps(ties: Sequence[Tie], writing: Writing, steels: str = "steels") -> list[Step]:
    """What holds for every tie once, before the first; then one step a tie."""
    if not ties:
        return []
    each = "it" if len(ties) == 1 else "each"
    general = (
        f"Tie {each} with a bow, not a knot, until the cage is balanced. Cut {each} {writing.full(trade.TIE_EXTRA)}"
        f" longer than it is between the {steels}.{clear_of_her(ties, each)}"
    )
    first = Step(f"The {plural(len(ties), 'tie')}" if len(ties) > 1 else "The tie", general)
    return [first, *(tie_step(number, tie, writing, steels) for number, tie in enumerate(ties, start=1))]


def clear_of_her(ties: Sequence[Tie], each: str) -> str:
    """Where ties may not run; one that is written to pass her may bear on her."""
    passing = sum(tie.runs is not None for tie in ties)
    if passing == len(ties):
        return ""
    if passing:
        return " Those that pass her may bear on her; lead the others clear of where the legs move."
    return f" Lead {each} clear of where the legs move."


def tie_step(number: int, tie: Tie, writing: Writing, steels: str = "steels") -> Step:
    name = f"Tie {number}" + (f", {tie.name}" if tie.name and tie.name.lower() != f"tie {number}" else "")
    return Step(
        name,
        f"From {tie.from_} to {tie.to}{PASSING[tie.runs]}: {writing.full(tie.length)} between the {steels}, cut"
        f" {writing.full(tie.length + trade.TIE_EXTRA)}.",
    )


def panel_step(number: int, panel: Panel, making: Making) -> Step:
    first, last = panel.tapes
    text = f"{between(making)} {first} and {last} at {hoops_named(panel)}. "
    if panel.widths is not None:
        pairs = zip(panel.hoops, panel.widths, strict=True)
        text += (
            "Lace to "
            + ", ".join(f"{making.writing.full(wide)} at hoop {hoop}" for hoop, wide in pairs)
            + "."
        )
    else:
        tight = f"{100.0 * (panel.tightness or 0.0):.0f} %"
        text += f"Lace until the {making.design.stuff} between them is drawn in by {tight}."
    return Step(f"Laced panel {number}", text)


def between(making: Making) -> str:
    """How a panel is held: between two tapes, or by strips on two seams of cloth."""
    if not making.gores:
        return "Between tapes"
    return "Sew a strip with its eyelets inside along each of two seams, and lace across from one to the other: seams"


def hoops_named(panel: Panel) -> str:
    many = len(panel.hoops) > 1
    return f"hoop{'s' if many else ''} {ranges(tuple(sorted(panel.hoops)))}"


def hanging_step(making: Making) -> Step:
    writing, hem, wanted = making.writing, making.report.hem, making.design.hem.clearance
    own = [
        f"{writing.eighths(one.least_m)} to {writing.height(one.most_m)} {wished_at(one.what)}"
        for one in making.report.wished
    ]
    sure = making.report.certainty
    text = (
        "Hang the cage on a stand at the wearer's own waist heights and compare it with the table of heights"
        " below, front, sides and back. With the skirt on, the lowest hoop should hang"
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
    joined = [cut for cut in making.cuts if cut.join is not None and cut.slide is None]
    steps = [sliding_step(cut, making.writing) for cut in making.cuts if cut.slide is not None]
    if joined:
        hoops = tuple(cut.hoop for cut in joined)
        words = "Clamp or crimp" if any(cut.overlap for cut in joined) else "Crimp"
        if all(cut.section.socket == "plug" and not cut.overlap for cut in joined):
            words = "Glue or pin"
        steps.append(
            Step(
                "Joins",
                f"{words} the {plural(len(joined), 'join')} of hoops {ranges(hoops)}; cover with tape.",
            )
            if len(joined) > 1
            else Step("Join", f"{words} the join of hoop {hoops[0]}; cover it with tape.")
        )
    if making.gores:
        each = "steel" if making.design.stuff == "steel" else "hoop"
        held = f"Stitch each {each} to its casing at its ends and at every seam, two stitches a side"
        return [
            *steps,
            Step("Casings", f"{held}, so that no cloth can slide. Close where it was threaded in."),
        ]
    fixed_hoops = {cut.hoop for cut in making.cuts if cut.slide is None}
    if not fixed_hoops:
        return steps
    casings = sum(
        len(one.tapes) * sum(casing.hoop in fixed_hoops for casing in one.casings) for one in making.tapes
    )
    coated = making.design.stuff == "steel"
    held = "through the coating or" if coated else "never through it but"
    tips = " Sew the casings over tips shut." if any(cut.tips for cut in making.cuts) else ""
    steps.append(
        Step(
            "Casings",
            f"Stitch each of the {casings} casings to its {making.design.stuff}, {held} on both sides of it,"
            f" two stitches a side, so that no tape can slide.{tips}",
        )
    )
    return steps

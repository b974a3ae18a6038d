"""Assembly and balancing, in order."""

from __future__ import annotations

from reportlab.lib.units import mm
from reportlab.platypus import CondPageBreak, Flowable, PageBreak

from cage3d.design.baskets import has_baskets
from cage3d.report.mark_table import spread_lines
from cage3d.report.tables import fine, fine_unit
from cage3d.sheets import cautions
from cage3d.sheets.assembly.steps import assembly_steps
from cage3d.sheets.balancing import if_it_hangs_off, measured_heights
from cage3d.sheets.making import Making
from cage3d.sheets.pages.cutting import hoop_number
from cage3d.sheets.paper.drawing import (
    CELL,
    CELL_RIGHT,
    HEAD,
    HEAD_RIGHT,
    NUMBER,
    SMALL,
    SUBTITLE,
    TITLE,
    Box,
    bold_then,
    caution,
    gap,
    say,
    table,
)
from cage3d.sheets.paper.fonts import Letters
from cage3d.sheets.paper.frame import Chapter
from cage3d.sheets.writing import typeset

EFFECTS_NOTE = "The marks that matter most, the strongest first, each tried alone; what is told is the hem."
EFFECTS_OF_BASKETS = (
    "The marks that matter most, the strongest first, each tried alone; what is told is the lowest hoop of its basket,"
    " by that hoop's own sides."
)
ROUND_HER = ("Front", "Her left", "Back", "Her right")
BESIDE_HER = ("Its front", "Its outside", "Its back", "Next to her")
HEADING = "6 Assembly and balancing"


def assembly_pages(making: Making, letters: Letters, width: float) -> list[Flowable]:
    """Steps with a box to tick, heights to check, what to do if it hangs off."""
    story: list[Flowable] = [PageBreak(), Chapter(HEADING), say(letters, HEADING, TITLE)]
    for title, text in cautions.kinks(cut.section for cut in making.cuts):
        story += [caution(letters, title, text, width), gap(3)]
    story += [steps_table(making, letters, width), CondPageBreak(70 * mm)]
    story += [say(letters, f"Heights to check above the floor, {making.writing.unit}", SUBTITLE)]
    story += [
        say(letters, heights_note(making) + making.heights_within, SMALL),
        gap(1),
    ]
    beside = has_baskets(making.design)
    if any(cut.beside is None for cut in making.cuts):
        story += [heights_table(making, letters, width), *([gap(3)] if beside else [])]
    if beside:
        story += [heights_table(making, letters, width, beside=True)]
    story += [CondPageBreak(60 * mm), say(letters, "If it hangs off", SUBTITLE)]
    story += [troubles_table(if_it_hangs_off(making), letters, width)]
    if making.effects:
        off = typeset(f"{fine(making.report, making.report.marks[0].off_by_m)} {fine_unit(making.report)}")
        story += [CondPageBreak(40 * mm), say(letters, f"What a mark that is {off} off does", SUBTITLE)]
        note = EFFECTS_OF_BASKETS if making.cuts[-1].beside is not None else EFFECTS_NOTE
        words = " ".join([note, *map(typeset, spread_lines(making.report))])
        story += [say(letters, words, SMALL), gap(1), effects_table(making, letters, width)]
    return story


def steps_table(making: Making, letters: Letters, width: float) -> Flowable:
    heads = ["", "", say(letters, "In this order", HEAD)]
    rows: list[list[object]] = [list(heads)]
    for number, step in enumerate(assembly_steps(making), start=1):
        words = bold_then(letters, f"{step.title}.", step.text, CELL)
        rows.append([Box(4.5 * mm, 4.5 * mm), say(letters, str(number), NUMBER), words])
    return table(rows, [8 * mm, 12 * mm, width - 20 * mm])


def heights_note(making: Making) -> str:
    where = f"Of the {making.design.stuff}'s centre line, in the shoes the waist height was taken in."
    if has_baskets(making.design):
        where += " Of a hoop beside her these are its own sides"
        nearest = any(cut.beside is not None and not cut.closed for cut in making.cuts)
        nowhere = f"; next to her an open one has no {making.design.stuff}, and its nearer end is measured."
        where += nowhere if nearest else "."
    if making.bare is not None:
        return f"{where} Upper figure: bare, as it hangs on the stand. Lower figure: with the skirt on."
    if making.report.skirt_kg > 0.0:
        return f"{where} With the skirt on; a bare cage hangs a little differently."
    return f"{where} Bare."


def heights_table(making: Making, letters: Letters, width: float, beside: bool = False) -> Flowable:
    """Front, left, back, right: predicted, with a box for what is measured.

    beside: of the hoops that stand beside her, by their own sides; else of those that go round her.
    """
    places = BESIDE_HER if beside else ROUND_HER
    heads: list[object] = [say(letters, "Hoop", HEAD)]
    for place in places:
        heads += [say(letters, place, HEAD_RIGHT), ""]
    rows = [heads]
    for hoop, skirted, bare in measured_heights(making):
        if (making.cuts[hoop - 1].beside is not None) is not beside:
            continue
        row: list[object] = [hoop_number(making.cuts[hoop - 1], letters)]
        for side in range(4):
            figures = [skirted[side]] if bare is None else [bare[side], skirted[side]]
            row.append([say(letters, making.writing.eighths(figure), CELL_RIGHT) for figure in figures])
            row.append(Box(17 * mm, 9 * mm))
        rows.append(row)
    share = (width - 14 * mm) / 4.0
    return table(rows, [14 * mm, *((share - 20 * mm, 20 * mm) * 4)])


def troubles_table(troubles: list[tuple[str, str]], letters: Letters, width: float) -> Flowable:
    """What is seen, and what to look for."""
    rows: list[list[object]] = [[say(letters, text, HEAD) for text in ("Seen", "Look for")]]
    rows += [[bold_then(letters, seen, "", CELL), say(letters, done, CELL)] for seen, done in troubles]
    return table(rows, [0.25 * width, 0.75 * width])


def effects_table(making: Making, letters: Letters, width: float) -> Flowable:
    """One row a mark: what the hem does where it is too low, and too high."""
    heads = ("Mark", "Sewn too low", "Sewn too high")
    rows: list[list[object]] = [[say(letters, text, HEAD) for text in heads]]
    for one in making.effects:
        row = [
            bold_then(letters, one.mark, "", CELL),
            say(letters, one.low, CELL),
            say(letters, one.high, CELL),
        ]
        rows.append(list(row))
    return table(rows, [0.24 * width, 0.38 * width, 0.38 * width])

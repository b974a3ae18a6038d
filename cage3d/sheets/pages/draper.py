"""For the draper who makes the skirt over the cage."""

from __future__ import annotations

from itertools import zip_longest

from reportlab.lib.units import mm
from reportlab.platypus import CondPageBreak, Flowable, PageBreak

from cage3d.sheets.draper import Draping, gore_names
from cage3d.sheets.making import Making
from cage3d.sheets.paper.drawing import (
    CELL,
    CELL_RIGHT,
    HEAD,
    HEAD_RIGHT,
    SMALL,
    SUBTITLE,
    TITLE,
    gap,
    say,
    table,
)
from cage3d.sheets.paper.fonts import Letters
from cage3d.sheets.paper.frame import Chapter
from cage3d.wording import capital

HEADING = "8 For the draper: the cage to be covered"
HOOPS_ABREAST = 8  # columns of spreads beside the gore's name and the waist
ABOUT = (
    "Finished measures over the settled cage with its skirt on, without seam allowance, ease or what the skirt’s own"
    " layers take. Heights are in the shoes in which the waist height was taken."
)
GIRTHS = (
    "Round the {}’s centre line as a taut tape lies; an opening or a hollow is bridged. Casings of ribbon add a"
    " little. The floor is what hangs straight down from the outermost hoop; a knee between two hoops is measured on"
    " the straight between them."
)
FALLS = (
    "From the waist’s middle line over the hoops, as a cloth lies that is drawn over them; it bridges a hoop that lies"
    " further in. To the floor: from the outermost hoop straight down."
)
GORES = (
    "From tape to tape along each hoop: a gore with its seams over the tapes. Across an opening it is what is left of"
    " the girth. Gores are named by the two tapes beside them."
)
QUARTERS = (
    "From the middle of her front to her left, on to the middle of her back, and so round, along the cloth of the"
    " girths above: a seam in each of the four places."
)
ROUND_BASKETS = (
    "Cloth goes round what stands at her left and right at once, and round her; before and behind it is drawn straight"
    " across."
)


def draper_pages(making: Making, draping: Draping, letters: Letters, width: float) -> list[Flowable]:
    """Girths, lengths over the cage, spreads."""
    unit = making.writing.unit
    story: list[Flowable] = [
        PageBreak(),
        Chapter(HEADING),
        say(letters, HEADING, TITLE),
        say(letters, ABOUT + making.heights_within, SMALL),
    ]
    story += [
        say(letters, f"Girths, {unit}", SUBTITLE),
        say(letters, girths_note(making, draping), SMALL),
        gap(1),
    ]
    story += [girth_table(making, draping, letters, width), CondPageBreak(60 * mm)]
    story += [say(letters, f"Lengths over the cage, {unit}", SUBTITLE), say(letters, FALLS, SMALL), gap(1)]
    story += [fall_table(making, draping, letters, width), CondPageBreak(60 * mm)]
    if not draping.gores:
        return story
    story += [
        say(letters, f"Spread of each {draping.pieces}, {unit}", SUBTITLE),
        say(letters, making.says(GORES if draping.pieces == "gore" else QUARTERS), SMALL),
        gap(1),
    ]
    hoops = len(draping.levels)
    for first in range(0, hoops, HOOPS_ABREAST):
        shown = range(first, min(first + HOOPS_ABREAST, hoops))
        story += [gore_table(making, draping, shown, letters, width), gap(3)]
    return story


def girths_note(making: Making, draping: Draping) -> str:
    words = GIRTHS.format(making.design.stuff)
    return words if draping.pieces == "gore" else f"{words} {ROUND_BASKETS}"


def girth_table(making: Making, draping: Draping, letters: Letters, width: float) -> Flowable:
    writing = making.writing
    rows: list[list[object]] = [
        [
            say(letters, "At", HEAD),
            say(letters, "Above the floor", HEAD_RIGHT),
            say(letters, "Round", HEAD_RIGHT),
        ]
    ]
    for row in draping.girths:
        height = "" if row.place == "floor" else writing.eighths(row.height)
        figures = (height, writing.eighths(row.girth))
        rows.append([say(letters, row.place, CELL), *(say(letters, text, CELL_RIGHT) for text in figures)])
    return table(rows, [0.2 * width, 0.18 * width, 0.14 * width])


def fall_table(making: Making, draping: Draping, letters: Letters, width: float) -> Flowable:
    """Two places abreast: centres and half of the tapes, then the other half."""
    writing = making.writing
    head = [
        say(letters, "Down", HEAD),
        say(letters, "Waist to hem", HEAD_RIGHT),
        say(letters, "to floor", HEAD_RIGHT),
    ]
    cells = []
    for row in draping.falls:
        hem = f"no {making.design.stuff}" if row.to_hem is None else writing.eighths(row.to_hem)
        figures = (hem, writing.eighths(row.to_floor))
        cells.append([say(letters, row.place, CELL), *(say(letters, text, CELL_RIGHT) for text in figures)])
    half = -(-len(cells) // 2)
    rows: list[list[object]] = [[*head, "", *head]]
    for left, right in zip_longest(cells[:half], cells[half:], fillvalue=["", "", ""]):
        rows.append([*left, "", *right])
    shares = (0.16, 0.16, 0.14, 0.06)
    return table(rows, [share * width for share in (*shares, *shares[:3])])


def gore_table(making: Making, draping: Draping, hoops: range, letters: Letters, width: float) -> Flowable:
    """One row for gores that are alike; the waist and some of the hoops."""
    writing, count = making.writing, making.design.tapes.count
    heads = [say(letters, capital(draping.levels[hoop]), HEAD_RIGHT) for hoop in hoops]
    rows: list[list[object]] = [
        [say(letters, f"{capital(draping.pieces)}s", HEAD), say(letters, "Waist", HEAD_RIGHT), *heads]
    ]
    for gore in draping.gores:
        spreads = (gore.spreads[0], *(gore.spreads[hoop + 1] for hoop in hoops))
        figures = [say(letters, writing.figure(spread), CELL_RIGHT) for spread in spreads]
        rows.append([say(letters, gore_names(gore, count), CELL), *figures])
    share = 0.76 / (HOOPS_ABREAST + 1)
    return table(rows, [0.24 * width, *([share * width] * (len(hoops) + 1))])

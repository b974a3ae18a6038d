"""The tapes: how many of each, how long they are cut, and the table of casing lines."""

from __future__ import annotations

from reportlab.lib.units import mm
from reportlab.platypus import CondPageBreak, Flowable, PageBreak

from cage3d.design.hoop_materials import one_stuff
from cage3d.sheets import cautions
from cage3d.sheets.making import Making
from cage3d.sheets.pages.marks import band_block
from cage3d.sheets.paper.drawing import (
    BODY,
    CELL,
    CELL_RIGHT,
    FIGURE,
    HEAD,
    HEAD_RIGHT,
    NUMBER,
    SMALL,
    SUBTITLE,
    TITLE,
    caution,
    gap,
    say,
    table,
    together,
)
from cage3d.sheets.paper.fonts import Letters
from cage3d.sheets.paper.frame import Chapter
from cage3d.sheets.tapes import TapeSet
from cage3d.sheets.writing import Writing, plural

HEADING = "3 Tapes: what to cut and where to stitch"
SETS_PER_TABLE = 5


def tape_pages(making: Making, letters: Letters, width: float) -> list[Flowable]:
    """What to cut, how to make casings, and every casing line as a figure."""
    writing = making.writing
    story: list[Flowable] = [PageBreak(), Chapter(HEADING), say(letters, HEADING, TITLE)]
    story += [say(letters, text, INSTRUCTION) for text in instructions(making)]
    story += [
        gap(3),
        caution(
            letters, "Hot iron and fusible web", cautions.iron(cut.section for cut in making.cuts), width
        ),
    ]
    story += [say(letters, "Ribbon to cut", SUBTITLE), sets_table(making, letters, width), gap(1)]
    story += [say(letters, sum_of_ribbon(making), CELL), CondPageBreak(50 * mm)]
    story += [say(letters, f"Casing lines from the zero, {writing.unit}", SUBTITLE)]
    story += [
        say(letters, "Upper line to lower line; the zero is the waistband's lower edge.", SMALL),
        gap(1),
    ]
    for start in range(0, len(making.tapes), SETS_PER_TABLE):
        sets = making.tapes[start : start + SETS_PER_TABLE]
        story += [marks_table(sets, len(making.cuts), writing, letters, width), gap(4)]
    block = [
        say(letters, "Waistband: marks from the cut end", SUBTITLE),
        say(letters, band_words(making), SMALL),
    ]
    return [*story, together(*block, gap(2), band_block(making.band, writing, letters, width))]


def band_words(making: Making) -> str:
    """How the waistband's ribbon is marked and turned."""
    band, writing = making.band, making.writing
    return (
        f"Both layers alike, {writing.full(making.design.waistband.depth)} deep. Every figure counts from the cut end"
        f" at the buckle: turn {writing.full(band.turning)} under round its bar, so that the fold lies at the first"
        " mark; each tape’s middle goes to its mark; beyond the waist’s girth the last"
        f" {writing.full(band.tongue)} are the tongue."
    )


def instructions(making: Making) -> list[str]:
    """How this cage's tapes are made."""
    own, writing = making.design.tapes, making.writing
    widest = max(cut.section.along for cut in making.cuts)
    lines = [
        (
            "Clamp the tapes of a set side by side on a board with their zero lines level, lay the marking"
            " strip beside them, and rule each casing line across all of them at one go. Every figure counts"
            " from the zero, none from the line before. Marks within"
            f" {'¹⁄₃₂ in' if writing.inches else '1 mm'}."
        ),
        (
            f"A casing is {writing.full(own.casing)} high and takes {making.design.stuff} {widest * 1e3:g} mm wide."
            f" Above the zero {writing.full(own.allowance.top)} go into the waistband, on every tape alike."
        ),
    ]
    if not all(one.from_band for one in making.tapes):
        lines.append(
            f"A set that begins at a hoop has its zero at the {one_stuff(making.design.stuff)} in its first casing;"
            " above that it is folded as at its lower end."
        )
    if own.doubled:
        lines.append(
            "Each tape is doubled: two layers, or one length of twice the cut folded at the lower end. Fuse"
            " the layers with strips of web between the casings, never in them; press; stitch across on both"
            " lines of each casing and along both edges. Secure the ends of the lines with bar tacks."
        )
    lines.append(
        "Write its number and side on each tape at once: a tape turned over or swapped tips the hem."
    )
    return lines


def sets_table(making: Making, letters: Letters, width: float) -> Flowable:
    """One row a set of equal tapes."""
    writing = making.writing
    heads = [("Set", HEAD), ("Tapes", HEAD), ("Drops", HEAD), (f"Finished, {writing.unit}", HEAD_RIGHT)]
    heads += [
        (f"Cut, {writing.unit}", HEAD_RIGHT),
        ("Tapes × layers", HEAD_RIGHT),
        (f"Ribbon, {writing.unit}", HEAD_RIGHT),
    ]
    rows: list[list[object]] = [[say(letters, text, style) for text, style in heads]]
    for one in making.tapes:
        begins = "" if one.from_band else f"from {one.begins}: "
        rows.append(
            [
                say(letters, one.letter, NUMBER),
                say(letters, one.names, CELL),
                say(letters, begins + " + ".join(writing.figure(drop) for drop in one.drops), DROPS),
                say(letters, writing.figure(one.finished), CELL_RIGHT),
                say(letters, writing.figure(one.cut), FIGURE),
                say(letters, f"{len(one.tapes)} × {one.layers}", CELL_RIGHT),
                say(letters, writing.figure(one.ribbon * len(one.tapes)), CELL_RIGHT),
            ]
        )
    shares = (0.05, 0.15, 0.36, 0.11, 0.12, 0.09, 0.12)
    return table(rows, [share * width for share in shares])


def sum_of_ribbon(making: Making) -> str:
    """Finished length and both allowances, and all ribbon together."""
    own, writing = making.design.tapes, making.writing
    total = sum(one.ribbon * len(one.tapes) for one in making.tapes)
    doubled = ", doubled" if own.doubled else ""
    return (
        f"Cut = finished + {writing.figure(own.allowance.top)} above + {writing.figure(own.allowance.bottom)}"
        f" below. {plural(own.count, 'tape')}{doubled}: {writing.full(total)} of ribbon"
        f" ({writing.long(total)})."
    )


def marks_table(
    sets: tuple[TapeSet, ...], hoops: int, writing: Writing, letters: Letters, width: float
) -> Flowable:
    """One row a hoop, one column a set: upper and lower line."""
    heads = [say(letters, "Hoop", HEAD), *(say(letters, f"Set {one.letter}", HEAD_RIGHT) for one in sets)]
    rows: list[list[object]] = [list(heads)]
    for hoop in range(1, hoops + 1):
        row: list[object] = [say(letters, str(hoop), HOOP)]
        for one in sets:
            casing = one.casing_of(hoop)
            lines = (
                "–" if casing is None else f"{writing.figure(casing.upper)} to {writing.figure(casing.lower)}"
            )
            row.append(say(letters, lines, BIG_CELL_RIGHT))
        rows.append(row)
    rest = width - 0.09 * width
    return table(rows, [0.09 * width, *([rest / SETS_PER_TABLE] * len(sets))])


INSTRUCTION = BODY.clone("instruction", spaceAfter=4)
DROPS = CELL.clone("drops", fontSize=9)
HOOP = NUMBER.clone("hoop", fontSize=11, leading=13)
BIG_CELL_RIGHT = CELL_RIGHT.clone("big cell right", fontSize=10.5, leading=13)

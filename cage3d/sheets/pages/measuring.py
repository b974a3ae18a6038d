"""The measuring sheet: printed before there is a design, filled in by hand, copied into one."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from reportlab.lib.colors import black
from reportlab.lib.units import mm
from reportlab.platypus import CondPageBreak, Flowable

from cage3d.sheets.pages.record import WritingLines
from cage3d.sheets.paper.drawing import BODY, HAIR, HEAD, SMALL, SUBTITLE, THIN, TITLE, gap, say, table
from cage3d.sheets.paper.fonts import Letters, letters
from cage3d.sheets.paper.frame import Chapter, Identity, Numbering, bound, refuse_date
from cage3d.sheets.paper.sizes import paper_named

HEADING = "Measuring sheet"
HOW = (
    "Measure over the corset and what is worn below, in the show’s shoes, standing even. Take every measure twice, the"
    " tape off in between; where two readings differ by more than 1 cm or 3/8 in, take a third. Write the unit once:"
    " ______ . The word in the last column is the key under which it goes into the design."
)
# What is measured, how, and its key. [common practice]
WEARER = (
    ("Waist", "round, where the band sits, snug", "waist"),
    ("Waist from side to side", "with a calliper or two books", "waist_breadth"),
    ("Waist from front to back", "likewise; both or neither", "waist_depth"),
    ("High hip", "round, over the hip bones", "high_hip"),
    ("Waist down to the high hip", "along the side", "high_hip_drop"),
    ("Hip", "round the fullest", "hip"),
    ("Waist down to the hip", "along the side", "hip_drop"),
    ("Hip from side to side", "", "hip_breadth"),
    ("Hip from front to back", "", "hip_depth"),
    ("Knee", "round one, at its middle", "knee"),
    ("Knee above the floor", "middle of the kneecap", "knee_height"),
)
HEIGHTS = (
    ("Waist above the floor, front", "from a tape round the waist, plumb", "waist_height: front"),
    ("Waist above the floor, left", "", "left"),
    ("Waist above the floor, back", "", "back"),
    ("Waist above the floor, right", "", "right"),
)
PLACE = (
    ("Narrowest door on her way", "clear width", "stage: door"),
    ("Step of the stairs", "height, and depth", "stage: riser, tread"),
    ("Hem above the floor", "least and most wanted", "hem: clearance"),
    ("Her skirt", "weighed, or its cloth and layers", "skirt: weight"),
    ("Steel in hand", "width, thickness by calliper, bare", "steel"),
    ("Ribbon for the tapes", "width; a metre or yard weighed", "tapes: width, weight"),
)


def measuring_sheet(paper: str = "a4", font: str | Path | None = None) -> bytes:
    """A PDF of blanks for two readings of each measure and four heights of the waist.

    paper: a4, letter or a3. font: a TrueType file. Raises CommandError for an unknown paper, a font that
    cannot be used, or a SOURCE_DATE_EPOCH that is no date.
    """
    sheet, fonts = paper_named(paper), letters(font)
    refuse_date()

    def story(_known: Numbering) -> list[Flowable]:
        return measuring_story(fonts, sheet.frame[2])

    return bound(sheet, Identity(HEADING, "", "", ""), fonts, story)


def measuring_story(fonts: Letters, width: float) -> list[Flowable]:
    """Who, the wearer's measures, the waist's heights, the place, and room for notes."""
    story: list[Flowable] = [Chapter(HEADING), say(fonts, HEADING, TITLE), say(fonts, HOW, BODY), gap(2)]
    story += [
        blanks(
            (
                ("Code of the wearer, no name", "Production", "Date, measured by"),
                ("Shoes", "Corset", "Worn below"),
            ),
            fonts,
            width,
        )
    ]
    for title, rows in (
        ("Heights of the waist", HEIGHTS),
        ("The wearer", WEARER),
        ("The place and the stuff", PLACE),
    ):
        story += [CondPageBreak(30 * mm), say(fonts, title, SUBTITLE), readings(rows, fonts, width)]
    seen = "Seen: a hip higher on one side, a tilt of the waist, how she sits and turns."
    return [*story, gap(2), say(fonts, seen, SMALL), WritingLines(2, width)]


def readings(rows: tuple[tuple[str, str, str], ...], fonts: Letters, width: float) -> Flowable:
    """One row a measure: what, how, two readings, its key."""
    heads = ("Measure", "How", "First", "Second", "Key")
    cells: list[list[object]] = [[say(fonts, text, HEAD) for text in heads]]
    for what, how, key in rows:
        cells.append([say(fonts, what, ROW), say(fonts, how, SMALL), "", "", say(fonts, key, SMALL)])
    lines: list[tuple[Any, ...]] = [
        ("BOX", (2, 1), (3, -1), THIN, black),
        ("INNERGRID", (2, 1), (3, -1), HAIR, black),
    ]
    lines += [("TOPPADDING", (0, 1), (-1, -1), 1.5), ("BOTTOMPADDING", (0, 1), (-1, -1), 2.5)]
    return table(cells, [share * width for share in (0.27, 0.31, 0.12, 0.12, 0.18)], extra=lines)


def blanks(rows: tuple[tuple[str, ...], ...], fonts: Letters, width: float) -> Flowable:
    """Fields to fill in, three abreast."""
    cells = [[say(fonts, text, SMALL) for text in row] for row in rows]
    lines: list[tuple[Any, ...]] = [
        ("BOX", (0, 0), (-1, -1), THIN, black),
        ("INNERGRID", (0, 0), (-1, -1), HAIR, black),
    ]
    lines.append(("BOTTOMPADDING", (0, 0), (-1, -1), 5 * mm))
    return table(cells, [width / 3.0] * 3, head=0, extra=lines)


ROW = SMALL.clone("row", fontSize=9, leading=11)

"""All views on one A3 sheet, at one scale, and the measures."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from cage3d.draw.dimensions import margins_of, write_on
from cage3d.draw.hung import Hung
from cage3d.draw.overlay import SOFT, WHITE, Overlay
from cage3d.draw.render import Pixels
from cage3d.draw.views import ABOVE, BACK, FRONT, SIDE, THREE_QUARTER, Frame, fitted
from cage3d.report.alike import TapesAlike, tapes_alike
from cage3d.report.cautions import PREDICTIONS
from cage3d.report.how_sure import legend
from cage3d.report.summary import own_sides
from cage3d.shape.arrays import Floats
from cage3d.steady import fixed
from cage3d.wording import numbered

DOTS_PER_INCH = 200
WIDTH, HEIGHT = 3308, 2339  # px, A3 across
HEAD, EDGE = 150, 50  # px, title; border
CELL = ((WIDTH - 2 * EDGE) // 3, (HEIGHT - HEAD - EDGE) // 2)  # px
TEXT = 27.0  # px: nearly 10 point
SMALL, LINE = 0.85, 1.25 * TEXT  # share of it, and px from line to line, in paragraphs
MOST_KINDS = 6  # of tapes that are listed
PLACES = {FRONT: (0, 0), SIDE: (1, 0), BACK: (2, 0), ABOVE: (0, 1), THREE_QUARTER: (1, 1)}  # column, row
FIRST_COLUMN = 6.4 * TEXT
TABLE_AT = (2, 1)


def sheet_frames(extent: Floats, hung: Hung) -> list[Frame]:
    """The frames of the sheet's views, all at the scale of the one that fills its cell most."""
    hung = told_in_table(hung)
    margins = {view: margins_of(view, hung, TEXT) for view in PLACES}
    scale = min(fitted(view, extent, CELL, margins[view]).scale for view in PLACES)
    return [fitted(view, extent, CELL, margins[view], scale) for view in PLACES]


def laid_on_sheet(pixels: Sequence[Pixels], frames: Sequence[Frame], hung: Hung) -> bytes:
    """The sheet as PNG."""
    sheet = Overlay(np.full((HEIGHT, WIDTH, 3), WHITE, dtype=np.uint8), TEXT)
    for image, frame in zip(pixels, frames, strict=True):
        paper = Overlay(image, TEXT)
        write_on(paper, frame, told_in_table(hung))
        paper.words((0.8 * TEXT, 0.6 * TEXT), frame.view.title, "lt", 1.15, True)
        sheet.paste(paper.image, corner(*PLACES[frame.view]))
    heading(sheet, hung)
    measures(sheet, hung)
    return sheet.png(DOTS_PER_INCH, few=not hung.report.on_cloth)


def told_in_table(hung: Hung) -> Hung:
    """On the sheet ties, and how sure figures are, stand among the measures, so that views can be larger."""
    return replace(hung, ties_named=False, report=replace(hung.report, certainty=None))


def corner(column: int, row: int) -> tuple[int, int]:
    """px of a cell's upper left corner."""
    return EDGE + column * CELL[0], HEAD + row * CELL[1]


def heading(sheet: Overlay, hung: Hung) -> None:
    title = sheet.shortened(hung.report.design, WIDTH - 2 * EDGE - 900, 2.0, True)
    sheet.words((EDGE + 0.8 * TEXT, 50), title, "lt", 2.0, True)
    production = hung.settled.cage.design.production
    if production:
        sheet.words((WIDTH - EDGE, 55), sheet.shortened(production, 850), "rt", colour=SOFT)
    sheet.bare_line([(EDGE, HEAD - 12), (WIDTH - EDGE, HEAD - 12)], weight=1.0)


def measures(sheet: Overlay, hung: Hung) -> None:
    """The table of hoops, the whole cage in figures, and the warnings as far as there is room."""
    left, top = corner(*TABLE_AT)
    y = top + 0.6 * TEXT
    sheet.words((left, y), "Measures", "lt", 1.15, True)
    units = {"in": "inches", "ft": "feet and inches", "cm": "cm", "m": "m"}.get(hung.report.units or "", "mm")
    sheet.words((left + CELL[0], y), units, "rt", 0.85, colour=SOFT)
    y = table(sheet, hung, left, y + 2.2 * TEXT)
    last = HEIGHT - EDGE - 2.6 * TEXT
    for words in [*facts(hung), *(f"Mind: {warning.text}" for warning in hung.report.warnings)]:
        lines = wrapped(sheet, words)
        if y + len(lines) * LINE > last:
            break  # the report, the page and the making sheets have it all
        y = paragraph(sheet, lines, left, y)
    paragraph(sheet, [PREDICTIONS], left, HEIGHT - EDGE - 1.6 * TEXT)


def table(sheet: Overlay, hung: Hung, left: float, y: float) -> float:
    """px where the table ends."""
    heads = ("length", "side to\nside", "front to\nback", "height\nfront", "her\nleft", "back", "her\nright")
    step = (CELL[0] - FIRST_COLUMN) / len(heads)
    ends = [left + FIRST_COLUMN + step * (place + 1) for place in range(len(heads))]
    for end, head in zip(ends, heads, strict=True):
        for line, words in enumerate(reversed(head.split("\n"))):
            sheet.words((end, y + (1 - line) * 0.95 * TEXT), words, "rt", 0.75, colour=SOFT)
    y += 2.4 * TEXT
    row = min(1.6 * TEXT, 0.42 * CELL[1] / len(hung.report.hoops))
    size = min(0.9, row / (1.4 * TEXT))
    for hoop in hung.report.hoops:
        sheet.words(
            (left, y),
            f"Hoop {hoop.number} {hoop.beside or ('open' if hoop.open else '')}".rstrip(),
            "lt",
            size,
            True,
        )
        values = (hoop.length_m, hoop.width_side_side_m, hoop.width_front_back_m, hoop.height_front_m,
                  hoop.height_left_m, hoop.height_back_m, hoop.height_right_m)  # fmt: skip
        for end, value in zip(ends, values, strict=True):
            sheet.words((end, y), hung.bare(value), "rt", size)
        y += row
    return y + 0.6 * TEXT


def facts(hung: Hung) -> list[str]:
    report, kinds = hung.report, tapes_alike(hung.report)
    ties = ", ".join(f"{tie.name} {hung.show(tie.length_m)}" for tie in report.ties)
    whole = tuple(hoop.number for hoop in report.hoops)
    tapes = [
        f"{kind.names}{to_hoops(kind, whole)}: {', '.join(kind.drops)}; whole {kind.whole}{slack(kind)}."
        for kind in kinds
    ]
    sure = legend(report)
    return [
        *own_sides(report),
        *([f"{'. '.join(sure)}."] if sure else []),
        f"Weight on the waist {fixed(report.weight_kg, 2)} kg; {report.stuff} {hung.show(report.steel_m)}.",
        *(
            tapes
            if len(kinds) <= MOST_KINDS
            else [report.says(f"{len(report.tapes)} tapes of {len(kinds)} kinds.")]
        ),
        *([f"Ties and laces: {ties}."] if ties else []),
    ]


def to_hoops(kind: TapesAlike, whole: tuple[int, ...]) -> str:
    """Said only of tapes that do not come to every hoop."""
    return "" if kind.hoops == whole else f" to {numbered('hoop', kind.hoops)}"


def slack(kind: TapesAlike) -> str:
    return "" if kind.slack == "none" else f"; slack {kind.slack}"


def paragraph(sheet: Overlay, lines: Sequence[str], left: float, y: float) -> float:
    """px below the lines."""
    for line in lines:
        sheet.words((left, y), line, "lt", SMALL)
        y += LINE
    return y + 0.35 * TEXT


def wrapped(sheet: Overlay, words: str) -> list[str]:
    """Lines of the cell's width."""
    lines = [""]
    for word in words.split():
        trial = f"{lines[-1]} {word}".strip()
        if sheet.width_of(trial, SMALL) <= CELL[0]:
            lines[-1] = trial
        else:
            lines.append(sheet.shortened(word, CELL[0], SMALL))
    return lines

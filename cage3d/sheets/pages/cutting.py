"""The cutting list, before the order of cutting and the marks along each hoop's steel."""

from __future__ import annotations

from collections.abc import Iterable

from reportlab.lib.colors import black
from reportlab.lib.units import mm
from reportlab.platypus import CondPageBreak, Flowable, PageBreak

from cage3d.shape.section import Section
from cage3d.sheets import cautions
from cage3d.sheets.baskets import cut_alike
from cage3d.sheets.making import Making
from cage3d.sheets.pages.bars import plan_block
from cage3d.sheets.pages.marks import marks_pages, of_hoops
from cage3d.sheets.paper.drawing import (
    CELL,
    CELL_RIGHT,
    FIGURE,
    HEAD,
    HEAD_RIGHT,
    NUMBER,
    SMALL,
    SUBTITLE,
    THIN,
    TITLE,
    Box,
    caution,
    gap,
    say,
    table,
)
from cage3d.sheets.paper.fonts import Letters
from cage3d.sheets.paper.frame import Chapter
from cage3d.sheets.steel import SteelCut
from cage3d.sheets.writing import Writing
from cage3d.wording import listed

HEADING = "1 Steel: cutting list"
ENDS = CELL.clone("ends", leftIndent=8)
CUT = FIGURE.clone("cut", fontSize=19, leading=23)


def cutting_pages(making: Making, letters: Letters, width: float) -> list[Flowable]:
    """Cutting list, order of cutting, marks."""
    heading = of_hoops(HEADING, making.design)
    story: list[Flowable] = [PageBreak(), Chapter(heading), say(letters, heading, TITLE)]
    story += cutting_cautions((cut.section for cut in making.cuts), letters, width)
    story += [cut_table(making, letters, width), gap(2)]
    story += [say(letters, list_note(making), SMALL), CondPageBreak(60 * mm)]
    story += [say(letters, "Order of cutting", SUBTITLE)]
    for plan in making.plans:
        story += plan_block(plan, making.writing, letters, width)
    return story + marks_pages(making, letters, width)


def cutting_cautions(sections: Iterable[Section], letters: Letters, width: float) -> list[Flowable]:
    """A box for each thing that is cut."""
    boxes = [caution(letters, title, text, width) for title, text in cautions.cutting(sections)]
    return [part for box in boxes for part in (box, gap(4))]


def cut_table(making: Making, letters: Letters, width: float) -> Flowable:
    """One row a hoop; the cut in large figures."""
    writing = making.writing
    eighths, ends = (0.12, 0.14) if writing.inches else (0.02, 0.24)
    shares = (0.08, 0.17, 0.14, 0.13, 0.17, eighths, ends, 0.05)
    heads = [
        ("Hoop", HEAD),
        ("Steel" if making.design.stuff == "steel" else "Material", HEAD),
        (f"Finished, {writing.unit}", HEAD_RIGHT),
        ("Join takes", HEAD_RIGHT),
    ]
    heads += [
        (f"CUT, {writing.unit}", HEAD_RIGHT),
        ("to ¹⁄₈ in" if writing.inches else "", HEAD_RIGHT),
        ("Ends", HEAD.clone("ends head", leftIndent=8)),
        ("", HEAD),
    ]
    rows: list[list[object]] = [[say(letters, text, style) for text, style in heads]]
    rows += [cut_row(cut, writing, letters) for cut in making.cuts]
    total = sum(plan.cut for plan in making.plans)
    sum_row: list[object] = [
        "",
        say(letters, "All hoops", CELL),
        "",
        "",
        say(letters, writing.figure(total), CUT),
    ]
    rows.append([*sum_row, coarse_figure(total, writing, letters), "", ""])
    return table(
        rows, [share * width for share in shares], extra=[("LINEABOVE", (0, -1), (-1, -1), THIN, black)]
    )


def cut_row(cut: SteelCut, writing: Writing, letters: Letters) -> list[object]:
    return [
        hoop_number(cut, letters),
        say(
            letters,
            cut.section.words + (f"; cut {cut.section.pieces}" if cut.section.pieces > 1 else ""),
            CELL,
        ),
        say(letters, writing.figure(cut.finished), CELL_RIGHT),
        say(letters, join_takes(cut, writing), CELL_RIGHT),
        say(letters, writing.figure(cut.cut), CUT),
        coarse_figure(cut.cut, writing, letters),
        say(letters, ends_of(cut, writing), ENDS),
        Box(4.5 * mm, 4.5 * mm),
    ]


def hoop_number(cut: SteelCut, letters: Letters) -> object:
    """Large, and under it where a hoop stands that does not go round her."""
    number = say(letters, str(cut.hoop), NUMBER)
    return number if cut.beside is None else [number, say(letters, cut.beside, SMALL)]


def coarse_figure(metres: float, writing: Writing, letters: Letters) -> object:
    """The same length as a rule with eighths shows it; nothing beside millimetres."""
    return say(letters, writing.eighths(metres) if writing.inches else "", CELL_RIGHT)


def join_takes(cut: SteelCut, writing: Writing) -> str:
    """What the join adds to the finished length."""
    if not cut.closed:
        return "open"
    if cut.join is None:
        return "no join"
    taken = f"+ {writing.figure(cut.overlap)}" if cut.overlap else "nothing"
    if cut.slide is None:
        return taken
    return f"{taken}; slides {writing.figure(cut.slide.least)} to {writing.figure(cut.slide.most)}"


def ends_of(cut: SteelCut, writing: Writing) -> str:
    """What goes on the ends."""
    if not cut.closed:
        return "2 tips"
    if cut.join is None:
        return "meet"
    if cut.slide is not None:
        return "2 keepers"
    return "1 lap" if cut.overlap else f"1 {cut.section.socket} {writing.full(cut.join.length)}"


def list_note(making: Making) -> str:
    limit, stuff = "¹⁄₁₆ in" if making.writing.inches else "1.5 mm", making.design.stuff
    pairs = [f"{left} and {right}" for left, right in cut_alike(making)]
    many = any(cut.section.pieces > 1 for cut in making.cuts)
    strips = (
        " Of a hoop of several strips each is cut and marked so; all of them are in the sum." if many else ""
    )
    twins = f" Cut alike, one for each basket: hoops {listed(pairs)}." if pairs else ""
    return (
        f"Cut to within {limit}; hoops of one size alike to the same. The finished length is round the"
        f" {stuff}'s centre line when the hoop is closed, end to end of an open hoop. In a tube the two ends meet, so"
        f" that it takes no {stuff}. A tip adds about 1.5 mm"
        f" and is not in the figures. Tick each hoop as it is cut, deburred and capped.{strips}{twins}"
    )

"""The gores: how many of each, how they lie on the cloth, how they are sewn, and where their casings go."""

from __future__ import annotations

from reportlab.lib.units import mm
from reportlab.platypus import CondPageBreak, Flowable, PageBreak

from cage3d.design import trade
from cage3d.sheets.cloth_layout import ClothLayout
from cage3d.sheets.gores import GoreSet
from cage3d.sheets.making import Making
from cage3d.sheets.pages.marks import band_block
from cage3d.sheets.pages.tapes import BIG_CELL_RIGHT, HOOP, INSTRUCTION, band_words
from cage3d.sheets.paper.drawing import (
    CELL,
    CELL_RIGHT,
    HEAD,
    HEAD_RIGHT,
    SMALL,
    SUBTITLE,
    THIN,
    TITLE,
    draw_text,
    gap,
    ink,
    say,
    table,
    together,
)
from cage3d.sheets.paper.fonts import Letters
from cage3d.sheets.paper.frame import Chapter
from cage3d.sheets.way_in import way_in
from cage3d.sheets.writing import Writing, plural
from cage3d.steady import fixed

HEADING = "3 Gores: what to cut and how to sew"
SETS_PER_TABLE = 5
TALLEST = 110 * mm  # of the drawing of the cloth


def gore_pages(making: Making, letters: Letters, width: float) -> list[Flowable]:
    """What to cut, how to sew, widths and casing lines as figures, and the waistband's marks."""
    writing, layout = making.writing, making.layout
    assert layout is not None
    story: list[Flowable] = [PageBreak(), Chapter(HEADING), say(letters, HEADING, TITLE)]
    story += [say(letters, text, INSTRUCTION) for text in instructions(making)]
    story += [
        together(
            say(letters, "How they lie on the cloth", SUBTITLE),
            say(letters, cloth_words(making, layout), CELL),
            gap(2),
            ClothDrawing(layout, writing, letters, width),
        ),
        CondPageBreak(60 * mm),
        say(letters, f"Gores to cut: finished widths along their casings, {writing.unit}", SUBTITLE),
        say(letters, "Without seam allowance, along the line itself as a tape lies on it.", SMALL),
        gap(1),
    ]
    for start in range(0, len(making.gores), SETS_PER_TABLE):
        own = making.gores[start : start + SETS_PER_TABLE]
        story += [widths_table(own, writing, letters, width), gap(4)]
    story += [
        CondPageBreak(50 * mm),
        say(letters, f"Casing lines down each seam from the waistband's edge, {writing.unit}", SUBTITLE),
        say(
            letters, "Upper line to lower line; from seam to seam a casing runs as the pattern has it.", SMALL
        ),
        gap(1),
        lines_table(making, letters, width),
    ]
    block = [
        say(letters, "Waistband: marks from the cut end", SUBTITLE),
        say(letters, making.says(band_words(making)), SMALL),
    ]
    return [*story, together(*block, gap(2), band_block(making.band, writing, letters, width))]


def instructions(making: Making) -> list[str]:
    """How this petticoat is sewn."""
    cloth, writing = making.design.cloth, making.writing
    assert cloth is not None
    own, turned = cloth.allowance, trade.CASING_TURNING
    seam, top, hem = (writing.full(length) for length in (own.seam, own.top, own.hem))
    return [
        "Section 4 holds every gore at full size. Gores are named by the two seams beside them, seams counted from"
        " centre front round by the wearer’s left. Lay each with its arrow along the selvedge; one that is drawn as a"
        f" half lies with its dashed edge on a fold. Cut on the outer line, which holds {seam} at the seams, {top}"
        f" above and {hem} below. Chalk the casing lines, and clip the notches half way to the seam.",
        f"Sew gore to gore, notch on notch, {seam} from the edge; fell the seams. {slit(making)}",
        f"Casings: strips of the cloth or cotton tape, {writing.full(cloth.casing + 2.0 * turned)} wide before"
        f" {writing.full(turned)} is turned in at either edge; stitch them on along both chalked lines,"
        f" {writing.full(cloth.casing)} apart. Where the cloth is longer than its {making.design.stuff}, ease it in"
        " evenly." + open_casings(making),
        f"Sew {top} of the cloth into the waistband, every seam at its mark. Turn up the cloth below the lowest casing"
        " last.",
    ]


def slit(making: Making) -> str:
    """Where she gets in."""
    into = way_in(making)
    depth = making.writing.full(into.depth)
    if into.seam is not None:
        return (
            f"Leave seam {into.seam} open for {depth} below the waistband, to get into it (common practice)."
        )
    front = next((name for one in making.gores for name in one.names if name.endswith("CF")), "")
    where = f"the middle of gore {front.removesuffix(' CF')}" if front else "centre front"
    return (
        f"Slit {where} for {depth} below the waistband and face the slit, to get into it (common practice)."
    )


def open_casings(making: Making) -> str:
    cloth = making.design.cloth
    assert cloth is not None
    open_hoops = [str(cut.hoop) for cut in making.cuts if not cut.closed]
    closed = [cut for cut in making.cuts if cut.closed]
    text = ""
    if open_hoops:
        half = making.writing.full(cloth.gap / 2.0)
        middle = (
            "centre front"
            if making.design.hoops[int(open_hoops[0]) - 1].opening == "front"
            else "centre back"
        )
        text += f" The casings of open hoops ({', '.join(open_hoops)}) end {half} from {middle} on both sides, sewn"
        text += " shut."
    if closed:
        text += (
            f" Leave {making.writing.full(0.05)} open where a join lies, to thread the {making.design.stuff}."
        )
    return text


def cloth_words(making: Making, layout: ClothLayout) -> str:
    """How much cloth the gores take."""
    writing = making.writing
    buy = next(row for row in making.materials if row.key == "cloth")
    return (
        f"{plural(len(layout.gores), 'gore')} from cloth {writing.full(layout.width)} wide:"
        f" {writing.full(layout.length)} ({writing.long(layout.length)}) along the selvedge, without nap; buy"
        f" {writing.long(buy.buy)}, with"
        f" {fixed(100.0 * making.design.buying.spare, 0)} % for shrinking and error. Casing strips are cut from what is"
        " left beside the gores, or are tape. Wash and press the cloth before cutting."
    )


def widths_table(sets: tuple[GoreSet, ...], writing: Writing, letters: Letters, width: float) -> Flowable:
    """One column a set: its gores, how often it is cut, and its width at the waistband and each hoop."""
    rows: list[list[object]] = [
        [say(letters, "", HEAD), *(say(letters, f"Gore {one.letter}", HEAD_RIGHT) for one in sets)],
        [say(letters, "Gores", CELL), *(say(letters, ", ".join(one.names), CELL_RIGHT) for one in sets)],
        [say(letters, "Cut", CELL), *(say(letters, how_often(one), CELL_RIGHT) for one in sets)],
    ]
    for place in range(len(sets[0].widths)):
        name = "band" if place == 0 else str(place)
        figures = [say(letters, writing.figure(float(one.widths[place])), BIG_CELL_RIGHT) for one in sets]
        rows.append([say(letters, name, HOOP), *figures])
    first = 0.11 * width
    return table(rows, [first, *([(width - first) / SETS_PER_TABLE] * len(sets))])


def how_often(one: GoreSet) -> str:
    """'2, one turned over', '1 on the fold'."""
    count, turned = len(one.gores), sum(one.mirrored)
    fold = " on the fold" if one.even else ""
    over = f", {turned} turned over" if turned else ""
    return f"{count}{fold}{over}"


def lines_table(making: Making, letters: Letters, width: float) -> Flowable:
    """One row a hoop, one column for each kind of seam."""
    writing, sets = making.writing, making.tapes[:SETS_PER_TABLE]
    if len(making.tapes) > SETS_PER_TABLE:
        return say(letters, "Each seam has its own: see tables/casing-lines.csv, and the pattern.", CELL)
    rows: list[list[object]] = [
        [say(letters, "Hoop", HEAD), *(say(letters, f"Seams {one.names}", HEAD_RIGHT) for one in sets)]
    ]
    for hoop in range(len(making.cuts)):
        cells = [
            say(
                letters,
                f"{writing.figure(one.casings[hoop].upper)} to {writing.figure(one.casings[hoop].lower)}",
                BIG_CELL_RIGHT,
            )
            for one in sets
        ]
        rows.append([say(letters, str(hoop + 1), HOOP), *cells])
    first = 0.11 * width
    return table(rows, [first, *([min((width - first) / len(sets), 0.4 * width)] * len(sets))])


class ClothDrawing(Flowable):  # type: ignore[misc]
    """The cloth from selvedge to selvedge, drawn small, with every gore as it is cut from it."""

    def __init__(self, layout: ClothLayout, writing: Writing, letters: Letters, width: float) -> None:
        super().__init__()
        self.layout, self.writing, self.letters = layout, writing, letters
        # Along the paper's width lies the length of the cloth.
        self.scale = min(width / layout.length, TALLEST / layout.width)
        self.width, self.height = layout.length * self.scale, layout.width * self.scale + 12

    def wrap(self, _width: float, _height: float) -> tuple[float, float]:
        return self.width, self.height

    def draw(self) -> None:
        ink(self.canv)
        self.canv.setLineWidth(THIN)
        top = self.height - 10
        self.canv.rect(0, top - self.layout.width * self.scale, self.width, self.layout.width * self.scale)
        words = f"selvedge; the grain runs along it; {self.writing.full(self.layout.width)} wide"
        draw_text(self.canv, self.letters, 0, self.height - 7, words, 6.5)
        for laid in self.layout.gores:
            places = [(float(y) * self.scale, top - float(x) * self.scale) for x, y in laid.outline]
            path = self.canv.beginPath()
            path.moveTo(*places[0])
            for place in places[1:]:
                path.lineTo(*place)
            path.close()
            ink(self.canv)
            self.canv.drawPath(path)
            middle = [sum(axis) / len(places) for axis in zip(*places, strict=True)]
            name = f"{laid.one.letter}: {laid.one.names[laid.place]}"
            draw_text(self.canv, self.letters, middle[0], middle[1] - 3, name, 8, align="middle")

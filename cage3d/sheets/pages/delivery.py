"""The card that goes with the cage to whoever dresses her."""

from __future__ import annotations

from collections.abc import Sequence

from reportlab.lib.colors import black
from reportlab.lib.units import mm
from reportlab.platypus import CondPageBreak, Flowable, PageBreak

from cage3d.sheets.delivery import Tag, care, folding, hem_cuts, spares, tags
from cage3d.sheets.making import Making
from cage3d.sheets.pages.record import ties_table
from cage3d.sheets.paper.drawing import (
    BODY,
    HAIR,
    HEAD,
    SMALL,
    SUBTITLE,
    THIN,
    TITLE,
    bold_then,
    draw_text,
    gap,
    ink,
    say,
    table,
)
from cage3d.sheets.paper.fonts import Letters
from cage3d.sheets.paper.frame import Chapter, Identity
from cage3d.sheets.writing import plural

HEADING = "9 To go with the cage"
ABREAST, TAG_HEIGHT = 6, 13 * mm
REPAIRS = 6


def delivery_pages(making: Making, identity: Identity, letters: Letters, width: float) -> list[Flowable]:
    """Which cage it is, how it is kept, final tie lengths, a log of repairs, tags."""
    story: list[Flowable] = [PageBreak(), Chapter(HEADING), say(letters, HEADING, TITLE)]
    words = [
        identity.name,
        identity.production,
        identity.wearer and f"wearer {identity.wearer}",
        which(making),
    ]
    story += [say(letters, " · ".join(word for word in words if word), BODY), gap(2)]
    kept = (("Folding.", folding(making)), ("Care.", care(making)), ("Spares.", spares(making)))
    story += [bold_then(letters, title, text, KEPT) for title, text in kept]
    if making.design.ties:
        story += [say(letters, "Ties, final lengths", SUBTITLE), ties_table(making, letters, width)]
    story += [CondPageBreak(70 * mm), say(letters, "Repairs", SUBTITLE), repairs(letters, width)]
    story += [CondPageBreak(60 * mm), say(letters, "Tags", SUBTITLE)]
    story += [
        say(
            letters,
            making.says("Cut out and sew to each hoop’s join or end, and to each tape at the band."),
            SMALL,
        ),
        gap(1),
    ]
    every = tags(making)
    return [
        *story,
        *(TagRow(every[at : at + ABREAST], letters, width) for at in range(0, len(every), ABREAST)),
    ]


def which(making: Making) -> str:
    """What tells this cage from another."""
    design = making.design
    lengths = dict.fromkeys(
        making.writing.full(design.hoops[cut.hoop - 1].length) for cut in hem_cuts(making)
    )
    hem = " and ".join(lengths)
    parts = f"{design.tapes.count} {'gores' if making.gores else 'tapes'}"
    return f"{plural(len(design.hoops), 'hoop')}, {parts}, hem hoop {hem}"


def repairs(letters: Letters, width: float) -> Flowable:
    rows: list[list[object]] = [
        [say(letters, text, HEAD) for text in ("Date", "What was found", "What was done", "By")]
    ]
    rows += [["", "", "", ""] for _ in range(REPAIRS)]
    lines = [
        ("BOX", (0, 1), (-1, -1), THIN, black),
        ("INNERGRID", (0, 1), (-1, -1), HAIR, black),
        ("BOTTOMPADDING", (0, 1), (-1, -1), 5 * mm),
    ]
    return table(rows, [share * width for share in (0.13, 0.36, 0.36, 0.15)], extra=lines)


class TagRow(Flowable):  # type: ignore[misc]
    """Some tags abreast, to cut out along their frames."""

    def __init__(self, row: Sequence[Tag], letters: Letters, width: float) -> None:
        super().__init__()
        self.row, self.letters, self.width, self.height = row, letters, width, TAG_HEIGHT

    def wrap(self, _width: float, _height: float) -> tuple[float, float]:
        return self.width, self.height

    def draw(self) -> None:
        ink(self.canv)
        wide = self.width / ABREAST
        for number, tag in enumerate(self.row):
            x = number * wide
            self.canv.setLineWidth(HAIR)
            self.canv.rect(x, 0, wide, self.height)
            draw_text(self.canv, self.letters, x + 3 * mm, self.height - 15, tag.title, 12, bold=True)
            text, size = self.letters.smaller(tag.text, 7.5, 6.0, wide - 5 * mm)
            draw_text(self.canv, self.letters, x + 3 * mm, 8, text, size)
            ink(self.canv)


KEPT = BODY.clone("kept", spaceAfter=4)

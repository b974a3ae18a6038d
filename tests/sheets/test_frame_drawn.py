"""Header, footer and sections of every page as they lie on the paper, in points by hand."""

from __future__ import annotations

from io import BytesIO

import pdfplumber
import pytest
from on_paper import MM, Drawn, assert_words, drawn_by
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import PageBreak

from cage3d.sheets.paper import drawing as look
from cage3d.sheets.paper.fonts import letters
from cage3d.sheets.paper.frame import Chapter, Identity, Numbering, bound, footer, header
from cage3d.sheets.paper.sizes import paper_named

A4 = paper_named("a4")
WIDE, TALL = 210 * MM, 297 * MM
US = Identity("Gown", "Act I", "W-07", "0123abcd")
WORDS = "predictions, not a safety certificate"


def on_a4(section: str = "5 Materials", name: str = "Gown", identity: Identity = US) -> Drawn:
    def draw(canvas: Canvas) -> None:
        header(canvas, A4, letters(), section, name)
        footer(canvas, A4, letters(), identity, "Page 3 of 9")

    return drawn_by(draw, WIDE, TALL)


def test_every_page_has_its_header_and_footer() -> None:
    """12 mm from every edge; the header's rule 21 mm from the top and 11 pt up, the footer 20 mm up and 17 pt down."""
    page = on_a4()
    edge = 12 * MM
    foot = 20 * MM - 17
    assert_words(
        page,
        [
            ("5 Materials", "left", edge, TALL - edge - 9, 8, True, 0),
            ("Gown", "right", WIDE - edge, TALL - edge - 9, 8, False, 0),
            ("Page 3 of 9", "right", WIDE - edge, foot, 10, True, 0),
            (f"Act I · W-07 · design 0123abcd · {WORDS}", "left", edge, foot, 7, False, 0.35),
        ],
    )
    (rule,) = page.lines
    assert (rule.x, rule.to_x, rule.y, rule.to_y) == pytest.approx(
        (edge, WIDE - edge, TALL - 21 * MM + 11, TALL - 21 * MM + 11), abs=0.01
    )
    assert (rule.wide, rule.grey) == (0.5, 0.0)


def test_a_sheet_of_no_design_says_nothing_of_predictions() -> None:
    assert WORDS not in {
        words.said for words in on_a4(identity=Identity("Measuring sheet", "", "", "")).words
    }


def test_long_names_leave_the_section_and_the_page_number_room() -> None:
    """24 pt between section and name, 18 pt between words and page number; the letter that no longer fits is gone."""
    page = on_a4(name="wide " * 60, identity=Identity("x", "Act " * 60, "", "0123abcd"))
    section, name = (next(w for w in page.words if w.said.startswith(start)) for start in ("5 Mat", "wide"))
    assert 24 - 0.01 <= name.left - section.right < 24 + 12
    words, number = (next(w for w in page.words if w.said.startswith(start)) for start in ("Act", "Page"))
    assert 18 - 0.01 <= number.left - words.right < 18 + 12


def test_the_page_holds_what_lies_between_header_and_footer() -> None:
    """186 mm by 256: what is as large fills one page to its edges, and a section's mark takes no room in it."""
    full = look.Box(186 * MM, 256 * MM - 0.01)
    pdf = bound(A4, US, letters(), lambda _known: [Chapter("Cut"), full])
    with pdfplumber.open(BytesIO(pdf)) as document:
        (page,) = document.pages
        (block,) = page.rects
    assert (block["x0"], block["x1"]) == pytest.approx((12 * MM, WIDE - 12 * MM), abs=0.02)
    assert (block["y0"], block["y1"]) == pytest.approx((20 * MM, TALL - 21 * MM), abs=0.02)
    assert Chapter("Cut").wrap(100, 100) == (0.0, 0.0)


def test_the_document_says_what_it_is_and_has_its_sections() -> None:
    def story(known: Numbering) -> list[object]:
        told = f"{known.pages} pages, care on {known.sections.get('Care', 0)}"
        return [Chapter("Cut"), look.say(letters(), told), PageBreak(), Chapter("Care"), look.gap(1)]

    pdf = bound(A4, US, letters(), story)
    with pdfplumber.open(BytesIO(pdf)) as document:
        assert document.pages[0].extract_text().splitlines()[:2] == ["Cut Gown", "2 pages, care on 2"]
        assert document.metadata["Title"] == "Gown: making sheets"
        assert [outline[1] for outline in document.doc.get_outlines()] == ["Cut", "Care"]
        assert [outline[0] for outline in document.doc.get_outlines()] == [1, 1], "both of the first rank"
        catalog = document.doc.catalog
        assert catalog["ViewerPreferences"].resolve()["DisplayDocTitle"] in (True, "true")
        assert b"en" in catalog["Lang"]
        first = document.pages[0].extract_words()
    told = next(word for word in first if word["text"] == "2")
    assert (told["x0"], TALL - told["bottom"]) == pytest.approx((12 * MM, TALL - 21 * MM - 9.5), abs=4)

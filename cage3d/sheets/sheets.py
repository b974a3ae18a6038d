"""The making sheets of a settled cage: one PDF and its tables."""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial
from pathlib import Path

from reportlab.platypus import Flowable

from cage3d.design.baskets import has_baskets
from cage3d.errors import NotSettledError, Problem
from cage3d.report.measure import measure
from cage3d.report.record import Report
from cage3d.settle import settle
from cage3d.settle.state import SettledCage
from cage3d.sheets.draper import Draping, draping_of
from cage3d.sheets.draper_beside import draping_beside
from cage3d.sheets.making import Making, prepared
from cage3d.sheets.outline import Outline, outline_of
from cage3d.sheets.pages.assembly import assembly_pages
from cage3d.sheets.pages.cutting import cutting_pages
from cage3d.sheets.pages.delivery import delivery_pages
from cage3d.sheets.pages.draper import draper_pages
from cage3d.sheets.pages.first import first_page
from cage3d.sheets.pages.gore_tiles import gore_tile_pages
from cage3d.sheets.pages.gores import gore_pages
from cage3d.sheets.pages.materials import material_pages
from cage3d.sheets.pages.record import record_pages
from cage3d.sheets.pages.strips import strip_pages
from cage3d.sheets.pages.tapes import tape_pages
from cage3d.sheets.paper.fonts import Letters, letters
from cage3d.sheets.paper.frame import Identity, Numbering, bound, refuse_date
from cage3d.sheets.paper.sizes import Paper, paper_named
from cage3d.sheets.tables import csv_tables


@dataclass(frozen=True)
class Sheets:
    """What the maker takes to the bench."""

    pdf: bytes
    tables: dict[str, bytes]  # CSV by file name


def make_sheets(
    settled: SettledCage,
    report: Report,
    paper: str = "a4",
    font: str | Path | None = None,
) -> Sheets:
    """Cutting list, marking strips, materials, assembly and fitting record of a settled cage.

    report: of the same settled cage. paper: a4, letter or a3. font: a TrueType file for letters that
    the built-in font lacks. What a mark that is off does stands on them where the report knows it
    (`with_marks`). The same input gives the same bytes.

    Raises CommandError for an unknown paper, a font that cannot be used or a SOURCE_DATE_EPOCH
    (the date that the PDF is to bear) that is no date, DesignError where
    the cage cannot be cut or sewn as written (stock shorter than a hoop, casings that overlap),
    NotSettledError for a cage that is not in a stable equilibrium.
    """
    if not settled.trusted:
        raise NotSettledError(
            Problem(
                "sheets",
                report.design,
                "the cage is not settled, so nothing can be made by it",
                "Run cage3d check",
            )
        )
    sheet, fonts = paper_named(paper), letters(font)
    refuse_date()
    design = settled.cage.design
    making = prepared(settled.cage, report, bare_report(settled))
    identity = Identity(design.name, design.production or "", design.wearer.code or "", making.checksum)
    draping = (draping_beside if has_baskets(design) else draping_of)(settled, report)
    story = partial(story_of, making, draping, outline_of(settled), identity, sheet, fonts)
    return Sheets(bound(sheet, identity, fonts, story), csv_tables(making, draping))


def story_of(
    making: Making,
    draping: Draping,
    outline: Outline,
    identity: Identity,
    sheet: Paper,
    fonts: Letters,
    known: Numbering,
) -> list[Flowable]:
    """Every section in the order in which the hand comes to it."""
    width = sheet.frame[2]
    return [
        *first_page(making, outline, identity, sheet, fonts, known),
        *cutting_pages(making, fonts, width),
        *(gore_pages(making, fonts, width) if making.gores else tape_pages(making, fonts, width)),
        *(gore_tile_pages(making, sheet, fonts) if making.gores else strip_pages(making, sheet, fonts)),
        *material_pages(making, fonts, width),
        *assembly_pages(making, fonts, width),
        *record_pages(making, identity, fonts, width),
        *draper_pages(making, draping, fonts, width),
        *delivery_pages(making, identity, fonts, width),
    ]


def refuse_options(paper: str, font: str | Path | None = None) -> None:
    """Raises CommandError for an unknown paper, a font that cannot be used, or a date that is none."""
    paper_named(paper)
    letters(font)
    refuse_date()


def bare_report(settled: SettledCage) -> Report | None:
    """The cage without its skirt, as on the stand; None where it has none, or would not settle."""
    if not settled.cage.parameters.skirt_hangs:
        return None
    bare = settle(settled.cage.without_skirt())
    return measure(bare) if bare.trusted else None

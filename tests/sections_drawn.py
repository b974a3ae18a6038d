"""The sections of the sheets of the lopsided cage, made by themselves."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

from lopsided import lopsided
from reportlab.platypus import Flowable, KeepTogether, Table

from cage3d.report.foreseen import MarkReport, SlipReport, SpreadReport
from cage3d.sheets.draper import Draping, draping_of
from cage3d.sheets.making import Making, prepared
from cage3d.sheets.pages import assembly, cutting, delivery, draper, materials, measuring, record, tapes
from cage3d.sheets.paper.fonts import letters
from cage3d.sheets.paper.frame import Identity
from cage3d.sheets.writing import Writing

WIDTH = 500.0
IDENTITY = Identity("Lopsided", "Act I", "W-07", "0123abcd")
SLIP = SlipReport(0.001, 0.0, -0.002, 0.0)
MARKS = (MarkReport(1, 1, 0.0, -0.8, 0.0, 0.0, 0.003, SLIP, SLIP),)


@cache
def making(units: str = "mm") -> Making:
    settled, report = lopsided()
    own = prepared(
        settled.cage, replace(report, marks=MARKS, spread=SpreadReport(0.0016, 0.003, 0.9, 0.007)), None
    )
    return replace(own, writing=Writing.of(units))


@cache
def draping() -> Draping:
    return draping_of(*lopsided())


def section_of(name: str) -> list[Flowable]:
    """One section of the sheets, or the measuring sheet, made anew."""
    fonts = letters()
    if name == "measuring":
        return measuring.measuring_story(fonts, WIDTH)
    if name == "draper":
        return draper.draper_pages(making(), draping(), fonts, WIDTH)
    if name == "record":
        return record.record_pages(making(), IDENTITY, fonts, WIDTH)
    if name == "delivery":
        return delivery.delivery_pages(making(), IDENTITY, fonts, WIDTH)
    pages = {
        "cutting": cutting.cutting_pages,
        "tapes": tapes.tape_pages,
        "materials": materials.material_pages,
        "assembly": assembly.assembly_pages,
    }
    return pages[name](making(), fonts, WIDTH)


def flat(story: list[Flowable]) -> list[Flowable]:
    """A story with what is kept together one after another."""
    return [
        part for item in story for part in (flat(item._content) if isinstance(item, KeepTogether) else [item])
    ]


def columns(one: Table) -> list[float]:
    """pt, of each column."""
    return list(one._colWidths)


def tables(section: str) -> list[Table]:
    """The tables of a section, cautions apart."""
    return [item for item in section_of(section) if isinstance(item, Table) and item.repeatRows]

"""Sheets of every sample and of some hard designs, made once each, and read back from the page."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from io import BytesIO
from pathlib import Path
from typing import Any

import numpy as np
import pdfplumber
from pdfminer.layout import LTChar, LTContainer
from pdfplumber.page import Page as PlumbedPage
from pdfplumber.utils.text import extract_text, extract_words
from settled import LETTERS as LETTERS
from settled import SAMPLES as SAMPLES
from settled import sample_path, settled_sample

from cage3d.design.models import Design
from cage3d.design.read import read_data
from cage3d.draw.overlay import Overlay
from cage3d.report import Report, measure
from cage3d.settle import SettledCage, settle
from cage3d.shape.lay_out import lay_out
from cage3d.sheets import Sheets, make_sheets

sample = sample_path  # here a sample is its file
POINT = 0.0254 / 72  # m
NODES = 48  # a coarser line moves heights by little and no mark at all

MANY_HOOPS, MANY_TAPES = 12, 24
WORDY = "a tie whose name is made of many words, " * 2


@cache
def hung_sample(path: Path) -> tuple[SettledCage, Report]:
    settled = settled_sample(path, NODES)
    return settled, measure(settled)


def hung_design(design: Design) -> tuple[SettledCage, Report]:
    settled = settle(lay_out(design, NODES))
    return settled, measure(settled)


@cache
def sheets_of(path: Path, paper: str = "a4") -> Sheets:
    return make_sheets(*hung_sample(path), paper)


def hard_data(**changes: Any) -> dict[str, Any]:
    """Twelve hoops on twenty-four tapes of twelve lengths, narrow casings, many ties and two panels."""
    tapes = range(MANY_TAPES)
    drops = [[5.0 + 0.125 * min(tape, MANY_TAPES - 1 - tape), *([2.5] * (MANY_HOOPS - 1))] for tape in tapes]
    data: dict[str, Any] = {
        "name": "Twelve hoops on twenty-four tapes",
        "units": "in",
        "wearer": {"waist": 28, "waist_height": 42, "code": "W-07"},
        "steel": {"width": "5 mm", "thickness": "0.5 mm"},
        "tapes": {"count": MANY_TAPES, "casing": "7 mm", "drops": drops, "width": "19 mm"},
        "hoops": [{"length": 45 + 5 * hoop} for hoop in range(MANY_HOOPS)],
        "ties": [
            {"from": f"hoop {hoop} tape 2", "to": f"hoop {hoop} tape 11", "length": 16, "name": WORDY}
            for hoop in range(4, 10)
        ],
        "skirt": {"weight": "1 kg"},
        "buying": {
            "currency": "EUR",
            "steel": [{"length": "3 m", "price": 4.5}, {"length": "2.5 m", "price": 4}],
            "prices": {"ribbon": 1.25, "tip": 0.2, "join": 0.6, "buckle": 3},
        },
    }  # fmt: skip
    return data | changes


@cache
def hung_hard() -> tuple[SettledCage, Report]:
    return hung_design(read_data(hard_data()))


@cache
def sheets_of_hard(paper: str = "a4") -> Sheets:
    return make_sheets(*hung_hard(), paper)


def renamed(**changes: str) -> tuple[SettledCage, Report]:
    """A small cage under another name, production or wearer's code."""
    code = changes.pop("code", None)
    data: dict[str, Any] = {
        "name": "plain",
        "units": "mm",
        "wearer": {"waist": 660, "waist_height": 1050} | ({"code": code} if code else {}),
        "steel": {"width": 7, "thickness": 0.5},
        "tapes": {"count": 6, "drops": [220, 180]},
        "hoops": [{"length": 1300}, {"length": 1600}],
    }
    return hung_design(read_data(data | changes))


@dataclass(frozen=True)
class Page:
    """What one page holds, in points from its upper left corner."""

    width: float
    height: float
    words: list[dict[str, Any]]
    lines: list[dict[str, Any]]
    rects: list[dict[str, Any]]
    curves: list[dict[str, Any]]
    text: str


@cache
def pages_of(pdf: bytes) -> list[Page]:
    with pdfplumber.open(BytesIO(pdf)) as document:
        return [page_of(page) for page in document.pages]


def page_of(page: PlumbedPage) -> Page:
    """As its own words, lines and text, without what else it works out of every letter: a third of the time."""
    items = list(items_in(page.layout))
    chars = [char_of(page, item) for item in items if isinstance(item, LTChar)]
    drawn = [page.process_object(item) for item in items if not isinstance(item, LTChar)]
    lines, rects, curves = (
        [item for item in drawn if item["object_type"] == kind] for kind in ("line", "rect", "curve")
    )
    return Page(page.width, page.height, extract_words(chars), lines, rects, curves, extract_text(chars))


def items_in(container: LTContainer[Any]) -> Iterator[Any]:
    """What is drawn, one after another, with what lies in figures."""
    for item in container:
        if isinstance(item, LTContainer):
            yield from items_in(item)
        else:
            yield item


def char_of(page: PlumbedPage, char: LTChar) -> dict[str, Any]:
    """What makes words of letters."""
    top, bottom = page.height - char.y1, page.height - char.y0
    return {
        "text": char.get_text(), "x0": char.x0, "x1": char.x1, "top": top, "bottom": bottom,
        "doctop": page.initial_doctop + top, "upright": char.upright, "size": char.size,
    }  # fmt: skip


class Written(Overlay):
    """An overlay that remembers what was written on it, and where (px)."""

    def __init__(self, width: int, height: int, text: float = 20.0) -> None:
        super().__init__(np.full((height, width, 3), 255, np.uint8), text)
        self.said: dict[str, tuple[float, float]] = {}

    def words(self, place: tuple[float, float], words: str, *rest: Any, **more: Any) -> None:
        self.said[words] = place
        super().words(place, words, *rest, **more)

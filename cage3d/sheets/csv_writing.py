"""How a table stands as CSV: its cells, and its lengths in the maker's writing and in millimetres."""

from __future__ import annotations

import csv
import re
from collections.abc import Iterable, Sequence
from io import StringIO
from typing import Protocol

from cage3d.sheets.writing import Writing
from cage3d.units import show_mm

FORMULA_SIGNS = tuple("=+-@\t\r\n＝＋－＠")
PLAIN_NUMBER = re.compile(r"[+-]?[0-9]+([.,][0-9]+)?")


def as_csv(heads: Sequence[str], rows: Iterable[Sequence[object]]) -> bytes:
    """Lines as RFC 4180 has them; no cell is a formula to a spreadsheet."""
    text = StringIO()
    writer = csv.writer(text, lineterminator="\r\n")
    writer.writerows([guarded(str(cell)) for cell in row] for row in (heads, *rows))
    return text.getvalue().encode()


def guarded(cell: str) -> str:
    """The cell with ' before it where a spreadsheet would reckon it out (OWASP, "CSV injection")."""
    formula = cell.lstrip(" ")[:1] in FORMULA_SIGNS and not PLAIN_NUMBER.fullmatch(cell)
    return f"'{cell}" if cell and formula else cell


class Written(Protocol):
    """What lengths are written for: one cage, or an order."""

    @property
    def writing(self) -> Writing: ...


def pair(making: Written, metres: float) -> tuple[str, str]:
    """A length as on the page, and in mm to a tenth."""
    return making.writing.plain(metres), show_mm(metres)


def heads(making: Written, *words: str) -> list[str]:
    """Each length has two columns."""
    return [f"{word}_{unit}" for word in words for unit in ("written_" + making.writing.unit, "mm")]


def plain(text: str) -> str:
    """'1¹⁄₄ in' -> '1 1/4 in': fractions as the page has them, in letters every program shows."""
    raised = str.maketrans("⁰¹²³⁴⁵⁶⁷⁸⁹₀₁₂₃₄₅₆₇₈₉⁄", "01234567890123456789/")
    return re.sub(r"(?<=\d)(?=[⁰¹²³⁴⁵⁶⁷⁸⁹])", " ", text).translate(raised)

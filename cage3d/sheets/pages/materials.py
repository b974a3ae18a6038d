"""The list of materials."""

from __future__ import annotations

from reportlab.lib.colors import black
from reportlab.platypus import Flowable, PageBreak

from cage3d.sheets.making import Making
from cage3d.sheets.materials import Material
from cage3d.sheets.paper.drawing import (
    CELL,
    CELL_RIGHT,
    HEAD,
    HEAD_RIGHT,
    SMALL,
    THIN,
    TITLE,
    gap,
    say,
    table,
)
from cage3d.sheets.paper.fonts import Letters
from cage3d.sheets.paper.frame import Chapter
from cage3d.sheets.writing import Writing
from cage3d.steady import fixed

HEADING = "5 Materials"


def material_pages(making: Making, letters: Letters, width: float) -> list[Flowable]:
    """One table; costs only where prices are written."""
    currency = making.design.buying.currency
    priced = currency is not None and any(row.cost is not None for row in making.materials)
    spare = f"{making.design.buying.spare:.0%}".replace("%", " %")
    heads = [
        ("Material", HEAD),
        ("Needed", HEAD_RIGHT),
        (f"With {spare} spare", HEAD_RIGHT),
        ("Weight", HEAD_RIGHT),
    ]
    heads.append((f"Cost, {currency}" if priced else "Cost", HEAD_RIGHT))
    rows: list[list[object]] = [[say(letters, text, style) for text, style in heads]]
    rows += [material_row(row, making.writing, letters, priced) for row in making.materials]
    extra = []
    if priced:
        total = sum(row.cost for row in making.materials if row.cost is not None)
        words = say(letters, "All that has a price", CELL)
        rows.append([words, "", "", "", say(letters, fixed(total, 2), CELL_RIGHT)])
        extra.append(("LINEABOVE", (0, -1), (-1, -1), THIN, black))
    shares = (0.48, 0.14, 0.15, 0.1, 0.13)
    story: list[Flowable] = [PageBreak(), Chapter(HEADING), say(letters, HEADING, TITLE)]
    story += [table(rows, [share * width for share in shares], extra=extra), gap(2)]
    return story + [say(letters, text, SMALL) for text in notes(making, priced)]


def material_row(row: Material, writing: Writing, letters: Letters, priced: bool) -> list[object]:
    name = [say(letters, row.name, CELL), say(letters, row.detail, SMALL)]
    weight = "" if row.weight is None else f"{fixed(row.weight * 1e3, 0)} g"
    cost = fixed(row.cost, 2) if priced and row.cost is not None else ""
    amounts = [amount_text(row.amount, row.counted, writing), amount_text(row.spare, row.counted, writing)]
    return [name, *(say(letters, text, CELL_RIGHT) for text in (*amounts, weight, cost))]


def amount_text(amount: float, counted: bool, writing: Writing) -> str:
    return fixed(amount, 0) if counted else writing.long(amount)


def notes(making: Making, priced: bool) -> list[str]:
    """What the figures mean."""
    hem = max(making.cuts, key=lambda cut: cut.cut)
    lines = [
        (
            f"Common practice beside the spare share: one spare hem hoop, {making.writing.full(hem.cut)} more"
            " steel. Connectors and tips must suit the strip with its coating. Pre-shrink ribbon; take one"
            " that does not stretch or fray."
        ),
        (
            f"The cage weighs {fixed(making.report.cage_kg * 1e3, 0)} g as it hangs, steel, joins and tapes"
            " together; weights here are of what is needed, without the spare share."
        ),
    ]
    if making.design.ties or making.design.panels:
        lines.append("Knots, eyelets and ends of laces are common practice, not measured.")
    if priced:
        unit = "yard" if making.writing.inches else "metre"
        lines.append(
            f"Prices are for a {unit} or a piece, as written in the design; steel by the length bought."
        )
    return lines

"""The list of materials."""

from __future__ import annotations

from reportlab.lib.colors import black
from reportlab.platypus import Flowable, PageBreak

from cage3d.sheets.making import Making
from cage3d.sheets.material import Material
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
    heads = [
        ("Material", HEAD),
        ("Needed", HEAD_RIGHT),
        ("To buy", HEAD_RIGHT),
        ("Weight", HEAD_RIGHT),
    ]
    if priced:
        heads.append((f"Cost, {currency}", HEAD_RIGHT))
    rows: list[list[object]] = [[say(letters, text, style) for text, style in heads]]
    rows += [material_row(row, making.writing, letters, priced) for row in making.materials]
    together = [say(letters, "All together", CELL), "", "", say(letters, grams(making.sewn_kg), CELL_RIGHT)]
    rows.append([*together, ""][: len(heads)])
    extra = [("LINEABOVE", (0, -1), (-1, -1), THIN, black)]
    if priced:
        total = sum(row.cost for row in making.materials if row.cost is not None)
        words = say(letters, "All that has a price", CELL)
        rows.append([words, "", "", "", say(letters, fixed(total, 2), CELL_RIGHT)])
        extra.append(("LINEABOVE", (0, -1), (-1, -1), THIN, black))
    shares = (0.48, 0.14, 0.15, 0.1, 0.13)[: len(heads)]
    story: list[Flowable] = [PageBreak(), Chapter(HEADING), say(letters, HEADING, TITLE)]
    story += [table(rows, [share * width for share in shares], extra=extra), gap(2)]
    return story + [say(letters, text, SMALL) for text in notes(making, priced)]


def material_row(row: Material, writing: Writing, letters: Letters, priced: bool) -> list[object]:
    name = [say(letters, row.name, CELL), say(letters, row.words, SMALL)]
    cost = fixed(row.cost, 2) if priced and row.cost is not None else ""
    amounts = [amount_text(row.amount, row.counted, writing), amount_text(row.buy, row.counted, writing)]
    figures = [*amounts, grams(row.weight), *([cost] if priced else [])]
    return [name, *(say(letters, text, CELL_RIGHT) for text in figures)]


def amount_text(amount: float, counted: bool, writing: Writing) -> str:
    return fixed(amount, 0) if counted else writing.long(amount)


def grams(kilograms: float) -> str:
    return f"{fixed(kilograms * 1e3, 0)} g"


def notes(making: Making, priced: bool) -> list[str]:
    """What the figures mean."""
    hem = max(making.cuts, key=lambda cut: cut.cut)
    more = hem.section.pieces * hem.cut
    spare = f"{making.design.buying.spare:.0%}".replace("%", " %")
    stuff = making.design.stuff
    fitting = "the strip with its coating" if stuff == "steel" else "what they go on"
    lines = [
        (
            f"To buy: of {stuff} the coils or lengths of the order of cutting, of all else what is needed and"
            f" {spare} to spare, lengths rounded up. Common practice beside that: one spare hem hoop,"
            f" {making.writing.full(more)} more {hem.section.steel.made_of.stuff}. Connectors and tips must suit"
            f" {fitting}. Pre-shrink ribbon; take one"
            " that does not stretch or fray."
        ),
        *weight_notes(making),
    ]
    if making.design.ties or making.design.panels:
        lines.append("Knots, eyelets and ends of laces are common practice, not measured.")
    if priced:
        unit = "yard" if making.writing.inches else "metre"
        lines.append(
            f"Prices are for a {unit} or a piece, as written in the design; {stuff} by the length bought."
        )
    return lines


def weight_notes(making: Making) -> list[str]:
    """What the whole cage weighs, and which part of it the predicted heights know of."""
    carried = sum(hoop.carries for hoop in making.design.hoops)
    cloth = "cloth" if making.gores else "tapes"
    more = f", with the {grams(carried)} that its hoops carry" if carried else ""
    return [
        (
            f"The cage weighs {grams(making.weight_kg)} as it is lifted{more}. {grams(making.band_kg)} of it are"
            " the waistband with belting and buckle, which rest on her waist and pull on no hoop. The heights"
            f" are worked out with the {grams(making.report.cage_kg)} of {making.design.stuff}, laps, tubes and {cloth}"
            f" that hang below the band. Connectors, tips, ties, laces, web and thread, {grams(making.small_kg)}, hang"
            " on the hoops too and are left out of the heights; to count them, write a hoop’s share as its"
            " carries. Weights are of what is needed, without what is spare."
        ),
        "Weights of ribbon, belting, buckle, connectors, tips, laces and thread are from memory: weigh yours.",
    ]

"""The sheets of an order: two PDF and its tables."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from cage3d.sheets.csv_writing import as_csv, heads, pair, plain
from cage3d.sheets.order import Order, first_word
from cage3d.sheets.pages.labels import label_pages
from cage3d.sheets.pages.order import amounts_of, identity_of, order_pages, who_row
from cage3d.sheets.paper.fonts import letters
from cage3d.sheets.paper.frame import bound
from cage3d.sheets.paper.sizes import paper_named
from cage3d.sheets.tables import material_head
from cage3d.steady import fixed

TABLES = ("who-gets-what", "order-of-cutting", "materials", "quote")
SHEETS = ("order.pdf", "labels.pdf", *(f"tables/{table}.csv" for table in TABLES))


def order_files(order: Order, paper: str = "a4") -> dict[str, bytes]:
    """Bytes by file name. Raises CommandError for an unknown paper."""
    sheet, fonts = paper_named(paper), letters()
    identity, width = identity_of(order), sheet.frame[2]
    return {
        "order.pdf": bound(sheet, identity, fonts, lambda _known: order_pages(order, fonts, width)),
        "labels.pdf": bound(sheet, identity, fonts, lambda _known: label_pages(order, fonts, width)),
        "tables/who-gets-what.csv": who_gets_what(order),
        "tables/order-of-cutting.csv": order_of_cutting(order),
        "tables/materials.csv": material_list(order),
        "tables/quote.csv": quote_table(order),
    }


def who_gets_what(order: Order) -> bytes:
    """One line a wearer."""
    unit = order.writing.unit
    first = f"first_{first_word(order.design)}"
    names = ("waist", "hip", "waist_height", "band_cut", first, "hem", "hoops")
    rows = [
        [cage.code, cage.graded.row.role, *map(plain, who_row(cage, order.writing)), cage.graded.row.folder]
        for cage in order.cages
    ]
    return as_csv(["wearer", "role", *(f"{name}_{unit}" for name in names), "folder"], rows)


def order_of_cutting(order: Order) -> bytes:
    """One line a piece, length by length."""
    rows: list[list[object]] = []
    for plan in order.plans:
        for number, bar in enumerate(plan.bars, start=1):
            own = [plan.section.words, number, *pair(order, bar.length)]
            for piece, cut in zip(bar.hoops, bar.cuts, strict=True):
                cage, hoop = order.piece(piece)
                rows.append([*own, cage.code, hoop.hoop, *pair(order, cut)])
            rows.append([*own, "left over", "", *pair(order, bar.left)])
    bought = [material_head(order.design), "length", *heads(order, "bought")]
    return as_csv([*bought, "wearer", "hoop", *heads(order, "piece")], rows)


def material_list(order: Order) -> bytes:
    return as_csv(
        ["material", "detail", "needed", "to_buy", "unit", "cost", "currency"],
        (
            [
                row.name,
                plain(row.words),
                *(fixed(amount, 0 if row.counted else 3) for amount in (row.amount, row.buy)),
                "pieces" if row.counted else "m",
                amount_of(row.cost),
                order.design.buying.currency or "",
            ]
            for row in order.materials
        ),
    )


def quote_table(order: Order) -> bytes:
    """Hours by what is done, then amounts."""
    quote = order.quote
    works: Iterable[Sequence[object]] = (
        [
            work.name,
            work.count,
            "" if work.minutes is None else f"{work.minutes:g}",
            amount_of(work.hours),
            "",
        ]
        for work in quote.works
    )
    amounts = ([name, "", "", "", fixed(value, 2)] for name, value in amounts_of(quote))
    return as_csv(
        ["what", "count", "minutes_each", "hours", f"amount_{quote.currency or ''}"], [*works, *amounts]
    )


def amount_of(value: float | None) -> str:
    return "" if value is None else fixed(value, 2)

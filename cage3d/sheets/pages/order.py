"""The pages of an order: who gets what, one order of cutting, one list to buy from, the quote."""

from __future__ import annotations

from collections.abc import Callable

from reportlab.lib.colors import black
from reportlab.platypus import Flowable, PageBreak

from cage3d.sheets.making import checksum
from cage3d.sheets.order import Order, Ordered, alike, first_word
from cage3d.sheets.pages.bars import plan_block
from cage3d.sheets.pages.cutting import cutting_cautions
from cage3d.sheets.pages.marks import of_hoops
from cage3d.sheets.pages.materials import material_row
from cage3d.sheets.paper.drawing import (
    BODY,
    CELL,
    CELL_RIGHT,
    HEAD,
    HEAD_RIGHT,
    NUMBER,
    SMALL,
    SUBTITLE,
    THIN,
    TITLE,
    bold_then,
    gap,
    say,
    table,
)
from cage3d.sheets.paper.fonts import Letters
from cage3d.sheets.paper.frame import Chapter, Identity
from cage3d.sheets.quote import Quote
from cage3d.sheets.writing import Writing, plural
from cage3d.steady import fixed
from cage3d.wording import capital, listed

WHO, STEEL, BUY, QUOTE = "1 Who gets what", "2 Steel: one order of cutting", "3 What to buy", "4 Quote"
NONE = "–"


def identity_of(order: Order) -> Identity:
    design = order.design
    name = f"{design.name}: order for {plural(len(order.cages), 'wearer')}"
    return Identity(name, design.production or "", "", checksum(design))


def order_pages(order: Order, letters: Letters, width: float) -> list[Flowable]:
    """Every page of the order."""
    return [
        *who_pages(order, letters, width),
        *steel_pages(order, letters, width),
        *buying_pages(order, letters, width),
        *quote_pages(order.quote, letters, width),
    ]


def who_pages(order: Order, letters: Letters, width: float) -> list[Flowable]:
    """One row a wearer; what was taken by proportion, what to mind, and who is left out."""
    story: list[Flowable] = [Chapter(WHO), say(letters, WHO, TITLE)]
    story += [who_table(order, letters, width), gap(2)]
    worked_out = f"Heights and {first_word(order.design)}s are worked out for each with her skirt on"
    story += [say(letters, f"{worked_out}; * a longer hoop.", SMALL)]
    story += [say(letters, "Hoops that are shared", SUBTITLE)]
    story += [say(letters, line, BODY) for line in shared_steel(order)]
    story += [say(letters, "Measures taken by proportion from the design’s wearer", SUBTITLE)]
    story += [
        bold_then(letters, f"{cage.code}.", taken_words(cage, order.writing), BODY) for cage in order.cages
    ]
    story += [say(letters, "What to mind", SUBTITLE)]
    minded = [(cage.code, text) for cage in order.cages for text in cautions_for(cage, order.writing)]
    story += [bold_then(letters, f"{code}.", text, BODY) for code, text in minded]
    if not minded:
        story.append(say(letters, "No warnings.", BODY))
    if order.refused:
        story.append(say(letters, "Not made", SUBTITLE))
        for refused in order.refused:
            why = " ".join(f"{capital(problem.why)}. {problem.try_this}." for problem in refused.problems)
            story.append(bold_then(letters, f"{refused.row.code}.", why, BODY))
    return story


def who_table(order: Order, letters: Letters, width: float) -> Flowable:
    unit = order.writing.unit
    heads = [
        ("Wearer", HEAD),
        (f"Waist, {unit}", HEAD_RIGHT),
        (f"Hip, {unit}", HEAD_RIGHT),
        (f"Waist height, {unit}", HEAD_RIGHT),
        (f"Band cut, {unit}", HEAD_RIGHT),
        (f"First {first_word(order.design)}, {unit}", HEAD_RIGHT),
        (f"Hem, {unit}", HEAD_RIGHT),
        (f"Hoops, {unit}", HEAD_RIGHT),
    ]
    rows: list[list[object]] = [[say(letters, text, style) for text, style in heads]]
    for cage in order.cages:
        name = [say(letters, cage.code, NUMBER), say(letters, cage.graded.row.role, SMALL)]
        figures = who_row(cage, order.writing)
        rows.append([name, *(say(letters, figure, CELL_RIGHT) for figure in figures)])
    shares = (0.17, 0.08, 0.08, 0.10, 0.09, 0.12, 0.15, 0.21)
    return table(rows, [share * width for share in shares])


def who_row(cage: Ordered, writing: Writing) -> tuple[str, ...]:
    """Waist, hip, waist height, band cut, first drop or level, hem and hoops as they stand on page and in the table."""
    wearer, graded = cage.design.wearer, cage.graded
    heights = waist_heights_of(cage)
    return (
        writing.figure(wearer.waist),
        NONE if wearer.hip is None else writing.figure(wearer.hip),
        spread(heights, writing.figure),
        writing.figure(cage.band.cut),
        spread([row[0] for row in cage.design.tapes.drops], writing.figure),
        spread(list(map(float, graded.hem)), writing.eighths),
        " · ".join(
            writing.figure(hoop.length) + ("*" if number in graded.longer else "")
            for number, hoop in enumerate(cage.design.hoops, start=1)
        ),
    )


def waist_heights_of(cage: Ordered) -> list[float]:
    height = cage.design.wearer.waist_height
    if isinstance(height, float):
        return [height]
    return [height.front, height.left, height.back, height.right]


def spread(lengths: list[float], write: Callable[[float], str]) -> str:
    """'7¹⁄₂', or '7¹⁄₂ to 8' where they differ."""
    low, high = write(min(lengths)), write(max(lengths))
    return low if low == high else f"{low} to {high}"


def shared_steel(order: Order) -> list[str]:
    """'Hoops 2–4: one length for all.', 'Hoop 1: 48 in for W-24; 53 in for W-30.'"""
    lines, same = [], []
    for hoop, lengths in enumerate(alike(order), start=1):
        if len(lengths) == 1:
            same.append(f"hoop {hoop} {order.writing.full(lengths[0][0])}")
            continue
        parts = [f"{order.writing.full(length)} for {listed(codes)}" for length, codes in lengths]
        lines.append(f"Hoop {hoop}: {'; '.join(parts)}.")
    if same:
        lines.insert(0, f"One length for all: {', '.join(same)}.")
    return lines


def taken_words(cage: Ordered, writing: Writing) -> str:
    """Measures that her line does not give, each with how it follows from the design."""
    by_rule: dict[str, list[str]] = {}
    for one in cage.graded.taken:
        by_rule.setdefault(one.how, []).append(f"{one.key.replace('_', ' ')} {writing.height(one.metres)}")
    said = [f"{listed(measures)}, {how}" for how, measures in by_rule.items()]
    return "; ".join(said) + "." if said else "None."


def cautions_for(cage: Ordered, writing: Writing) -> list[str]:
    """Warnings of her cage, and a hem that is off."""
    said = [warning.text for warning in cage.report.warnings]
    if not cage.graded.reached:
        off, first = writing.full(cage.graded.most_off), first_word(cage.design)
        said.insert(0, f"The hem is {off} off: no first {first} brings it nearer.")
    return said


def steel_pages(order: Order, letters: Letters, width: float) -> list[Flowable]:
    """Every coil with the pieces of all cages."""
    heading = of_hoops(STEEL, order.design)
    story: list[Flowable] = [PageBreak(), Chapter(heading), say(letters, heading, TITLE)]
    story += cutting_cautions((plan.section for plan in order.plans), letters, width)
    for plan in order.plans:
        story += plan_block(plan, order.writing, letters, width, order.called)
    return [*story, say(letters, "Tie her label to each piece as it is cut, deburred and capped.", SMALL)]


def buying_pages(order: Order, letters: Letters, width: float) -> list[Flowable]:
    """One list for all cages."""
    currency = order.design.buying.currency
    priced = currency is not None and any(row.cost is not None for row in order.materials)
    heads = [("Material", HEAD), ("Needed", HEAD_RIGHT), ("To buy", HEAD_RIGHT), ("Weight", HEAD_RIGHT)]
    heads += [(f"Cost, {currency}", HEAD_RIGHT)] if priced else []
    rows: list[list[object]] = [[say(letters, text, style) for text, style in heads]]
    rows += [material_row(row, order.writing, letters, priced) for row in order.materials]
    extra = []
    if priced:
        total = say(letters, fixed(order.quote.materials or 0.0, 2), CELL_RIGHT)
        rows.append([say(letters, "All that has a price", CELL), "", "", "", total])
        extra = [("LINEABOVE", (0, -1), (-1, -1), THIN, black)]
    shares = (0.48, 0.14, 0.15, 0.1, 0.13)[: len(heads)]
    spare = f"{order.design.buying.spare:.0%}".replace("%", " %")
    words = (
        f"To buy: of {order.design.stuff} the coils or lengths of the order of cutting, of all else what the cages need"
        f" together and {spare} to spare, in whole rolls where the design writes how long they are."
    )
    return [
        PageBreak(),
        Chapter(BUY),
        say(letters, BUY, TITLE),
        table(rows, [share * width for share in shares], extra=extra),
        gap(2),
        say(letters, words, SMALL),
    ]


def quote_pages(quote: Quote, letters: Letters, width: float) -> list[Flowable]:
    """Hours by what is done, then amounts; what is not written stands open."""
    heads = [("Work", HEAD), ("How many", HEAD_RIGHT), ("Minutes each", HEAD_RIGHT), ("Hours", HEAD_RIGHT)]
    rows: list[list[object]] = [[say(letters, text, style) for text, style in heads]]
    for work in quote.works:
        minutes = "open" if work.minutes is None else f"{work.minutes:g}"
        hours = "open" if work.hours is None else fixed(work.hours, 2)
        figures = [say(letters, text, CELL_RIGHT) for text in (str(work.count), minutes, hours)]
        rows.append([say(letters, work.name, CELL), *figures])
    total = "open" if quote.hours is None else fixed(quote.hours, 2)
    rows.append([say(letters, "All hours that are known", CELL), "", "", say(letters, total, CELL_RIGHT)])
    extra = [("LINEABOVE", (0, -1), (-1, -1), THIN, black)]
    story: list[Flowable] = [PageBreak(), Chapter(QUOTE), say(letters, QUOTE, TITLE)]
    story += [table(rows, [share * width for share in (0.52, 0.16, 0.16, 0.16)], extra=extra), gap(4)]
    amounts = amounts_of(quote)
    if amounts:
        money = [
            [
                say(letters, text, style)
                for text, style in (("Amount", HEAD), (quote.currency or "", HEAD_RIGHT))
            ]
        ]
        money += [
            [say(letters, name, CELL), say(letters, fixed(value, 2), CELL_RIGHT)] for name, value in amounts
        ]
        story += [table(money, [0.7 * width, 0.3 * width], extra=extra), gap(2)]
    if quote.open:
        story.append(bold_then(letters, "Not in it:", f"{listed(quote.open)}.", BODY))
    where = (
        "Minutes, the price of an hour and the contingency are the maker’s own, under buying: in the design."
    )
    return [*story, say(letters, where, SMALL)]


def amounts_of(quote: Quote) -> list[tuple[str, float]]:
    """Names and amounts, the total last; empty where nothing has a price."""
    if quote.total is None or quote.currency is None:
        return []
    found = [] if quote.materials is None else [("Materials", quote.materials)]
    if quote.labour is not None and quote.hours is not None:
        found.append((f"Work, {fixed(quote.hours, 2)} h at {fixed(quote.hour or 0.0, 2)}", quote.labour))
    if quote.added is not None:
        found.append((f"Contingency, {100 * (quote.contingency or 0.0):g} %", quote.added))
    return [*found, ("All together", quote.total)]

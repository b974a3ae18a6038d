"""What an order tells: on the screen in eighty columns, and as JSON."""

from __future__ import annotations

from typing import Any

from rich.console import Group, RenderableType
from rich.text import Text

from cage3d.design.hoop_materials import one_stuff
from cage3d.legible import in_signs_of, legible
from cage3d.report.as_json import problem_json
from cage3d.report.cautions import PREDICTIONS
from cage3d.report.figure_table import FigureTable
from cage3d.sheets.csv_writing import plain
from cage3d.sheets.order import Order, Ordered, alike, first_word
from cage3d.sheets.pages.order import amounts_of, spread
from cage3d.sheets.writing import plural
from cage3d.steady import fixed, steady
from cage3d.units import show_length
from cage3d.wording import capital, listed, numbered

DIGITS = 8  # decimals of a metre


def order_view(order: Order, encoding: str = "utf-8") -> Group:
    """Who gets what, which steel is shared, what is bought and what it costs."""

    def said(text: str, style: str = "") -> Text:
        return Text(in_signs_of(encoding, legible(text)), style)

    parts: list[RenderableType] = [
        said(order.design.name, "bold"),
        said(f"For {plural(len(order.cages), 'wearer')}{left_out(order)}", "bold"),
        said(f"Wearers ({unit_on_screen(order)}; off: the most that the hem is from where it should hang)"),
        wearer_table(order),
    ]
    told = [*shared(order), *taken(order), "", *bought(order), *quoted(order), "", PREDICTIONS]
    return Group(*parts, *map(said, told))


def left_out(order: Order) -> str:
    codes = [refused.row.code for refused in order.refused]
    return f"; none for {listed(codes)}" if codes else ""


def unit_on_screen(order: Order) -> str:
    """The design's own, as every table on the screen has it; sheets of metric designs are in millimetres."""
    return "in" if order.writing.unit == "in" else order.design.units or "mm"


def wearer_table(order: Order) -> FigureTable:
    first = f"{capital(first_word(order.design))} 1"
    heads = ("Wearer", "Waist", "Hip", first, "Hem", "Off, mm", "Longer", "To mind")
    return FigureTable(heads, [wearer_row(order, cage) for cage in order.cages], words=True)


def wearer_row(order: Order, cage: Ordered) -> tuple[str, ...]:
    writing, wearer, graded = order.writing, cage.design.wearer, cage.graded
    inches, unit = writing.unit == "in", unit_on_screen(order)

    def cut(metres: float) -> str:
        return writing.plain(metres) if inches else show_length(metres, unit, unit=False)

    def hung(metres: float) -> str:
        return plain(writing.eighths(metres)) if inches else cut(metres)

    return (
        cage.code,
        cut(wearer.waist),
        "-" if wearer.hip is None else cut(wearer.hip),
        spread([row[0] for row in cage.design.tapes.drops], cut),
        spread(list(map(float, graded.hem)), hung),
        fixed(1e3 * graded.most_off, 1),
        numbered("hoop", graded.longer) if graded.longer else "-",
        str(len(cage.report.warnings)),
    )


def shared(order: Order) -> list[str]:
    """Which hoops have one length for all, and who has which of the others."""
    lines, same = [], []
    for hoop, lengths in enumerate(alike(order), start=1):
        if len(lengths) == 1:
            same.append(f"hoop {hoop} {show_length(lengths[0][0], order.design.units, 1 / 16)}")
            continue
        parts = [
            f"{show_length(length, order.design.units, 1 / 16)} for {listed(codes)}"
            for length, codes in lengths
        ]
        lines.append(f"Hoop {hoop}: {'; '.join(parts)}.")
    return [*([f"One length for all: {', '.join(same)}."] if same else []), *lines]


def taken(order: Order) -> list[str]:
    """Which measures were taken from the design's wearer."""
    by_rule: dict[str, dict[str, None]] = {}
    for cage in order.cages:
        for one in cage.graded.taken:
            by_rule.setdefault(one.how, {})[one.key.replace("_", " ")] = None
    said = [f"{listed(list(keys))}, {how}" for how, keys in by_rule.items()]
    return [f"From the design's wearer where not given: {'; '.join(said)}."] if said else []


def bought(order: Order) -> list[str]:
    """Steel and the plan's worth."""
    lines = []
    for row in order.materials:
        if row.key == "steel":
            cut, buy = (order.writing.long(metres) for metres in (row.amount, row.buy))
            lines.append(f"{row.name}: {cut} to cut, {buy} to buy; {row.detail}.".replace("×", "x"))
    best = all(plan.best for plan in order.plans) and all(plan.written for plan in order.plans)
    stuff = one_stuff(order.design.stuff, "for the hoops")
    return [*lines, *([f"No other plan buys less {stuff}."] if best else [])]


def quoted(order: Order) -> list[str]:
    """Hours and amounts; what stands open."""
    quote = order.quote
    lines = [] if quote.hours is None else [f"Work: {fixed(quote.hours, 2)} h."]
    amounts = [f"{name}: {fixed(value, 2)}" for name, value in amounts_of(quote)]
    lines += [f"{'; '.join(amounts)} {quote.currency}."] if amounts else []
    return [*lines, *([f"Open: {listed(quote.open)}."] if quote.open else [])]


def order_json(order: Order) -> dict[str, Any]:
    """Plain values: m, and amounts in the design's currency."""
    return {
        "version": 1,
        "design": order.design.name,
        "wearers": [wearer_json(cage) for cage in order.cages],
        "refused": [
            {"code": one.row.code, "problems": [problem_json(problem) for problem in one.problems]}
            for one in order.refused
        ],
        "hoops": [
            [{"length_m": metres(length), "wearers": codes} for length, codes in lengths] for lengths in alike(order)
        ],
        "steel": [
            {
                "strip": plan.section.words,
                "cut_m": metres(plan.cut),
                "bought_m": metres(plan.bought),
                "proved_least": plan.best and plan.written,
                "lengths": [
                    {"length_m": metres(bar.length), "left_m": metres(bar.left), "pieces": pieces(order, bar.hoops)}
                    for bar in plan.bars
                ],
            }
            for plan in order.plans
        ],
        "materials": [
            {"name": row.name, "needed": steady(row.amount, 6), "to_buy": steady(row.buy, 6),
             "unit": "pieces" if row.counted else "m", "cost": money(row.cost)}
            for row in order.materials
        ],
        "quote": quote_json(order),
    }  # fmt: skip


def wearer_json(cage: Ordered) -> dict[str, Any]:
    wearer, graded = cage.design.wearer, cage.graded
    return {
        "code": cage.code,
        "role": graded.row.role,
        "folder": graded.row.folder,
        "waist_m": metres(wearer.waist),
        "hip_m": None if wearer.hip is None else metres(wearer.hip),
        "hoops_m": [metres(hoop.length) for hoop in cage.design.hoops],
        "longer": list(graded.longer),
        "first_drops_m": [metres(row[0]) for row in cage.design.tapes.drops],
        "hem_m": [metres(float(height)) for height in graded.hem],
        "hem_off_m": metres(graded.most_off),
        "by_proportion": [
            {"measure": one.key, "length_m": metres(one.metres), "how": one.how} for one in graded.taken
        ],
        "warnings": [warning.text for warning in cage.report.warnings],
    }


def pieces(order: Order, numbers: tuple[int, ...]) -> list[dict[str, Any]]:
    found = [order.piece(number) for number in numbers]
    return [{"code": cage.code, "hoop": cut.hoop, "cut_m": metres(cut.cut)} for cage, cut in found]


def quote_json(order: Order) -> dict[str, Any]:
    quote = order.quote
    return {
        "currency": quote.currency,
        "hours": None if quote.hours is None else steady(quote.hours, 4),
        "works": [
            {"work": work.key, "count": work.count, "minutes_each": work.minutes, "hours": work.hours}
            for work in quote.works
        ],
        "materials": money(quote.materials),
        "labour": money(quote.labour),
        "contingency": money(quote.added),
        "total": money(quote.total),
        "open": list(quote.open),
    }


def money(value: float | None) -> float | None:
    return None if value is None else steady(value, 2)


def metres(value: float) -> float:
    return steady(value, DIGITS)

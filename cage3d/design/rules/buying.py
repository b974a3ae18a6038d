"""Rules for what is bought and what is printed."""

from __future__ import annotations

import re
from collections.abc import Iterator

from cage3d.design import stock
from cage3d.design.models import Design
from cage3d.errors import Problem
from cage3d.wording import nearest


def prices_have_a_currency(design: Design) -> Iterator[Problem]:
    buying = design.buying
    priced = [f"buying.prices.{key}" for key in buying.prices]
    priced += ["buying.hour"] if buying.hour is not None else []
    priced += [
        f"buying.steel[{number}].price" for number, one in enumerate(buying.steel) if one.price is not None
    ]
    if priced and not buying.currency:
        yield Problem(
            priced[0], "price", "there are prices and no currency", "Write currency: EUR under buying"
        )


def prices_are_of_known_things(design: Design) -> Iterator[Problem]:
    for key in design.buying.prices:
        if key not in stock.PRICED:
            near = nearest(key, stock.PRICED)
            hint = f"Did you mean {near}?" if near else f"Write one of {', '.join(stock.PRICED)}"
            yield Problem(
                f"buying.prices.{key}", key, "nothing of this name is bought, so its price is not used", hint
            )


def rolls_are_of_known_things(design: Design) -> Iterator[Problem]:
    for key in design.buying.rolls:
        if key not in stock.ROLLED:
            near = nearest(key, stock.ROLLED)
            hint = f"Did you mean {near}?" if near else f"Write one of {', '.join(stock.ROLLED)}"
            yield Problem(f"buying.rolls.{key}", key, "nothing of this name is bought in rolls", hint)


def scale_of_the_miniature(design: Design) -> Iterator[Problem]:
    written = design.printing.scale
    found = re.fullmatch(r"1 ?[:/] ?([0-9]{1,9}(?:\.[0-9]{1,9})?)", written)
    if not found or not 1.0 <= float(found[1]) <= 100.0:
        yield Problem("printing.scale", written, "this is not a scale from 1:1 to 1:100", "Write scale: 1:6")


RULES = (
    prices_have_a_currency,
    prices_are_of_known_things,
    rolls_are_of_known_things,
    scale_of_the_miniature,
)

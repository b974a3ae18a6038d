"""What cannot be bought or printed."""

from __future__ import annotations

from wrong.case import Wrong, also

COSTS: dict[str, Wrong] = {
    "negative allowance": (("count: 8", "count: 8\n  allowance: {top: -1}"), 9, "cannot be less than zero"),
    "price without a currency": (also("buying: {prices: {ribbon: 2.50}}"), 15, "prices and no currency"),
    "price with its currency": (
        also("buying: {currency: EUR, prices: {ribbon: 2.50 EUR}}"),
        15,
        "Write the number alone",
    ),
    "a formula for a currency": (also('buying: {currency: "=1+1"}'), 15, "Write its three letters"),
    "a long word for a currency": (also("buying: {currency: doubloons}"), 15, "this is no currency"),
    "an amount for a currency": (also('buying: {currency: "12$"}'), 15, "this is no currency"),
    "negative price": (also("buying: {currency: EUR, prices: {ribbon: -2}}"), 15, "less than zero"),
    "a price for something unknown": (
        also("buying: {currency: EUR, prices: {ribbons: 2}}"),
        15,
        "Did you mean ribbon?",
    ),
    "a scale of nothing": (also('printing: {scale: "1:0"}'), 15, "not a scale from 1:1 to 1:100"),
    "unknown process": (also("printing: {process: laser}"), 15, "Write one of filament, resin, powder"),
}

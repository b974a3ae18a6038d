"""A design's text with other lengths and drops in it, as its maker writes them."""

from __future__ import annotations

import re
from copy import deepcopy
from math import ceil
from typing import Any

from cage3d.design.models import Design, Panel
from cage3d.design.rewriting import rewritten
from cage3d.study.down import rows_down, sides_of
from cage3d.units import show_inches
from cage3d.units.kinds import INCH, LENGTHS
from cage3d.units.showing import short

SAME = 1e-7  # m: a number that changed by less is written as it was
FINEST = 64  # parts of an inch: no finer fraction is on a rule
DIGITS = {"in": 4, "mm": 2, "cm": 3, "m": 5}  # of a number that is not rounded


def text_with(
    text: str, data: dict[str, Any], before: Design, after: Design, step: float | None, name: str
) -> str:
    """The text of `before` with the numbers of `after`, as `data_with` writes them. Raises as `rewritten`."""
    return rewritten(text, data_with(data, before, after, step), name)


def data_with(data: dict[str, Any], before: Design, after: Design, step: float | None) -> dict[str, Any]:
    """The plain data of `before` with the lengths, drops or levels, ties and panels of `after`, written as they were.

    step: to which inches or millimetres are rounded (m), None: not.
    """
    told = deepcopy(data)
    for number, (old, new) in enumerate(zip(before.hoops, after.hoops, strict=True)):
        put_length(told["hoops"][number], "length", old.length, new.length, before, step)
        if old.slide is not None and new.slide is not None:
            for key, was, now in zip(old.slide._fields, old.slide, new.slide, strict=True):
                put_length(told["hoops"][number]["join"], key, was, now, before, step)
    for number, (tie, other) in enumerate(zip(before.ties, after.ties, strict=True)):
        put_length(told["ties"][number], "length", tie.length, other.length, before, step)
    for number, pair in enumerate(zip(before.panels, after.panels, strict=True)):
        put_panel(told["panels"][number], *pair, before, step)
    if before.cloth is None:
        put_rows(told["tapes"], "drops", before, after, step)
    else:
        put_cloth(told["cloth"], before, after, step)
    return told


def put_length(group: Any, key: Any, old: float, new: float, design: Design, step: float | None) -> None:
    if abs(new - old) > SAME:
        group[key] = length_text(new, str(group[key]), design.units, step)


def put_panel(group: dict[str, Any], old: Panel, new: Panel, design: Design, step: float | None) -> None:
    """Its widths, one by one, or its tightness in whole per cent where it was rounded."""
    for row, (was, now) in enumerate(zip(old.widths or (), new.widths or (), strict=True)):
        put_length(group["widths"], row, was, now, design, step)
    if old.tightness is not None and new.tightness is not None and abs(new.tightness - old.tightness) > SAME:
        group["tightness"] = f"{short(100.0 * new.tightness, 4)} %"


def put_cloth(cloth: dict[str, Any], before: Design, after: Design, step: float | None) -> None:
    """Levels on the seams or by side, and girths where they are written: never less than goes round the hoop.

    Where levels by side have become those of the seams, these are written in their place.
    """
    if sides_of(before.cloth) and not sides_of(after.cloth):
        rows = rows_down(after)
        cloth["levels"] = [[length_text(level, "", before.units, step) for level in row] for row in rows]
    elif sides := sides_of(before.cloth):
        for side, old, new in zip(sides, rows_down(before), rows_down(after), strict=True):
            for hoop, (was, now) in enumerate(zip(old, new, strict=True)):
                put_length(cloth["levels"][side], hoop, was, now, before, step)
    else:
        put_rows(cloth, "levels", before, after, step)
    for hoop, (was, now) in enumerate(zip(girths_of(before), girths_of(after), strict=True)):
        rounded = now if step is None else ceil(now / step - SAME) * step
        put_length(cloth["girths"], hoop, was, now if abs(now - was) <= SAME else rounded, before, step)


def girths_of(design: Design) -> tuple[float, ...]:
    """m of cloth along each casing, where they are written."""
    return (design.cloth.girths or ()) if design.cloth else ()


def put_rows(group: dict[str, Any], key: str, before: Design, after: Design, step: float | None) -> None:
    """Drops or levels: one list for all tapes or seams stays one as long as all are alike."""
    old, new = rows_down(before), rows_down(after)
    rows = group[key]
    bare = not any(isinstance(row, list) for row in rows)
    if not bare and len(rows) < len(old):  # one list of levels in a list
        rows[:] = [list(rows[0]) for _ in old]
    alike = len(set(map(len, new))) == 1 and all(
        abs(one - other) < SAME for row in new for one, other in zip(row, new[0], strict=True)
    )
    if bare and not alike:
        group[key] = rows = [list(rows) for _ in old]
    for line, row in enumerate([rows] if bare and alike else rows):
        for number in range(len(row)):
            put_length(row, number, old[line][number], new[line][number], before, step)


def length_text(metres: float, written: str, units: str | None, step: float | None) -> str:
    """A length as it was written, with its own unit or without: '70 1/2', '178.5 cm'."""
    own = re.search(r"(in|cm|mm|m)\.?\s*$", written.lower())
    unit = own[1] if own else units if units in ("in", "cm", "mm", "m") else None
    if unit is None:
        unit, own = ("in", own) if units == "ft" else ("mm", own)
        return f"{number_in(metres, unit, step)} {unit}"
    return number_in(metres, unit, step) + (f" {own[1]}" if own else "")


def in_full(metres: float, units: str | None) -> str:
    """A length with its unit, to the last digit that is cut by: '7 17/32 in', and '42.2 in' where no fraction fits."""
    if units not in ("in", "ft"):
        return f"{number_in(metres, units or 'mm', None)} {units or 'mm'}"
    on_a_fraction = abs(metres / INCH * FINEST - round(metres / INCH * FINEST)) < 1e-3
    return f"{number_in(metres, 'in', INCH / FINEST if on_a_fraction else None)} in"


def number_in(metres: float, unit: str, step: float | None) -> str:
    """Without its unit; inches in fractions where they are rounded to some."""
    if unit == "in" and step:
        return show_inches(metres, step / INCH)
    return short(metres / LENGTHS[unit], DIGITS[unit])

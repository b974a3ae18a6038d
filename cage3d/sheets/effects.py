"""What one mark that is off does to the hem of this cage, in words."""

from __future__ import annotations

from cage3d.foresee.sensitivity import MarkEffect, mark_effects
from cage3d.settle.state import SettledCage
from cage3d.sheets.tapes import side_of
from cage3d.sheets.writing import SIXTEENTH, Writing
from cage3d.units import show_mm

OFF_INCHES, OFF_METRIC = 2.0 * SIXTEENTH, 0.003  # m, by which a mark is taken to be off
MOST_ROWS = 8


def effect_rows(settled: SettledCage, writing: Writing) -> list[tuple[str, str]]:
    """(mark, effect) of the strongest mark of each tape, the strongest first; worked out for small shifts."""
    off = OFF_INCHES if writing.inches else OFF_METRIC
    sides = [side_of(float(fraction)) for fraction in settled.cage.stations]
    strongest: dict[int, MarkEffect] = {}
    for effect in mark_effects(settled):
        strongest.setdefault(effect.tape, effect)
    rows = []
    for effect in list(strongest.values())[:MOST_ROWS]:
        words = hem_words(effect, off, writing)
        if not words:
            continue
        mark = f"Tape {effect.tape + 1} {sides[effect.tape]}, hoop {effect.hoop + 1}: {writing.full(off)} low"
        rows.append((mark, words))
    return rows


def hem_words(effect: MarkEffect, off: float, writing: Writing) -> str:
    """'Hem: front 2.1 mm lower, back 0.4 mm higher.'; empty where nothing can be measured."""
    places = (("front", effect.front), ("left", effect.left), ("back", effect.back), ("right", effect.right))
    parts = []
    for place, share in places:
        text = moved(share * off, writing)
        if text:
            parts.append(f"{place} {text}")
    return f"Hem: {', '.join(parts)}." if parts else ""


def moved(metres: float, writing: Writing) -> str:
    """'¹⁄₁₆ in lower'; empty where it is too little to be measured."""
    size = abs(metres)
    if size < (SIXTEENTH / 2.0 if writing.inches else 0.0005):
        return ""
    text = writing.full(size) if writing.inches else f"{show_mm(size)} mm"
    return f"{text} {'lower' if metres < 0.0 else 'higher'}"

"""The letters of sheets and pictures: DejaVu Sans, whose free licence lies beside it.

It holds Latin, Greek, Cyrillic, Arabic, Hebrew and more, and the signs of fractions, so that a sheet
looks the same on every machine.
"""

from __future__ import annotations

from importlib.resources import files


def font_bytes(bold: bool = False) -> bytes:
    """The TrueType file, upright, plain or bold."""
    return (files(__name__) / ("DejaVuSans-Bold.ttf" if bold else "DejaVuSans.ttf")).read_bytes()

"""The plain cage's report with figures set, and the figures that a text tells."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import Any

from hung import plain

from cage3d.report import Report

INCH = 0.0254


def report(units: str = "mm", **figures: Any) -> Report:
    """The plain cage's report with figures set."""
    return replace(plain()[0], units=units, **figures)


def hoops(**figures: Any) -> Report:
    """The same with figures of hoop 2 set, in millimetres."""
    own = plain()[0].hoops
    return report(hoops=(own[0], replace(own[1], **figures), own[2]))


def figures_of(text: str) -> list[str]:
    return re.findall(r"[+-]?\d+ \d+/\d+|[+-]?\d+/\d+|[+-]?\d+(?:\.\d+)?", text)

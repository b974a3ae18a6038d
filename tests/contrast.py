"""How far two colours stand apart, as the guidelines for pages that everyone can read reckon it."""

from __future__ import annotations

import re


def luminance(colour: str) -> float:
    """Relative luminance of 'rgb(r, g, b)' (WCAG 2.2)."""
    values = [int(value) / 255 for value in re.findall(r"\d+", colour)[:3]]
    linear = [value / 12.92 if value <= 0.04045 else ((value + 0.055) / 1.055) ** 2.4 for value in values]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one: str, other: str) -> float:
    low, high = sorted((luminance(one), luminance(other)))
    return (high + 0.05) / (low + 0.05)

"""Hoops that stand beside her: where their first circles lie, and which half of them is next to her."""

from __future__ import annotations

from functools import lru_cache

import numpy as np

from cage3d.design.baskets import HALVES
from cage3d.design.models import Design, Hoop, Padding, Wearer
from cage3d.shape.arrays import Floats
from cage3d.shape.form import build_form
from cage3d.shape.waist import waist_oval

CLEAR = 0.01  # m, by which a first circle keeps off her at first
LEVELS = 65  # at which her form is asked how wide it is


@lru_cache(maxsize=16)
def reach_of_form(wearer: Wearer, padding: tuple[Padding, ...]) -> tuple[float, float] | None:
    """(m to her left, m to her right) from her axis to her form at its widest; None where no hip was measured."""
    form = build_form(wearer, padding)
    if form is None:
        return None
    heights = [section.height for section in form.sections]
    across = np.concatenate(
        [form.ring(level)[:, 0] for level in np.linspace(min(heights), max(heights), LEVELS)]
    )
    return float(across.max()), float(-across.min())


def reach_beside(design: Design, side: str) -> float:
    """m from her axis to where she, or her waist where no hip was measured, is widest at a side."""
    found = reach_of_form(design.wearer, design.padding)
    if found is None:
        return waist_oval(design)[0]
    return found[0] if side == "left" else found[1]


def centre_beside(design: Design, hoop: Hoop, fractions: Floats, girth: float) -> float:
    """m to her left of her axis, where the first circle of a hoop lies: 0 where it goes round her.

    fractions: (n,) of its nodes; girth: m, of the circle. All of its steel keeps clear of her.
    """
    if hoop.beside is None:
        return 0.0
    sign = 1.0 if hoop.beside == "left" else -1.0
    inwards = float((-sign * np.sin(2.0 * np.pi * fractions)).max()) * girth / (2.0 * np.pi)
    return sign * (reach_beside(design, hoop.beside) + CLEAR + inwards)


def outer_half(hoop: Hoop) -> tuple[Floats, Floats]:
    """(places (k + 1,) shares of its girth from 0 to 1, (k,) of what lies on it between two places): away from her."""
    outside = [1.0, 0.0] if HALVES[str(hoop.beside)][0] == 0.0 else [0.0, 1.0]
    return np.array([0.0, 0.5, 1.0]), np.array(outside)

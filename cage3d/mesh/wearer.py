"""The wearer's form as drawn, and cloth laid over it.

The measured form is fuller than an ellipse from the waist down, the waistband's ring is an
ellipse of the same girth: a real band takes in what is soft. The drawn form has the band's
own oval from the waist to the band's lower edge, and the measured sections below.
"""

from __future__ import annotations

import numpy as np

from cage3d.settle.state import SettledCage
from cage3d.shape.arrays import Floats
from cage3d.shape.form import Form, Oval
from cage3d.shape.waist import waist_oval

INSIDE_BAND = 0.995  # of the band's oval, so that no faces coincide
# Shares of the way from place to place at which cloth and tapes are asked whether they clear her.
BETWEEN = (0.25, 0.5, 0.75)


def drawn_form(settled: SettledCage) -> Form | None:
    """The form to draw; None where no hip was measured."""
    form, design = settled.cage.form, settled.cage.design
    if form is None:
        return None
    half_breadth, half_depth = (INSIDE_BAND * value for value in waist_oval(design))
    waist_level = form.sections[0].height
    anchors = settled.positions[settled.cage.connectivity.on_band]
    lower_edge = float(anchors[:, 2].min())
    taken_in = [Oval(level, half_breadth, half_depth, 2.0) for level in (waist_level, lower_edge)]
    return Form(
        (*taken_in, *(section for section in form.sections[1:] if section.height < lower_edge - 0.01)),
        form.pads,
    )


def laid_over(form: Form | None, points: Floats, gap: float) -> Floats:
    """Points (n, 3) m moved level outward to at least `gap` (m) outside the wearer's form.

    Only the drawing lies on the wearer: in the balance of forces hoops touch her, cloth does not.
    """
    if form is None:
        return points
    level = np.linalg.norm(points[:, :2], axis=1)
    below = points[:, 2] < form.sections[0].height
    missing = np.where(below, np.maximum(gap - form.clearance(points), 0.0), 0.0)
    share = 1.0 + missing / np.maximum(level, 1e-9)
    return np.column_stack([points[:, :2] * share[:, None], points[:, 2]])


def rings_over(form: Form | None, rings: Floats, gap: float, between: float) -> Floats:
    """Rings (r, n, 3) m of a cloth laid over her: at least `gap` (m) off her, `between` on the way to the next.

    Where two rings lie far apart, as above a hoop that hangs low beside her, the straight line from one to the other
    would pass through her hip: there both move out. So do the places of n tapes, r down each.
    """
    if form is None:
        return rings
    cloth = laid_over(form, rings.reshape(-1, 3), gap).reshape(rings.shape)
    lines = np.stack([(1.0 - share) * cloth[:-1] + share * cloth[1:] for share in BETWEEN])
    below = lines[..., 2] < form.sections[0].height
    missing = np.zeros(lines.shape[:-1])
    missing[below] = np.maximum(between - form.clearance(lines[below]), 0.0)
    short = np.pad(missing.max(axis=0), ((1, 1), (0, 0)))
    level = np.linalg.norm(cloth[..., :2], axis=-1)
    share = 1.0 + np.maximum(short[:-1], short[1:]) / np.maximum(level, 1e-9)
    return np.concatenate([cloth[..., :2] * share[..., None], cloth[..., 2:]], axis=-1)

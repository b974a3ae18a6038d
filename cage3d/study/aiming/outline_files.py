"""Outlines as they come: a table of points (CSV), or paths of a drawing (SVG) with its scale."""

from __future__ import annotations

import re
from pathlib import Path
from typing import TYPE_CHECKING
from xml.etree.ElementTree import Element, ParseError, fromstring

import numpy as np

from cage3d.design.tables import table_of, table_text
from cage3d.design.text_files import text_of
from cage3d.errors import CageError, CommandError, Problem
from cage3d.shape.arrays import Floats
from cage3d.study.aiming.outline import VIEWS, Outline, outlines_of
from cage3d.units import UnitError, length
from cage3d.units.kinds import INCH, LENGTHS

if TYPE_CHECKING:
    from svgpathtools import Path as Curve

COLUMNS = ("view", "across", "height")
PICTURES = {".png", ".jpg", ".jpeg", ".gif", ".webp", ".tif", ".tiff", ".bmp", ".pdf"}
FINE = 40  # points along each piece of a drawn curve
SIZE = re.compile(r"\s*([0-9.]+(?:e[-+]?[0-9]+)?)\s*(mm|cm|in|m|px|pt)?\s*", re.IGNORECASE)
IN_A_DRAWING = {"px": INCH / 96, "pt": INCH / 72}  # CSS values and units, level 3


def outlines_in(
    file: Path, scale: float | None, waist_height: float, units: str | None
) -> tuple[Outline, ...]:
    """The outlines of a file.

    scale: of a drawing, 0.1 for 1:10; waist_height: m, where the top of a drawing lies; units: of bare numbers in a
    table. Raises CageError: no scale, lies open, crosses itself, no outline, what is no length.
    """
    name = str(file)
    if file.suffix.lower() == ".svg":
        return outlines_of(drawn_in(text_of(file), name, scale, waist_height), name)
    if file.suffix.lower() in PICTURES:
        why = "a picture or a PDF has no outline that can be read"
        raise CommandError(Problem("--outline", name, why, "Draw it as SVG, or write its corners as CSV"))
    if scale is not None:
        why = "a table of points is at full size"
        raise CommandError(Problem("--scale", f"1:{1 / scale:g}", why, "Leave it out, or name an SVG"))
    text = table_text(file, "Check the name, or draw the outline first")
    return outlines_of(points_in(text, name, units), name)


def points_in(text: str, name: str, units: str | None) -> dict[str, Floats]:
    """view -> (n, 2) m of a table with the columns view, across and height."""
    table = table_of(text, name)
    if sorted(table.columns) != sorted(COLUMNS):
        why = "an outline's table has a line of names first"
        raise CageError(Problem(name, ", ".join(table.heads), why, f"Write {', '.join(COLUMNS)}", 1))
    found: dict[str, list[tuple[float, float]]] = {}
    for row in table.rows:
        view = row.cells.get("view", "").lower()
        if view not in VIEWS:
            raise CageError(Problem(name, view, "this is no view", "Write front or side", row.line))
        across, height = (
            signed_length(row.cells.get(head, ""), units, name, row.line) for head in COLUMNS[1:]
        )
        found.setdefault(view, []).append((across, height))
    return {view: np.array(points) for view, points in found.items()}


def signed_length(text: str, units: str | None, name: str, line: int) -> float:
    """m, of either sign."""
    sign = -1.0 if text[:1] in ("-", "\u2212") else 1.0
    bare = text.lstrip("+-\u2212 ")
    try:
        return 0.0 if re.fullmatch(r"0*\.?0*", bare) and bare else sign * length(bare, units)
    except UnitError as fault:
        raise CageError(Problem(name, text, fault.why, fault.try_this, line)) from None


def drawn_in(text: str, name: str, scale: float | None, waist_height: float) -> dict[str, Floats]:
    """view -> (n, 2) m of the paths of a drawing that are named front and side.

    The middle of an outline's top is the waist's axis, and the top lies at the waist.
    """
    if scale is None:
        why = "a drawing has no scale of its own"
        raise CageError(Problem(name, "", why, "Say it, as it is drawn: --scale 1:10"))
    try:
        root = fromstring(text)
    except ParseError as fault:
        raise CageError(Problem(name, "", f"this is no SVG ({fault})", "Save the drawing as SVG")) from None
    unit = metres_a_unit(root, name) / scale
    found: dict[str, Floats] = {}
    for curve in curves_of(text, name):
        view = str(curve.element.get("id", "")).lower()
        if view in VIEWS:
            found[view] = placed(followed(curve), unit, waist_height)
    if not found:
        why = "no path is named front or side"
        raise CageError(Problem(name, "", why, "Give the outline's path the id front or side"))
    return found


def curves_of(text: str, name: str) -> list[Curve]:
    """Every path, polygon and the like, with what moves and turns it done."""
    from svgpathtools import Document  # takes a while to load, and few bring a drawing

    try:
        return list(Document.from_svg_string(text).paths())
    except Exception as fault:
        raise CageError(
            Problem(name, "", f"a path in it cannot be read ({fault})", "Save it as plain SVG")
        ) from None


def followed(curve: Curve) -> Floats:
    """(n, 2) in the drawing's units, downwards; straight pieces by their ends."""
    places = [curve[0].start]
    for piece in curve:
        shares = [1.0] if type(piece).__name__ == "Line" else np.arange(1, FINE + 1) / FINE
        places += [piece.point(share) for share in shares]
    kept = np.array(places)
    kept = kept[np.concatenate([[True], np.abs(np.diff(kept)) > 0.0])]
    return np.column_stack([kept.real, kept.imag])


def placed(points: Floats, unit: float, waist_height: float) -> Floats:
    """(n, 2) m, the middle of its top on the waist's axis and at the waist."""
    down = unit * points[:, 1]
    top = down - down.min() < 0.01 * np.ptp(down)
    axis = unit * (points[top, 0].min() + points[top, 0].max()) / 2.0
    return np.column_stack([unit * points[:, 0] - axis, waist_height - (down - down.min())])


def metres_a_unit(root: Element, name: str) -> float:
    """How large a unit of the drawing is on its paper. Raises CageError where its paper has no size."""
    size = SIZE.fullmatch(root.get("width", "") or "")
    if size is None:
        why = "the drawing has no size on paper, so that its scale says nothing"
        raise CageError(Problem(name, root.get("width", ""), why, "Write its width: width='210mm'"))
    metres = float(size[1]) * (LENGTHS | IN_A_DRAWING)[(size[2] or "px").lower()]
    box = (root.get("viewBox") or "").replace(",", " ").split()
    return metres / float(box[2] if len(box) == 4 else size[1])

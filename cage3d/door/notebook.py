"""A hung cage in a notebook: drawn to scale, with the table of its hoops."""

from __future__ import annotations

from html import escape
from typing import TYPE_CHECKING

from cage3d.page.line_drawing import drawing_svg
from cage3d.page.text import hoops_html, summary, warnings_html
from cage3d.report.view import proof_line

if TYPE_CHECKING:
    from cage3d.door.hung import HungCage

# The drawing is black on white, whatever colours the notebook has.
SHEET = "background:#fff;max-width:40em;padding:0.5em"


def cage_html(hung: HungCage) -> str:
    """HTML without scripts; a cage that is no answer shows why, and neither drawing nor figures."""
    name = f"<h3>{escape(hung.cage.name)}</h3>"
    if not hung.trusted:
        why = "".join(f"<p>{escape(str(problem))}</p>" for problem in hung.why_not)
        return f"<div>{name}<p><b>{escape(proof_line(hung.report))}</b></p>{why}</div>"
    drawing = f'<div style="{SHEET}">{drawing_svg(hung.settled)}</div>'
    words = f"<p>{summary(hung.report)}</p>"
    return f"<div>{name}{words}{drawing}{hoops_html(hung.report)}{warnings_html(hung.report)}</div>"

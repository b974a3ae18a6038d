"""The page: one HTML file with the model to turn, the measures and the cautions; it needs no network."""

from __future__ import annotations

import json
from base64 import b64encode
from collections.abc import Sequence, Set
from hashlib import sha256
from html import escape
from importlib.resources import files
from itertools import groupby

from cage3d.errors import NotSettledError, Problem
from cage3d.page.line_drawing import drawing_svg
from cage3d.page.packing import scene_data
from cage3d.page.text import summary, text_html
from cage3d.report.record import Report
from cage3d.scene.labels import labels
from cage3d.scene.shown import ScenePart, scene_parts
from cage3d.settle.state import SettledCage

PAGE_FILES = files("cage3d.page") / "files"


def page_html(settled: SettledCage, report: Report, wanted: Set[str] | None = None) -> bytes:
    """The whole page (UTF-8 HTML); the same bytes for the same cage.

    wanted: kinds of part that can be shown (names of mesh.part.KINDS; None: all).
    Raises NotSettledError for a cage that is no answer.
    """
    if not report.trusted:
        why = "the cage is not settled, so there is nothing to show"
        raise NotSettledError(Problem("page", report.design, why, "Run cage3d check to see why"))
    parts = scene_parts(settled, wanted)
    scene = scene_data(parts, labels(settled, report), report.units)
    style, script = _file("page.css"), _file("page.js")
    pieces = {
        "style_hash": csp_hash(style),
        "script_hash": csp_hash(script),
        "title": escape(report.design),
        "summary": summary(report),
        "style": style,
        "drawing": drawing_svg(settled),
        "switches": switches_html(parts),
        "text": text_html(settled.cage.design, report),
        "data": script_safe(json.dumps(scene, ensure_ascii=False, separators=(",", ":"))),
        "script": script,
    }
    return filled(_file("page.html"), pieces).encode("utf-8")


def filled(template: str, pieces: dict[str, str]) -> str:
    """`{{name}}` replaced by its piece; what stands in a piece is never read as a place again."""
    before, *rest = template.split("{{")
    out = [before]
    for part in rest:
        name, after = part.split("}}", 1)
        out += [pieces[name], after]
    return "".join(out)


def csp_hash(text: str) -> str:
    """What a Content-Security-Policy names an inline element by (W3C, CSP level 3, 2.3.1)."""
    return f"'sha256-{b64encode(sha256(text.encode()).digest()).decode()}'"


def script_safe(text: str) -> str:
    """JSON that cannot end the script element it stands in, whatever a name contains."""
    return text.replace("<", "\\u003c").replace(">", "\\u003e").replace("&", "\\u0026")


def switches_html(parts: Sequence[ScenePart]) -> str:
    """A box for every group, and under it one for every part where a group has several."""
    out = []
    for group, members in groupby(enumerate(parts), key=lambda pair: pair[1].group):
        own = list(members)
        checked = " checked" if any(part.shown for _, part in own) else ""
        red, green, blue = (round(255 * value) for value in own[0][1].colour[:3])
        swatch = f'<svg class="swatch" aria-hidden="true"><rect fill="rgb({red},{green},{blue})"/></svg>'
        boxes = [
            f'<label><input type="checkbox" data-part="{place}" data-of="{escape(group)}"'
            f"{' checked' if part.shown else ''}> {escape(part.name)}</label>"
            for place, part in own
        ]
        out.append(
            f'<label><input type="checkbox" data-group="{escape(group)}"{checked}> '
            f"{escape(group[:1].upper() + group[1:])}{swatch}</label>"
        )
        hidden = " hidden" if len(own) == 1 else ""
        out.append(f"<details{hidden}><summary>each</summary>{''.join(boxes)}</details>")
    return "\n".join(out)


def _file(name: str) -> str:
    return (PAGE_FILES / name).read_text(encoding="utf-8").rstrip("\n")

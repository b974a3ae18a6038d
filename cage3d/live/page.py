"""The page of a fitting: the page that is sent, drawn by the same scripts, with what moves and saves beside it."""

from __future__ import annotations

from html import escape
from importlib.resources import files
from typing import Any

from cage3d.page.controls import point_lists_html, switches_html
from cage3d.page.packing import scene_data
from cage3d.page.page import SCRIPTS, csp_hash, filled, page_file
from cage3d.page.shown_cage import ShownCage

LIVE_FILES = files("cage3d.live") / "files"
# Of the page that is sent, all but how it begins and what it writes into its address.
DRAWING = tuple(name for name in SCRIPTS if name not in ("address", "start"))
PICTURE = ("picture", "lend")  # join the drawing in its scope
BESIDE = (
    "making", "written", "values", "wire", "told", "rows", "together", "groups", "changed", "answers", "aiming",
    "file", "keys", "begin",
)  # fmt: skip


def live_page(socket: str) -> bytes:
    """The page (UTF-8 HTML) that any design is fitted in. socket: the one address that it may connect to."""
    style, script = f"{page_file('page.css')}\n{live_file('live.css')}", live_script()
    pieces = {
        "style_hash": csp_hash(style),
        "script_hash": csp_hash(script),
        "socket": escape(socket),
        "views": page_file("views.html"),
        "style": style,
        "script": script,
    }
    return filled(live_file("live.html"), pieces).encode("utf-8")


def shown_data(shown: ShownCage) -> dict[str, Any]:
    """A cage as the page takes it up whole: what is drawn, and as HTML the switches of its parts and its points."""
    scene = scene_data([shown], shown.report.units)
    scene["opening"] = scene["stages"][-1]
    return scene | {"switches": switches_html([shown]), "points": point_lists_html([shown])}


def live_script() -> str:
    """All scripts as one. The drawing runs when the first cage has come, in a scope of its own."""
    drawing = "\n".join(
        [
            *(page_file(f"scripts/{name}.js") for name in DRAWING),
            *(live_file(f"scripts/{name}.js") for name in PICTURE),
        ]
    )
    beside = "\n".join(live_file(f"scripts/{name}.js") for name in BESIDE)
    return f'(() => {{\n"use strict";\nconst makePicture = () => {{\n{drawing}\n}};\n{beside}\n}})();'


def live_file(name: str) -> str:
    return (LIVE_FILES / name).read_text(encoding="utf-8").rstrip("\n")

"""The page: one HTML file with the model to turn, the measures and the cautions; it needs no network."""

from __future__ import annotations

import json
from base64 import b64encode
from collections.abc import Mapping, Sequence, Set
from dataclasses import dataclass, replace
from hashlib import sha256
from html import escape
from importlib.resources import files
from typing import Any

from cage3d.design.hoop_materials import one_stuff
from cage3d.mesh.dressing import DressingStep
from cage3d.page.compare import comparison_html, comparison_summary, told_apart
from cage3d.page.controls import (
    frames_html,
    point_lists_html,
    stage_words_html,
    stages_html,
    switches_html,
)
from cage3d.page.packing import scene_data
from cage3d.page.shown_cage import ShownCage, shown_cage
from cage3d.page.text import summary, text_html
from cage3d.report.record import Report
from cage3d.settle.state import SettledCage

PAGE_FILES = files("cage3d.page") / "files"
# In the order in which one builds on the other; they share one scope.
SCRIPTS = (
    "scene", "state", "camera", "framing", "draw_parts", "labels", "pulls", "picking", "lengths", "measure",
    "dressing", "steps", "view", "hands", "switches", "look_in_words", "address", "printing", "start",
)  # fmt: skip

Hung = tuple[SettledCage, Report, Sequence[DressingStep]]  # a cage, its report, and the steps of hanging it


def page_html(
    settled: SettledCage,
    report: Report,
    wanted: Set[str] | None = None,
    steps: Sequence[DressingStep] = (),
    wearer: bool = False,
) -> bytes:
    """The whole page (UTF-8 HTML); the same bytes for the same cage.

    wanted: kinds of part that can be shown (names of mesh.part.KINDS; None: all);
    steps: what comes before the cage as worn (mesh.dressing.dressing_steps);
    wearer: she is shown at first, and not her form.
    Raises NotSettledError for a cage that is no answer.
    """
    cage = shown_cage(settled, report, wanted, steps, wearer)
    return page([cage], report.design, summary(report), text_html(settled.cage.design, report))


def comparison_page(first: Hung, second: Hung, wearer: bool = False) -> bytes:
    """Two cages side by side at one scale, turned together, with a table of what differs (UTF-8 HTML).

    Lengths are in the first one's units. Raises NotSettledError for a cage that is no answer.
    """
    units = first[1].units
    cages = told_apart(
        *(
            shown_cage(settled, replace(report, units=units), None, steps, wearer)
            for settled, report, steps in (first, second)
        )
    )
    title = " and ".join(cage.name for cage in cages)
    return page(cages, title, comparison_summary(*cages), comparison_html(*cages))


@dataclass(frozen=True)
class StepsShown:
    """Sliders in the place of the stages of hanging: one stage a variant."""

    html: str
    words: str  # HTML, of variants that are no stage
    opening: str  # the stage that the page opens with
    data: Mapping[str, Any]  # for the scripts: `values` of every slider, `names` of all variants


STAGE_KEYS = "<dt>S</dt><dd>next stage of hanging</dd>"
STEP_KEYS = "<dt>, and .</dt><dd>variant before, next variant</dd>"


def page(
    cages: Sequence[ShownCage], title: str, said: str, text: str, steps: StepsShown | None = None
) -> bytes:
    """said and text: HTML."""
    scene = scene_data(cages, cages[0].report.units)
    scene["opening"] = steps.opening if steps else scene["stages"][-1]
    scene |= {"steps": steps.data} if steps else {}
    style, script = page_file("page.css"), page_script()
    pieces = {
        "style_hash": csp_hash(style),
        "script_hash": csp_hash(script),
        "title": escape(title),
        "summary": said,
        "style": style,
        "several": " several" if len(cages) > 1 else "",
        "frames": frames_html(cages),
        "views": page_file("views.html"),
        "stages": steps.html if steps else stages_html(cages),
        "stage_words": stage_words_html(cages) + (steps.words if steps else ""),
        "stage_keys": STEP_KEYS if steps else STAGE_KEYS,
        "stuff": triangle_is(cages),
        "points": point_lists_html(cages),
        "switches": switches_html(cages),
        "text": text,
        "data": script_safe(json.dumps(scene, ensure_ascii=False, separators=(",", ":"))),
        "script": script,
    }
    return filled(page_file("page.html"), pieces).encode("utf-8")


def triangle_is(cages: Sequence[ShownCage]) -> str:
    """What is bent too sharply where a triangle stands: 'steel', or 'hoop' where hoops are of several things."""
    stuffs = {one_stuff(cage.report.stuff) for cage in cages}
    return stuffs.pop() if len(stuffs) == 1 else "hoop"


def page_script() -> str:
    """All scripts as one, in a scope of their own."""
    whole = "\n".join(page_file(f"scripts/{name}.js") for name in SCRIPTS)
    return f'(() => {{\n"use strict";\n{whole}\n}})();'


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


def page_file(name: str) -> str:
    return (PAGE_FILES / name).read_text(encoding="utf-8").rstrip("\n")

"""What is made of a settled cage, as files by name; `{stem}` in a name stands for the design's.

Each part fetches its libraries when it is made: a missing one costs that part alone, and looking
at the figures does not wait for all of them.
"""

from __future__ import annotations

import json
from collections.abc import Sequence, Set
from contextlib import suppress
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from cage3d.errors import CommandError, OutputError, Problem
from cage3d.report import Report, report_json, report_text
from cage3d.report.cautions import cautions_text
from cage3d.settle import SettledCage

if TYPE_CHECKING:
    from cage3d.miniature.body import PrintBody
    from cage3d.miniature.maquette import Maquette


Files = dict[str, bytes]

SMALLEST_UNASKED = 12  # denominator; a smaller miniature is made only where it is asked for


def figures(settled: SettledCage, report: Report) -> Files:
    words = report_text(report) + cautions_text(settled.cage.design, report)
    text = json.dumps(report_json(report), indent=1, ensure_ascii=False, allow_nan=False)
    return {"report.txt": words.encode(), "report.json": (text + "\n").encode()}


def model(settled: SettledCage, report: Report) -> Files:
    return model_files(settled, report)


def model_files(
    settled: SettledCage, report: Report, kinds: Set[str] | None = None, fine: bool = False
) -> Files:
    """kinds: names of mesh.part.KINDS, None for all; the STL leaves out what is not made by the maker."""
    from cage3d.mesh.dressing import dressing_steps
    from cage3d.mesh.part import ALL_KINDS, CAGE_KINDS
    from cage3d.write.glb import glb_bytes
    from cage3d.write.stl import closed_parts, stl_bytes

    files = {"{stem}.glb": glb_bytes(settled, dressing_steps(settled), kinds, fine, report)}
    wanted = ALL_KINDS if kinds is None else kinds
    if wanted & CAGE_KINDS:
        solids = [part.solid for part in closed_parts(settled, wanted & CAGE_KINDS, fine)]
        files["{stem}.stl"] = stl_bytes(solids)
    return files


def miniature(settled: SettledCage, _report: Report) -> Files:
    """In the scale and for the process that the design names, on that process's usual bed.

    Where the design names no scale and the usual one is too large for that bed, the next smaller that it holds.
    Raises OutputError where these cannot be printed, with what to write in the design.
    """
    from cage3d.miniature.build import build_ordered
    from cage3d.miniature.order import Order
    from cage3d.miniature.ways import RunTogetherError

    printing = settled.cage.design.printing
    try:
        made = build_ordered(settled, Order(printing.scale, printing.process))
    except RunTogetherError as fault:
        ways = [
            f"printing: {{scale: {way.scale}, process: {way.process}}}" for way in fault.ways if not way.parts
        ]
        advice = (
            f"Write in the design {' or '.join(ways)}" if ways else "Leave parts out with cage3d maquette"
        )
        said = f"{printing.scale}, {printing.process}"
        raise OutputError(Problem("miniature", said, fault.why, advice)) from fault
    except CommandError as fault:
        said = f"{printing.scale}, {printing.process}"
        why = "; ".join(problem.why for problem in fault.problems)
        smaller = None if "scale" in printing.model_fields_set else next_smaller(settled, why)
        if smaller is not None:
            return miniature_files(smaller)
        advice = "Write a smaller scale under printing:, or give your printer's room to cage3d maquette --bed"
        raise OutputError(Problem("miniature", said, why, advice)) from fault
    return miniature_files(made)


def next_smaller(settled: SettledCage, why: str) -> Maquette | None:
    """The miniature in the first smaller scale that prints, which tells why it is so small; None where none does."""
    from cage3d.miniature.build import build_ordered
    from cage3d.miniature.order import Order
    from cage3d.miniature.process import SCALES, parse_scale

    printing = settled.cage.design.printing
    usual = parse_scale(printing.scale).denominator
    for scale in (f"1:{other}" for other in SCALES if usual < other <= SMALLEST_UNASKED):
        with suppress(CommandError):
            made = build_ordered(settled, Order(scale, printing.process))
            return replace(made, notes=(f"Made at {scale}, because at {printing.scale} {why}", *made.notes))
    return None


def miniature_files(made: Maquette) -> Files:
    """STL and 3MF of every plate, and what to know when printing."""
    from cage3d.write.threemf import threemf_bytes

    start = f"{{stem}}-{made.file_name}"
    told = [made.title, *made.thickened, *made.assembly, *made.notes, ""]
    files = {f"{start}.txt": "\n".join(told).encode()}
    for number, plate in enumerate(made.plates, start=1):
        name = start if len(made.plates) == 1 else f"{start}-plate-{number}"
        files[f"{name}.3mf"] = threemf_bytes(plate, made.metadata)
        files[f"{name}.stl"] = plate_stl(plate)
    return files


def plate_stl(bodies: Sequence[PrintBody]) -> bytes:
    """One plate of the miniature as binary STL."""
    from cage3d.write.stl import millimetre_stl

    return millimetre_stl([(body.vertices, body.triangles) for body in bodies])


def page(settled: SettledCage, report: Report) -> Files:
    return page_files(settled, report)


def page_files(
    settled: SettledCage, report: Report, kinds: Set[str] | None = None, wearer: bool = False
) -> Files:
    from cage3d.mesh.dressing import dressing_steps
    from cage3d.page.page import page_html

    return {"{stem}.html": page_html(settled, report, kinds, dressing_steps(settled), wearer)}


def page_of(cages: Sequence[tuple[SettledCage, Report]], wearer: bool = False) -> bytes:
    """The page of one cage, or of two side by side; wearer: she is shown at first, and not her form."""
    from cage3d.mesh.dressing import dressing_steps
    from cage3d.page.page import comparison_page, page_html

    if len(cages) == 1:
        ((settled, report),) = cages
        return page_html(settled, report, steps=dressing_steps(settled), wearer=wearer)
    first, second = ((settled, report, dressing_steps(settled)) for settled, report in cages)
    return comparison_page(first, second, wearer)


def pictures(settled: SettledCage, report: Report, wearer: bool = False) -> Files:
    from cage3d.draw.pictures import draw_pictures

    return {f"{{stem}}-{view}.png": png for view, png in draw_pictures(settled, report, wearer).items()}


def sheets(settled: SettledCage, report: Report) -> Files:
    return sheet_files(settled, report, "a4")


def sheet_files(settled: SettledCage, report: Report, paper: str, font: Path | None = None) -> Files:
    from cage3d.sheets.sheets import make_sheets

    made = make_sheets(settled, report, paper, font=font)
    return {"{stem}-sheets.pdf": made.pdf, **{f"tables/{name}": table for name, table in made.tables.items()}}

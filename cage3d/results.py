"""What follows from a settled cage, as files by name; `{stem}` in a name stands for the design's.

Each part fetches its libraries when it is made: a missing one costs that part alone, and looking
at the figures does not wait for all of them.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Sequence, Set
from dataclasses import dataclass, replace
from importlib.metadata import version
from pathlib import Path
from typing import TYPE_CHECKING

from cage3d.design.models import Design
from cage3d.design.names import file_stem
from cage3d.errors import CageError, CommandError, OutputError, Problem
from cage3d.report import Report, report_json, report_text
from cage3d.report.cautions import cautions_text
from cage3d.settle import SettledCage
from cage3d.write.places import fingerprint

if TYPE_CHECKING:
    from cage3d.miniature.body import PrintBody
    from cage3d.miniature.maquette import Maquette

Files = dict[str, bytes]


@dataclass(frozen=True)
class Result:
    """Something that is made of a cage. `files` may raise anything where it cannot be."""

    name: str  # what a maker calls it
    files: Callable[[SettledCage, Report], Files]  # bytes by file name
    names: tuple[str, ...] = ()  # of the files that are sure to be among them, so as to look before the work
    kind: str = ""  # what of an earlier run it takes the place of; its name where nothing is told
    ordered: bool = False  # by options of the command line: what these do not allow is their fault


def figures(settled: SettledCage, report: Report) -> Files:
    words = report_text(report) + cautions_text(settled.cage.design, report)
    text = json.dumps(report_json(report), indent=1, ensure_ascii=False, allow_nan=False)
    return {"report.txt": words.encode(), "report.json": (text + "\n").encode()}


def model(settled: SettledCage, _report: Report) -> Files:
    return model_files(settled)


def model_files(settled: SettledCage, kinds: Set[str] | None = None, fine: bool = False) -> Files:
    """kinds: names of mesh.part.KINDS, None for all; the STL leaves out what is not made by the maker."""
    from cage3d.mesh.dressing import dressing_steps
    from cage3d.mesh.part import ALL_KINDS, CAGE_KINDS
    from cage3d.write.glb import glb_bytes
    from cage3d.write.stl import closed_parts, stl_bytes

    files = {"{stem}.glb": glb_bytes(settled, dressing_steps(settled), kinds, fine)}
    wanted = ALL_KINDS if kinds is None else kinds
    if wanted & CAGE_KINDS:
        solids = [part.solid for part in closed_parts(settled, wanted & CAGE_KINDS, fine)]
        files["{stem}.stl"] = stl_bytes(solids)
    return files


def miniature(settled: SettledCage, _report: Report) -> Files:
    """In the scale and for the process that the design names, on that process's usual bed.

    Raises OutputError where these cannot be printed, with what to write in the design.
    """
    from cage3d.miniature.order import build_ordered
    from cage3d.miniature.ways import RunTogetherError

    printing = settled.cage.design.printing
    try:
        made = build_ordered(settled, printing.scale, printing.process)
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
        advice = "Write a smaller scale under printing:, or give your printer's room to cage3d maquette --bed"
        raise OutputError(Problem("miniature", said, why, advice)) from fault
    return miniature_files(made)


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


def page_files(settled: SettledCage, report: Report, kinds: Set[str] | None = None) -> Files:
    from cage3d.mesh.dressing import dressing_steps
    from cage3d.page.page import page_html

    return {"{stem}.html": page_html(settled, report, kinds, dressing_steps(settled))}


def page_of(cages: Sequence[tuple[SettledCage, Report]]) -> bytes:
    """The page of one cage, or of two side by side."""
    from cage3d.mesh.dressing import dressing_steps
    from cage3d.page.page import comparison_page, page_html

    if len(cages) == 1:
        ((settled, report),) = cages
        return page_html(settled, report, steps=dressing_steps(settled))
    first, second = ((settled, report, dressing_steps(settled)) for settled, report in cages)
    return comparison_page(first, second)


def page_name(designs: Sequence[Design]) -> str:
    """The file's name, of one design or of two."""
    return "-and-".join(file_stem(design.name, 120 // len(designs)) for design in designs) + ".html"


def pictures(settled: SettledCage, report: Report) -> Files:
    from cage3d.draw.pictures import draw_pictures

    return {f"{{stem}}-{view}.png": png for view, png in draw_pictures(settled, report).items()}


def sheets(settled: SettledCage, report: Report) -> Files:
    return sheet_files(settled, report, "a4")


def sheet_files(settled: SettledCage, report: Report, paper: str, font: Path | None = None) -> Files:
    from cage3d.sheets.sheets import make_sheets

    made = make_sheets(settled, report, paper, font=font)
    return {"{stem}-sheets.pdf": made.pdf, **{f"tables/{name}": table for name, table in made.tables.items()}}


TO_FILL_IN = frozenset({"tables/fitting-record.csv"})  # what she writes in
TABLES = (
    "cutting",
    "order-of-cutting",
    "steel-marks",
    "tapes",
    "tape-marks",
    "waistband-marks",
    "draper",
    "materials",
    "fitting-record",
)
SHEETS = ("{stem}-sheets.pdf", *(f"tables/{table}.csv" for table in TABLES))
VIEWS = ("front", "side", "back", "three-quarter", "above", "sheet")
RESULTS = (
    Result("report", figures, ("report.txt", "report.json")),
    Result("3D model", model, ("{stem}.glb", "{stem}.stl")),
    Result("page", page, ("{stem}.html",)),
    Result("pictures", pictures, tuple(f"{{stem}}-{view}.png" for view in VIEWS)),
    Result("making sheets", sheets, SHEETS),
    Result(
        "miniature",
        miniature,
        kind="miniature {scale}-{process}",  # one in another scale stays beside it
    ),
)


def named(text: str, design: Design) -> str:
    """A file's name or a kind, for a design: {stem} is its name, {scale} and {process} its miniature's."""
    from cage3d.miniature.process import parse_scale

    scale = parse_scale(design.printing.scale).text.replace(":", "-")
    text = text.replace("{scale}", scale).replace("{process}", design.printing.process)
    return text.replace("{stem}", file_stem(design.name))


def kind_of(part: Result, design: Design) -> str:
    """What of an earlier run a part takes the place of."""
    return named(part.kind or part.name, design)


def cage_print(design: Design) -> str:
    """Changes with anything in the design, and with the version of the tool."""
    told = design.model_dump_json(by_alias=True) + version("cage3d")
    return fingerprint(told.encode())[:16]


def joint_print(designs: Sequence[Design]) -> str:
    """As `cage_print`, of one design or of two together."""
    prints = [cage_print(design) for design in designs]
    return prints[0] if len(prints) == 1 else fingerprint("".join(prints).encode())[:16]


def results_showing(kinds: Set[str], fine: bool) -> tuple[Result, ...]:
    """All parts, model and page with only some kinds of what they show; fine: hoops in smaller steps."""
    chosen = {
        "3D model": lambda settled, _report: model_files(settled, kinds, fine),
        "page": lambda settled, report: page_files(settled, report, kinds),
    }
    return tuple(replace(part, files=chosen.get(part.name, part.files)) for part in RESULTS)


def files_or_problems(
    part: Result, settled: SettledCage, report: Report
) -> tuple[Files, tuple[Problem, ...]]:
    """What a part gives, or why it could not be made, so that the others still are.

    Raises CommandError only for an `ordered` part.
    """
    try:
        return part.files(settled, report), ()
    except (KeyboardInterrupt, GeneratorExit):
        raise
    except CageError as fault:
        if part.ordered and isinstance(fault, CommandError):
            raise
        return {}, fault.problems
    except BaseException as fault:  # some libraries end the process, or panic past Exception
        return {}, (Problem(part.name, "", *why_failed(fault)),)


def why_failed(fault: BaseException) -> tuple[str, str]:
    """Why a part could not be made, and what to do."""
    if isinstance(fault, ImportError):
        why = f"could not be made, a library is missing ({fault})"
        return why, "Install the package again with all that it needs"
    if isinstance(fault, MemoryError):
        return "could not be made, this machine has too little memory for it", "Close other programs"
    why = f"could not be made, by a fault of the tool ({type(fault).__name__}: {fault})"
    return why, "Please report this line together with the design file"

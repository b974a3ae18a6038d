"""The parts of a folder of results: what each makes, under which names, and why one could not be made."""

from __future__ import annotations

from collections.abc import Callable, Sequence, Set
from dataclasses import dataclass, replace
from functools import partial

from cage3d.beside import Beside
from cage3d.design.models import Design
from cage3d.errors import CageError, CommandError, Interruption, Problem
from cage3d.report import Report
from cage3d.results.made import (
    Files,
    figures,
    miniature,
    model,
    model_files,
    page,
    page_files,
    pictures,
    sheets,
)
from cage3d.results.names import named
from cage3d.settle import SettledCage


def refuse_nothing(_design: Design) -> None:
    """Every design is good for it."""


@dataclass(frozen=True)
class Result:
    """Something that is made of a cage. `files` may raise anything where it cannot be."""

    name: str  # what a maker calls it
    files: Callable[[SettledCage, Report], Files]  # bytes by file name
    names: tuple[str, ...] = ()  # of the files that are sure to be among them, so as to look before the work
    kind: str = ""  # what of an earlier run it takes the place of; its name where nothing is told
    refuse: Callable[[Design], None] = refuse_nothing  # raises CommandError before the work
    foreseen: bool = True  # its files tell what is foreseen of the cage, and not its shape alone
    heavy: bool = False  # it takes long, and waits for no other: worth a process of its own
    ordered: bool = False  # by options of the command line: what these do not allow is their fault


TO_FILL_IN = frozenset({"tables/fitting-record.csv"})  # what she writes in
TABLES = (
    "cutting",
    "order-of-cutting",
    "{hoop}-marks",  # steel-marks, or hoop-marks of another material
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
    Result("3D model", model, ("{stem}.glb", "{stem}.stl"), foreseen=False),
    Result("page", page, ("{stem}.html",)),
    Result("pictures", pictures, tuple(f"{{stem}}-{view}.png" for view in VIEWS), heavy=True),
    Result("making sheets", sheets, SHEETS),
    Result(
        "miniature",
        miniature,
        kind="miniature {scale}-{process}",  # one in another scale stays beside it
        foreseen=False,
        heavy=True,
    ),
)


def kind_of(part: Result, design: Design) -> str:
    """What of an earlier run a part takes the place of."""
    return named(part.kind or part.name, design)


def results_showing(
    kinds: Set[str], fine: bool, wearer: bool = False, usdz: bool = False
) -> tuple[Result, ...]:
    """All parts, model and page with only some kinds of what they show; fine: hoops in smaller steps.

    wearer: model and pictures have her whole instead of her form, and the page shows her first;
    usdz: with a model for telephones.
    """
    from cage3d.mesh.part import with_wearer

    in_model = with_wearer(kinds) if wearer else kinds
    chosen: dict[str, Callable[[SettledCage, Report], Files]] = {
        "3D model": partial(model_files, kinds=in_model, fine=fine),
        "page": partial(page_files, kinds=kinds, wearer=wearer),
        "pictures": partial(pictures, wearer=wearer),
    }
    refuse = refuse_wearer if wearer else refuse_nothing
    parts = [replace(part, files=chosen.get(part.name, part.files), refuse=refuse) for part in RESULTS]
    return (*parts, telephone(in_model)) if usdz else tuple(parts)


def telephone(kinds: Set[str]) -> Result:
    """The model as USDZ, refused where the library that writes it is missing."""
    files = partial(telephone_files, kinds=kinds)
    return Result("model for telephones", files, ("{stem}.usdz",), refuse=refuse_without_usdz)


def telephone_files(settled: SettledCage, _report: Report, kinds: Set[str]) -> Files:
    from cage3d.write.usdz import usdz_bytes

    return {"{stem}.usdz": usdz_bytes(settled, kinds)}


def refuse_without_usdz(_design: Design) -> None:
    """Raises CommandError where the library that writes USDZ is missing."""
    from cage3d.write.usdz import refuse_without_library

    refuse_without_library()


def refuse_wearer(design: Design) -> None:
    """Raises CommandError where her hip was not measured: there is nothing to draw her from."""
    if design.wearer.hip is None or design.wearer.hip_drop is None:
        why = "her hip was not measured, and she is drawn from it"
        raise CommandError(
            Problem("--wearer", "", why, "Write hip and hip_drop under wearer:, or leave --wearer out")
        )


def files_or_problems(
    part: Result, settled: SettledCage, report: Report
) -> tuple[Files, tuple[Problem, ...]]:
    """What a part gives, or why it could not be made, so that the others still are.

    Raises CommandError only for an `ordered` part.
    """
    try:
        return part.files(settled, report), ()
    except (KeyboardInterrupt, GeneratorExit, Interruption):
        raise
    except CageError as fault:
        if part.ordered and isinstance(fault, CommandError):
            raise
        return {}, fault.problems
    except BaseException as fault:  # some libraries end the process, or panic past Exception
        return {}, (Problem(part.name, "", *why_failed(fault)),)


def files_of_all(
    parts: Sequence[Result],
    settled: SettledCage,
    report: Report,
    beside: Beside,
    told: Callable[[str], object],
) -> list[tuple[Files, tuple[Problem, ...]]]:
    """What each part gives, or why it could not be made, in order; heavy ones are made beside the others."""
    begun = {
        place: beside.begin(files_or_problems, part, settled, report)
        for place, part in enumerate(parts)
        if part.heavy and not beside.alone and len(parts) > 1
    }
    made: dict[int, tuple[Files, tuple[Problem, ...]]] = {}
    for place, part in enumerate(parts):
        told(part.name)
        if place not in begun:
            made[place] = files_or_problems(part, settled, report)
    made |= {
        place: answer() for place, answer in reversed(begun.items())
    }  # what is not begun yet is made here
    return [made[place] for place in range(len(parts))]


def why_failed(fault: BaseException) -> tuple[str, str]:
    """Why a part could not be made, and what to do."""
    if isinstance(fault, ImportError):
        why = f"could not be made, a library is missing ({fault})"
        return why, "Install the package again with all that it needs"
    if isinstance(fault, MemoryError):
        return "could not be made, this machine has too little memory for it", "Close other programs"
    why = f"could not be made, by a fault of the tool ({type(fault).__name__}: {fault})"
    return why, "Please report this line together with the design file"

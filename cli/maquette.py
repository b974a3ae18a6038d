"""cage3d maquette: a miniature to print."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from .options import File, Force, Into, folder_for
from .telling import progress, show_written

if TYPE_CHECKING:
    from cage3d.report import Report
    from cage3d.settle import SettledCage


Scale = Annotated[
    str | None, typer.Option(help="1:4 to 1:12; otherwise the design's printing: scale.", show_default=False)
]
Process = Annotated[
    str | None,
    typer.Option(
        help="filament, resin or powder; otherwise the design's printing: process.", show_default=False
    ),
]
Part = Annotated[list[str] | None, typer.Option(help="Only this part; may be given several times.")]
Bed = Annotated[
    str | None, typer.Option(help="The printer's room in mm, such as 220x220x250; otherwise the usual one.")
]
Split = Annotated[
    bool, typer.Option("--split", help="Cut it, standing, at tape lines where it is too large.")
]
Flat = Annotated[
    bool | None,
    typer.Option(
        "--flat/--standing",
        help="Flat pieces that print without supports and slot together, or one solid on its stand; "
        "otherwise flat for filament where the cage can be, and standing for resin and powder.",
        show_default=False,
    ),
]


def maquette(
    file: File,
    scale: Scale = None,
    process: Process = None,
    part: Part = None,
    bed: Bed = None,
    split: Split = False,
    flat: Flat = None,
    into: Into = None,
    force: Force = False,
) -> None:
    """Make a miniature to print, as thick as the printer needs (STL and 3MF): flat pieces, or one solid on a stand.

    A display model: not to be worn, not a toy.
    """
    from cage3d import flow, results
    from cage3d.miniature.build import build_ordered
    from cage3d.miniature.order import Order

    kind = kind_of(scale, process, part, bed, split, flat)  # a wrong option costs no wait

    def files(settled: SettledCage, _report: Report) -> dict[str, bytes]:
        printing = settled.cage.design.printing
        made = build_ordered(
            settled, Order(scale or printing.scale, process or printing.process, part, bed, split, flat)
        )
        return results.miniature_files(made)

    made = results.Result("miniature", files, kind=kind, foreseen=False, ordered=True)
    with progress().status("reading the design") as status:
        show_written(flow.make(file, folder_for(file, into, force), (made,), status.update))


def kind_of(
    scale: str | None,
    process: str | None,
    part: list[str] | None,
    bed: str | None,
    split: bool,
    flat: bool | None,
) -> str:
    """What of an earlier run it takes the place of. Raises CommandError for options that cannot be."""
    from cage3d.miniature.build import check_kinds
    from cage3d.miniature.process import parse_bed, parse_parts, parse_scale, process_of

    size = "{scale}" if scale is None else parse_scale(scale).text.replace(":", "-")
    way = "{process}" if process is None else process_of(process).name
    parse_parts(part)
    check_kinds(flat, split)
    if bed is not None:
        parse_bed(bed)
    parts = "-".join(part or ["all"]) + {None: "", True: "-flat", False: "-standing"}[flat]
    return f"miniature {size}-{way}" + f" {parts}" * (parts != "all")

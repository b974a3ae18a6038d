"""cage3d maquette: a miniature to print."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from .options import File, Force, Into, folder_for
from .telling import progress, show_written

if TYPE_CHECKING:
    from cage3d.report import Report
    from cage3d.settle import SettledCage


def maquette(
    file: File,
    scale: Annotated[str, typer.Option(help="1:4 to 1:12.")] = "1:6",
    process: Annotated[str, typer.Option(help="filament, resin or powder: how it is printed.")] = "filament",
    part: Annotated[
        list[str] | None, typer.Option(help="Only this part; may be given several times.")
    ] = None,
    bed: Annotated[str | None, typer.Option(help="The printer's room in mm, such as 220x220x250.")] = None,
    split: Annotated[
        bool, typer.Option("--split", help="Cut it at tape lines where it is too large.")
    ] = False,
    flat: Annotated[
        bool, typer.Option("--flat", help="Flat pieces that print without supports and slot together.")
    ] = False,
    into: Into = None,
    force: Force = False,
) -> None:
    """Make a miniature to print: one solid with its stand, as thick as the printer needs (STL and 3MF).

    A display model: not to be worn, not a toy.
    """
    from cage3d import flow, results
    from cage3d.miniature.flat.kit import build_flat
    from cage3d.miniature.maquette import build_maquette
    from cage3d.miniature.process import parse_bed, parse_parts, parse_scale, process_of

    at, way = parse_scale(scale), process_of(process)  # a wrong option costs no wait
    parse_parts(part)
    if bed is not None:
        parse_bed(bed)

    parts = "-".join(part or ["all"]) + "-flat" * flat
    kind = f"miniature {at.text.replace(':', '-')}-{way.name}" + f" {parts}" * (parts != "all")

    def files(settled: SettledCage, _report: Report) -> dict[str, bytes]:
        if flat:
            return results.miniature_files(build_flat(settled, scale, process, part, bed))
        return results.miniature_files(build_maquette(settled, scale, process, part, bed, split))

    made = results.Result("miniature", files, kind=kind, ordered=True)
    with progress().status("reading the design") as status:
        show_written(flow.make(file, folder_for(file, into, force), (made,), status.update))

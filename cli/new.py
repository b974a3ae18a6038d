"""cage3d new: a first design."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Annotated

import typer

from .telling import say


def new(
    file: Annotated[
        Path, typer.Argument(metavar="FILE", help="The design to write, such as petticoat.yaml.")
    ],
    silhouette: Annotated[
        str | None,
        typer.Option(
            help="dome, bell, cone, drum, lantern, dipped, oval, back-weighted, half-hoops, baskets or gored."
        ),
    ] = None,
    waist: Annotated[str | None, typer.Option(help="Round the waist, over corset and chemise.")] = None,
    waist_height: Annotated[str | None, typer.Option(help="From the floor, in the show's shoes.")] = None,
    hip: Annotated[str | None, typer.Option(help="Round the hip at its fullest; none: not measured.")] = None,
    hip_drop: Annotated[str | None, typer.Option(help="How far the hip is below the waist.")] = None,
    hem: Annotated[str | None, typer.Option(help="Round the lowest hoop; where it is round.")] = None,
    wide: Annotated[str | None, typer.Option(help="Oval: the lowest hoop from side to side.")] = None,
    deep: Annotated[
        str | None, typer.Option(help="Oval, baskets: the lowest hoop from front to back.")
    ] = None,
    dip: Annotated[str | None, typer.Option(help="Dipped: how much lower the hem is at the back.")] = None,
    behind: Annotated[
        str | None, typer.Option(help="Back-weighted: the part of its depth behind the waist, '60 %'.")
    ] = None,
    out: Annotated[
        str | None, typer.Option(help="Half hoops: how far out behind the waist. Baskets: from her hip.")
    ] = None,
    gores: Annotated[str | None, typer.Option(help="Gored: how many gores; it has no tapes.")] = None,
    clearance: Annotated[
        str | None, typer.Option(help="Lowest hoop above the floor, at the front: '8 to 10'.")
    ] = None,
    hoops: Annotated[str | None, typer.Option(help="How many hoops; of baskets, on each side.")] = None,
    tapes: Annotated[str | None, typer.Option(help="How many tapes.")] = None,
    skirt: Annotated[
        str | None, typer.Option(help="Weight of the skirt on it, such as '0.8 kg'; 0: none.")
    ] = None,
    units: Annotated[str, typer.Option(help="in, cm or mm: the unit of bare numbers.")] = "in",
    force: Annotated[bool, typer.Option("--force", help="Write over a file that is there.")] = False,
) -> None:
    """Write a commented first design that settles. What is not given as an option is asked for.

    Numbers as makers write them: 26, 26 1/2, 7½, 66 cm.
    """
    from cage3d.design.first.text import hip_words
    from cage3d.errors import DesignError
    from cage3d.flow import new_design, refuse_existing

    from .asking import told_by_option
    from .questions import brief_of

    refuse_existing(file, force)
    given = {
        "silhouette": silhouette, "waist": waist, "waist_height": waist_height, "hip": hip, "hip_drop": hip_drop,
        "hem": hem, "wide": wide, "deep": deep, "dip": dip, "behind": behind, "out": out, "gores": gores,
        "clearance": clearance, "hoops": hoops, "tapes": tapes, "skirt": skirt,
    }  # fmt: skip
    brief = brief_of(file, units, given)
    try:
        written = new_design(file, brief, force)
    except DesignError as fault:
        raise told_by_option(fault, given) from fault
    for path in written:
        say(str(path))
    if words := hip_words(brief):
        say(f"cage3d: {words}", sys.stderr)

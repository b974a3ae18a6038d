"""cage3d new: a first design."""

from __future__ import annotations

import sys
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from .asking import Value, answer, count, least_and_most, length_in, length_or_none, one_of
from .telling import say

if TYPE_CHECKING:
    from cage3d.design.first_hoops import Brief


def new(
    file: Annotated[
        Path, typer.Argument(metavar="FILE", help="The design to write, such as petticoat.yaml.")
    ],
    silhouette: Annotated[str | None, typer.Option(help="dome, bell, cone, drum or lantern.")] = None,
    waist: Annotated[str | None, typer.Option(help="Round the waist, over corset and chemise.")] = None,
    waist_height: Annotated[str | None, typer.Option(help="From the floor, in the show's shoes.")] = None,
    hip: Annotated[str | None, typer.Option(help="Round the hip at its fullest; none: not measured.")] = None,
    hip_drop: Annotated[str | None, typer.Option(help="How far the hip is below the waist.")] = None,
    hem: Annotated[str | None, typer.Option(help="Round the lowest hoop.")] = None,
    clearance: Annotated[str | None, typer.Option(help="Lowest hoop above the floor: '8 to 10'.")] = None,
    hoops: Annotated[str | None, typer.Option(help="How many hoops.")] = None,
    tapes: Annotated[str | None, typer.Option(help="How many tapes.")] = None,
    skirt: Annotated[
        str | None, typer.Option(help="Weight of the skirt on it, such as '0.8 kg'; 0: none.")
    ] = None,
    units: Annotated[str, typer.Option(help="in or cm: the unit of bare numbers.")] = "in",
    force: Annotated[bool, typer.Option("--force", help="Write over a file that is there.")] = False,
) -> None:
    """Write a commented first design that settles. What is not given as an option is asked for.

    Numbers as makers write them: 26, 26 1/2, 7½, 66 cm.
    """
    from cage3d.design.first_text import hip_words
    from cage3d.flow import new_design, refuse_existing

    refuse_existing(file, force)
    given = {
        "silhouette": silhouette, "waist": waist, "waist_height": waist_height, "hip": hip, "hip_drop": hip_drop,
        "hem": hem, "clearance": clearance, "hoops": hoops, "tapes": tapes, "skirt": skirt,
    }  # fmt: skip
    brief = brief_of(file, units, given)
    for path in new_design(file, brief, force):
        say(str(path))
    if words := hip_words(brief):
        say(f"cage3d: {words}", sys.stderr)


def brief_of(file: Path, units: str, given: dict[str, str | None]) -> Brief:
    """What a first design is made from: given by option name, else asked for. Raises CommandError."""
    from cage3d.design.first_hoops import Brief
    from cage3d.design.profile import SILHOUETTES
    from cage3d.units import mass

    def ask(key: str, question: str, usual: str | None, read: Callable[[str], Value]) -> Value:
        return answer(f"--{key.replace('_', '-')}", given[key], question, usual, read)

    inch = answer("--units", units, "", None, one_of(["in", "cm"])) == "in"
    far, or_not, both = length_in(units), length_or_none(units), least_and_most(units)
    kinds = list(SILHOUETTES)
    look = ask("silhouette", f"Silhouette ({', '.join(kinds)})", "dome", one_of(kinds))
    waist = ask("waist", "Waist, round, over corset and chemise", None, far)
    height = ask("waist_height", "Waist above the floor, in the shoes", None, far)
    hip = ask("hip", "Hip, round, at its fullest (none: not measured)", "none", or_not)
    drop = hip and ask("hip_drop", "Hip below the waist", "8" if inch else "20", far)
    return Brief(
        units=units,
        silhouette=look,
        waist=waist,
        waist_height=height,
        hip=hip,
        hip_drop=drop,
        hem=ask("hem", "Lowest hoop, round", "90" if inch else "230", far),
        clearance=ask("clearance", "Lowest hoop above the floor", "8 to 10" if inch else "20 to 25", both),
        hoops=ask("hoops", "How many hoops", "4", count),
        tapes=ask("tapes", "How many tapes", "8", count),
        skirt=ask("skirt", "Weight of the skirt on it (0: none)", "0.8 kg", mass),
        name=file.stem.replace("_", " ").replace("-", " ").capitalize() or "First design",
    )

"""The names of what is made for a design, and prints that tell one design from another."""

from __future__ import annotations

from collections.abc import Sequence
from importlib.metadata import version
from typing import TYPE_CHECKING

from cage3d.design.hoop_materials import one_hoop
from cage3d.design.models import Design
from cage3d.design.names import file_stem
from cage3d.write.places import fingerprint

if TYPE_CHECKING:
    pass


def page_name(designs: Sequence[Design]) -> str:
    """The file's name, of one design or of two."""
    return "-and-".join(file_stem(design.name, 120 // len(designs)) for design in designs) + ".html"


def named(text: str, design: Design) -> str:
    """A file's name or a kind, for a design: {stem} is its name, {scale} and {process} its miniature's, {hoop}
    what a hoop is called."""
    from cage3d.miniature.process import parse_scale

    scale = parse_scale(design.printing.scale).text.replace(":", "-")
    text = text.replace("{scale}", scale).replace("{process}", design.printing.process)
    text = text.replace("{hoop}", one_hoop(design.stuff))
    return text.replace("{stem}", file_stem(design.name))


def cage_print(design: Design) -> str:
    """Changes with anything in the design, and with the version of the tool."""
    told = design.model_dump_json(by_alias=True) + version("cage3d")
    return fingerprint(told.encode())[:16]


def joint_print(designs: Sequence[Design]) -> str:
    """As `cage_print`, of one design or of two together."""
    prints = [cage_print(design) for design in designs]
    return prints[0] if len(prints) == 1 else fingerprint("".join(prints).encode())[:16]

"""What the printing processes can do, and the texts of an order for a miniature: scale, process, bed, parts.

All figures are from memory: printers differ, and each is one safe value out of the usual
range. The sections of hoops and tapes are our own judgement, thicker than the least wall that
a process prints because a hoop is bent and handled. Check all of them with your printer.
"""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from dataclasses import dataclass

from cage3d.design.texts import process_today
from cage3d.errors import CommandError, Problem
from cage3d.wording import nearest

SCALES = (1, 2, 3, 4, 5, 6, 8, 10, 12, 16, 20, 24, 25, 30, 32, 48, 50, 64, 72, 100)  # denominators offered
PARTS = ("hoops", "tapes", "ties", "waistband", "stand", "form")
WITHOUT_FORM = PARTS[:-1]


@dataclass(frozen=True)
class Process:
    """One way of printing; everything in mm."""

    name: str
    section: float  # least side of a hoop's or a tape's section
    rod: float  # least diameter of the stem and the posts
    opening: float  # narrowest gap that stays open
    wall: float  # least thickness round a hole
    stroke: float  # width of an engraved line
    engraved: float  # depth of an engraved line
    clearance: float  # between two pieces that fit into each other
    base: float  # thickness of the base
    supports: bool  # whether what hangs free needs supports that are broken off by hand, layer on layer
    usual_bed: tuple[float, float, float]

    def room(self, bed: str | None) -> Bed:
        """The bed ordered (see `parse_bed`), or the usual one. Raises CommandError."""
        return Bed(self.usual_bed, f"the usual bed of {self.name}") if bed is None else parse_bed(bed)


PROCESSES = (
    Process("filament", 2.0, 3.0, 1.0, 1.2, 0.8, 0.6, 0.3, 3.0, True, (220.0, 220.0, 250.0)),
    Process("resin", 1.0, 3.0, 0.5, 0.8, 0.6, 0.4, 0.2, 2.0, False, (200.0, 130.0, 250.0)),
    Process("powder", 1.2, 3.0, 1.0, 0.8, 0.6, 0.5, 0.3, 2.5, False, (300.0, 300.0, 300.0)),
)


@dataclass(frozen=True)
class Scale:
    """1:denominator; `text` as it is engraved."""

    denominator: float
    text: str

    @property
    def per_metre(self) -> float:
        """mm of the miniature for one metre of the cage."""
        return 1e3 / self.denominator


def scale_of(denominator: float) -> Scale:
    return Scale(denominator, f"1:{denominator:g}")


@dataclass(frozen=True)
class Bed:
    """Room of a printer, mm: across, deep, high."""

    size: tuple[float, float, float]
    of: str = ""  # whose it is, where nobody ordered it

    @property
    def text(self) -> str:
        size = "x".join(f"{side:g}" for side in self.size) + " mm"
        return f"{size}, {self.of}" if self.of else size

    def holds(self, size: Sequence[float]) -> bool:
        """Whether a box of this size (mm) stands on it, turned by a quarter if need be."""
        across, deep, high = size
        if high > self.size[2]:
            return False
        return sorted((across, deep)) <= sorted(self.size[:2]) and max(across, deep) <= max(self.size[:2])


def refuse(where: str, said: str, why: str, try_this: str) -> CommandError:
    """An order that cannot be carried out."""
    return CommandError(Problem(where, said, why, try_this))


def parse_scale(text: str) -> Scale:
    """'1:6' (also 1/6) as a Scale. Raises CommandError, asking back where it can guess."""
    said = text.strip()
    ratio = re.fullmatch(r"(\d+(?:\.\d+)?)\s*[:/]\s*(\d+(?:\.\d+)?)", said)
    if ratio is None:
        plain = re.fullmatch(r"\d+(?:\.\d+)?", said)
        guess = f"Did you mean 1:{said}?" if plain and float(said) >= 1.0 else "Write it as 1:6 or 1:12"
        raise refuse("--scale", text, "this is not a scale", guess)
    model, real = float(ratio[1]), float(ratio[2])
    if model == 0.0 or real == 0.0 or not math.isfinite(real / model):
        raise refuse("--scale", text, "a scale cannot have 0 in it", "Write it as 1:6 or 1:12")
    if model > real:
        raise refuse(
            "--scale", text, "this would be larger than the cage", f"Did you mean 1:{model / real:g}?"
        )
    return scale_of(real / model)


def process_of(name: str) -> Process:
    """The process of this name, or of its name in earlier designs. Raises CommandError with the list of them."""
    asked = process_today(name.strip().lower())
    for process in PROCESSES:
        if process.name == asked:
            return process
    raise unknown("--process", name, "process", [process.name for process in PROCESSES])


def parse_parts(names: Sequence[str] | None) -> tuple[str, ...]:
    """The parts asked for in the order of PARTS; all but the wearer's form where none are named."""
    if not names:
        return WITHOUT_FORM
    asked = [part.strip().lower() for name in names for part in name.split(",")]
    for name in asked:
        if name not in PARTS:
            raise unknown("--part", name, "part", list(PARTS))
    return tuple(part for part in PARTS if part in asked)


def parse_bed(text: str) -> Bed:
    """'220x220x250' in mm as a Bed. Raises CommandError."""
    said = text.strip().lower().removesuffix("mm").replace("×", "x").replace("*", "x")
    parts = re.findall(r"\d+(?:\.\d+)?", said)
    if len(parts) != 3 or not re.fullmatch(r"[\d.]+\s*x\s*[\d.]+\s*x\s*[\d.]+\s*", said):
        raise refuse("--bed", text, "this is not the size of a bed", "Write it in mm, such as 220x220x250")
    across, deep, high = (float(part) for part in parts)
    if min(across, deep, high) <= 0.0 or max(across, deep, high) > 1e5:
        raise refuse("--bed", text, "no printer has such a bed", "Write it in mm, such as 220x220x250")
    return Bed((across, deep, high))


def unknown(option: str, said: str, what: str, known: list[str]) -> CommandError:
    near = nearest(said.lower(), known)
    perhaps = f"Did you mean {near}? " if near else ""
    return refuse(option, said, f"there is no such {what}", f"{perhaps}Known: {', '.join(known)}")

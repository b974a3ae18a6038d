"""How thick each bar of a miniature is printed, what that thickens, and whether the gaps stay open."""

from __future__ import annotations

from dataclasses import dataclass

from cage3d.design.models import Design
from cage3d.miniature.lines import CageLines, hoop_gap, tape_gap
from cage3d.miniature.process import Process, Scale, scale_of
from cage3d.miniature.ways import RunTogetherError
from cage3d.shape.section_kinds import section_of
from cage3d.wording import capital

TAPE_OUTWARD = 0.25  # of the least section: keeps the faces of tape and hoop apart, so that none coincide
TIE_OVER_SECTION = 1.1  # the same for the ends of ties
TAIL = 0.5  # of the least section: tape below the lowest hoop's lower edge


@dataclass(frozen=True)
class Sections:
    """mm."""

    hoops: tuple[tuple[float, float], ...]  # H x (thickness, width) of the strip
    tape: tuple[float, float]  # (thickness, width)
    tape_outward: float  # of the tape's middle before the hoop's centre line
    tie: float  # diameter
    tail: float

    @property
    def crossing_overlap(self) -> float:
        """mm that hoop and tape lie inside each other at a crossing, at the least."""
        return min(thick for thick, _ in self.hoops) / 2.0 + self.tape[0] / 2.0 - self.tape_outward


def sections_of(design: Design, scale: Scale, process: Process) -> Sections:
    """Every bar at scale, or as thick as the process needs."""
    least, size = process.section, scale.per_metre
    hoops = []
    for hoop in range(len(design.hoops)):
        section = section_of(design.steel_of(hoop))
        hoops.append((max(section.through * size, least), max(section.along * size, least)))
    return Sections(
        hoops=tuple(hoops),
        tape=(least, max(design.tapes.width * size, least)),
        tape_outward=TAPE_OUTWARD * least,
        tie=TIE_OVER_SECTION * least,
        tail=hoops[-1][1] / 2.0 + TAIL * least,
    )


def thickened(design: Design, scale: Scale, process: Process, sections: Sections) -> tuple[str, ...]:
    """What is printed thicker than true to scale, by how much; one line each."""
    size = scale.per_metre
    lines = []
    for hoop, (thick, wide) in enumerate(sections.hoops):
        steel = design.steel_of(hoop)
        section = section_of(steel)
        true = (section.through * size, section.along * size)
        if thick > true[0] or wide > true[1]:
            lines.append(
                f"{capital(steel.made_of.stuff)} of hoop {hoop + 1}: {pair(true)} at {scale.text},"
                f" printed {pair((thick, wide))}"
            )
    if design.cloth is not None:
        lines.append(f"Seams, which stand for the cloth: printed {pair(sections.tape)}")
    else:
        true_tape = design.tapes.width * size
        lines.append(
            f"Tapes: {true_tape:.2f} mm wide at {scale.text} and thin as ribbon, printed {pair(sections.tape)}"
        )
    lines.append(f"{process.name} prints bars of {process.section:g} mm and more; check with your printer")
    return tuple(lines)


def pair(section: tuple[float, float]) -> str:
    return f"{section[0]:.2f} x {section[1]:.2f} mm"


def check_gaps(design: Design, lines: CageLines, scale: Scale, process: Process, stands: bool) -> None:
    """Raises RunTogetherError where bars would run into each other.

    stands: the miniature has a base under the lowest hoop.
    """
    gaps = Gaps(design, hoop_gap(lines), tape_gap(lines), hem_height(lines) if stands else float("inf"))
    closing = gaps.closing(scale, scale, process)
    if not closing:
        return
    raise gaps.fault(scale, process, closing)


def printable_at(
    design: Design, lines: CageLines, scale: Scale, other: float, process: Process, stands: bool
) -> bool:
    """Whether bars stay apart at 1:other as well; lines are at `scale`."""
    gaps = Gaps(design, hoop_gap(lines), tape_gap(lines), hem_height(lines) if stands else float("inf"))
    return not gaps.closing(scale, scale_of(other), process)


def hem_height(lines: CageLines) -> float:
    return min(float(hoop.points[:, 2].min()) for hoop in lines.hoops)


@dataclass(frozen=True)
class Gaps:
    """Distances of centre lines at one scale, mm."""

    design: Design
    hoops: float
    tapes: float
    hem: float

    def closing(self, drawn: Scale, wanted: Scale, process: Process) -> str:
        """What would run together at another scale than the lines are drawn at; empty where nothing does."""
        ratio = drawn.denominator / wanted.denominator
        sections = sections_of(self.design, wanted, process)
        if self.tapes * ratio - sections.tape[1] < process.opening:
            return "neighbouring tapes"
        if self.hoops * ratio - max(max(section) for section in sections.hoops) < process.opening:
            return "neighbouring hoops"
        if self.hem * ratio - sections.tail < process.opening:
            return "the lowest hoop and the base"
        return ""

    def fault(self, scale: Scale, process: Process, closing: str) -> RunTogetherError:
        why = (
            f"{closing} would run together: {process.name} needs bars of {process.section:g} mm"
            f" and gaps of {process.opening:g} mm"
        )
        return RunTogetherError(scale, process, why)

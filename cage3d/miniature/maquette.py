"""A settled cage as a miniature to print: thickened to what the process can print, united, standing."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import combinations
from string import ascii_lowercase

import numpy as np
from manifold3d import Manifold

from cage3d.design.models import Design
from cage3d.design.routes import is_plain
from cage3d.errors import CommandError
from cage3d.miniature.body import PrintBody, body_of
from cage3d.miniature.cuts import Piece
from cage3d.miniature.lines import CageLines, lines_of
from cage3d.miniature.order import Order
from cage3d.miniature.parts import Built, build_bars
from cage3d.miniature.process import (
    SCALES,
    WITHOUT_FORM,
    Bed,
    Process,
    Scale,
    refuse,
)
from cage3d.miniature.sections import check_gaps, printable_at, sections_of, thickened
from cage3d.miniature.solids import united, without_cavities
from cage3d.miniature.split import PIN, Cutter, laid_square, split_to_fit
from cage3d.miniature.stand import BASE_MARGIN
from cage3d.miniature.ways import RunTogetherError, Way, ways_that_print
from cage3d.settle.state import SettledCage
from cage3d.steady import fixed

ANY_BED = "10000x10000x10000"  # mm
CAUTIONS = (
    "Display model, not to be worn; not a toy, and not to be loaded",
    "Printing: nozzle and bed burn; resin and its wash irritate the skin, so wear gloves and air the room; "
    "powder calls for a mask; supports are sharp",
)


@dataclass(frozen=True)
class Maquette:
    """A miniature as bodies in mm, z up; the lowest corner of every plate's bodies is the origin."""

    title: str
    scale: str
    process: str
    # What is printed at one go. One plate of one body, unless parts that join the rest were left out
    # (then it has several bodies), or it was split or laid flat (then there may be several plates).
    plates: tuple[tuple[PrintBody, ...], ...]
    variant: str  # for file names: empty for the whole miniature, "flat", or the parts it has
    engraved: str  # on the base; empty where nothing could be read
    thickened: tuple[str, ...]  # what is thicker than true to scale, and by how much
    assembly: tuple[str, ...]  # what to do with several pieces, in order
    notes: tuple[str, ...]  # what was left out or changed, and the cautions

    @property
    def bodies(self) -> tuple[PrintBody, ...]:
        return tuple(body for plate in self.plates for body in plate)

    @property
    def file_name(self) -> str:
        """What sets its files apart from those of other miniatures of the design: '1-6-filament-flat'."""
        return "-".join(part for part in (self.scale.replace(":", "-"), self.process, self.variant) if part)

    @property
    def metadata(self) -> dict[str, str]:
        """What a 3MF file tells of itself."""
        told = [CAUTIONS[0], *self.thickened]
        return {"Title": self.title, "Application": "cage3d", "Description": ". ".join(told)}


def build_maquette(settled: SettledCage, order: Order) -> Maquette:
    """The miniature of a settled cage, standing.

    Bodies are checked: closed, as many openings as the cage's plan demands, no facet without area.
    Raises CommandError where the order cannot be printed, saying what can.
    """

    def build(way: Way) -> Maquette:
        # Whose bed is not known may have a larger one than is usual.
        parts, bed = way.parts or order.parts, order.bed or ANY_BED
        return maquette_built(
            settled, replace(order, scale=way.scale, process=way.process, parts=parts, bed=bed)
        )

    try:
        return maquette_built(settled, order)
    except RunTogetherError as fault:
        raise fault.advised(ways_that_print(build, fault.scale, fault.process)) from fault


def maquette_built(settled: SettledCage, order: Order) -> Maquette:
    """As `build_maquette`. Raises RunTogetherError without advice."""
    at, way, asked, room = order.at, order.way, order.asked, order.room
    design = settled.cage.design
    sections = sections_of(design, at, way)
    lines = lines_of(settled, at, sections.tail)
    check_gaps(design, lines, at, way, stands="stand" in asked)
    built = build_bars(settled, lines, sections, at, way, asked)
    wholes = united_bodies(built, lies_on_others(design))
    size = size_of([whole for _, whole, _ in wholes])
    plates: list[list[Planned]] = [wholes]
    assembly: tuple[str, ...] = ()
    if not room.holds(size):
        if not order.split:
            raise too_large(design, lines, size, at, way, room, "stand" in asked)
        plates, assembly = split_plates(
            wholes, Cutter(lines, built.stand, sections, way, built.plan, asked), room, size, at
        )
    return Maquette(
        title=f"{design.name}, {at.text}",
        scale=at.text,
        process=way.name,
        plates=tuple(plate_of(plate, at, way) for plate in plates),
        variant="" if asked == WITHOUT_FORM else "-".join(asked),
        engraved=built.engraved,
        thickened=thickened(design, at, way, sections),
        assembly=assembly,
        notes=(*built.notes, f"Fits a bed of {room.text}", *CAUTIONS),
    )


Planned = tuple[str, Manifold, int | None]  # name, body, openings it must have where they are known


def lies_on_others(design: Design) -> bool:
    """Whether tapes may lie over hoops that they do not pass, or over one another."""
    return not is_plain(design) or any(hoop.stations is not None for hoop in design.hoops)


def united_bodies(built: Built, touching: bool) -> list[Planned]:
    """The bodies of the plan, each united; what they hold is checked.

    touching: whether bars may lie against others that they are not joined to.
    """
    bodies: list[Planned] = []
    for planned in built.plan.bodies():
        solids = [built.solids[bar] for bar in planned.bars]
        name = "cage" if len(planned.bars) > 1 else planned.bars[0]
        whole = united(solids)
        check_volume(name, whole, solids)
        whole = without_cavities(whole) if touching else whole
        # Where the wearer's form stands inside, hoops and tapes may lie against it and close openings.
        unknown = touching or "form" in planned.bars
        bodies.append((name, whole, None if unknown else planned.genus))
    return bodies


def plate_of(planned: Sequence[Planned], scale: Scale, process: Process) -> tuple[PrintBody, ...]:
    """Bodies of one plate as meshes, moved to the origin together. Raises RunTogetherError for an unsound one."""
    boxes = np.array([whole.bounding_box() for _, whole, _ in planned])
    x, y, z = (float(side) for side in -boxes[:, :3].min(axis=0))
    try:
        return tuple(body_of(name, whole.translate((x, y, z)), genus) for name, whole, genus in planned)
    except ValueError as fault:
        why = f"parts run into each other with {process.name}: {fault}"
        raise RunTogetherError(scale, process, why) from fault


def split_plates(
    wholes: list[Planned], cutter: Cutter, room: Bed, size: tuple[float, float, float], scale: Scale
) -> tuple[list[list[Planned]], tuple[str, ...]]:
    """One plate a piece, and how they go together."""
    pieces = split_to_fit(wholes[0][1], cutter, room) if len(wholes) == 1 else None
    if pieces is None:
        why = f"the miniature is {said(size)} at {scale.text}, and its pieces are too large for it as well"
        raise refuse("--bed", room.text, why, "Use a larger bed, a smaller scale, or --flat")
    plates = [plate_of_piece(number, piece) for number, piece in enumerate(pieces, start=1)]
    told = [
        f"{len(pieces)} pieces, cut beside tape lines, with pins of {PIN:g} mm; "
        f"the holes leave {cutter.process.clearance:g} mm all round",
        "Clean pins and holes, try the pieces dry, then glue",
        "Slide pieces 1 and 2 together",
    ]
    if len(pieces) == 4:
        told += ["Slide pieces 3 and 4 together", "Slide the two halves together"]
    return plates, tuple(told)


def plate_of_piece(number: int, piece: Piece) -> list[Planned]:
    """A piece as one body, or more where its share of the base bears no post; its openings are counted."""
    bodies = sorted(laid_square(piece).decompose(), key=lambda body: -body.volume())
    names = (
        [f"piece {number}"] if len(bodies) == 1 else [f"piece {number} {sign}" for sign in ascii_lowercase]
    )
    return [(name, body, body.genus()) for name, body in zip(names, bodies, strict=False)]


def size_of(solids: Sequence[Manifold]) -> tuple[float, float, float]:
    """mm, of the box round all of them."""
    boxes = np.array([solid.bounding_box() for solid in solids])
    across, deep, high = (float(side) for side in boxes[:, 3:].max(axis=0) - boxes[:, :3].min(axis=0))
    return across, deep, high


def said(size: tuple[float, float, float]) -> str:
    return " x ".join(fixed(side, 0) for side in size) + " mm"


def check_volume(name: str, whole: Manifold, solids: Sequence[Manifold]) -> None:
    """A union holds no more than its parts, and no less than them without what two of them share."""
    parts = sum(solid.volume() for solid in solids)
    shared = sum((one ^ other).volume() for one, other in combinations(solids, 2) if boxes_meet(one, other))
    if not parts - shared - 1e-6 * parts <= whole.volume() <= parts * (1.0 + 1e-6):
        held = f"{whole.volume():.1f} mm3; its parts {parts:.1f}, shared {shared:.1f}"
        raise ValueError(f"the union of {name} holds {held}")


def boxes_meet(one: Manifold, other: Manifold) -> bool:
    first, second = one.bounding_box(), other.bounding_box()
    return all(first[k] <= second[k + 3] and second[k] <= first[k + 3] for k in range(3))


def too_large(
    design: Design,
    lines: CageLines,
    size: tuple[float, float, float],
    scale: Scale,
    process: Process,
    room: Bed,
    stands: bool,
) -> CommandError:
    """Says which scale fits. The base's margin and thickness stay as they are at every scale."""
    why = f"the miniature is {said(size)} at {scale.text}, too large for {room.text}"
    margin = 2.0 * BASE_MARGIN if stands else 0.0
    for other in (s for s in SCALES if s > scale.denominator):
        ratio = scale.denominator / other
        across, deep = ((side - margin) * ratio + margin for side in size[:2])
        fits = room.holds((across, deep, size[2] * ratio + process.base))
        if fits and printable_at(design, lines, scale, other, process, stands):
            return refuse("--bed", room.text, why, f"1:{other} fits; or let --split cut it beside tape lines")
    try_this = f"No scale that {process.name} can print fits; use a larger bed, a finer process, or --flat"
    return refuse("--bed", room.text, why, try_this)

"""A settled cage as flat pieces to print without supports and slot together."""

from __future__ import annotations

from collections.abc import Callable

from manifold3d import CrossSection, Manifold

from cage3d.errors import CommandError
from cage3d.miniature.body import PrintBody, body_of
from cage3d.miniature.flat.pack import pack
from cage3d.miniature.flat.piece import FlatPiece
from cage3d.miniature.flat.pieces import Kit, flat_kit, letter_of
from cage3d.miniature.maquette import CAUTIONS, Maquette
from cage3d.miniature.order import Order
from cage3d.miniature.process import (
    SCALES,
    WITHOUT_FORM,
    Bed,
    Process,
    Scale,
    refuse,
    scale_of,
)
from cage3d.settle.state import SettledCage


def build_flat(settled: SettledCage, order: Order) -> Maquette:
    """The cage as flat numbered pieces, one plate a bed; without a bed on the process's usual one.

    Raises CommandError where a piece is larger than the bed or the slots of two hoops would meet.
    """
    at, way, asked, room = order.at, order.way, order.asked, order.room
    kit = flat_kit(settled, at, way, asked)
    check_room(kit, room, at, lambda other: flat_kit(settled, other, way, asked))
    return Maquette(
        title=f"{settled.cage.design.name}, {at.text}, flat pieces",
        scale=at.text,
        process=way.name,
        plates=plates_of(kit, room),
        variant="flat" if asked == WITHOUT_FORM else "-".join(("flat", *asked)),
        engraved=kit.engraved,
        thickened=(
            f"Hoops and tapes: {2 * way.section:g} x {way.section:g} mm at {at.text}, whatever the strip; "
            "check with your printer",
        ),
        assembly=assembly(
            kit, way, letter_of(settled.cage.design), all(hoop.beside for hoop in settled.cage.design.hoops)
        ),
        notes=(*kit.notes, f"Laid out for a bed of {room.text}", *CAUTIONS),
    )


def check_room(kit: Kit, room: Bed, scale: Scale, kit_at: Callable[[Scale], Kit]) -> None:
    """Raises CommandError where one piece alone is larger than the bed, with a scale at which all fit, if one does.

    kit_at: the kit at another scale; raises CommandError where there is none.
    """
    large = [piece for piece in kit.pieces if not room.holds(box_of(piece))]
    if not large:
        return
    worst = max(large, key=lambda piece: times_too_large(piece, room))
    across, deep, _ = box_of(worst)
    why = f"{worst.name} alone is {across:.0f} x {deep:.0f} mm at {scale.text}"
    # Pieces do not shrink in proportion, their bars stay as thick: the first scale that may fit is tried, and the next.
    least = scale.denominator * times_too_large(worst, room)
    able = next((at for at in SCALES if at >= least and fits(kit_at, at, room)), None)
    smaller = f", or print at 1:{able}" if able else ""
    raise refuse("--bed", room.text, why, f"Use a larger bed{smaller}")


def fits(kit_at: Callable[[Scale], Kit], denominator: float, room: Bed) -> bool:
    try:
        return all(room.holds(box_of(piece)) for piece in kit_at(scale_of(denominator)).pieces)
    except CommandError:
        return False


def times_too_large(piece: FlatPiece, room: Bed) -> float:
    across, deep, _ = box_of(piece)
    long, short = max(across, deep), min(across, deep)
    return max(long / max(room.size[:2]), short / min(room.size[:2]))


def box_of(piece: FlatPiece) -> tuple[float, float, float]:
    left, low, right, high = piece.outline.bounds()
    return right - left, high - low, piece.thickness


def plates_of(kit: Kit, room: Bed) -> tuple[tuple[PrintBody, ...], ...]:
    """The pieces on as many beds as they need."""
    across, deep, _ = room.size
    turned = [lying(piece) for piece in kit.pieces]
    placed = pack([outline for outline, _ in turned], across, deep)
    plates: list[list[PrintBody]] = [[] for _ in range(1 + max(place.bed for place in placed))]
    for place in placed:
        piece, solid = kit.pieces[place.index], turned[place.index][1]
        moved = (solid.rotate((0.0, 0.0, 90.0)) if place.turned else solid).translate((place.x, place.y, 0.0))
        try:
            plates[place.bed].append(body_of(piece.name, moved, piece.genus))
        except ValueError as fault:
            raise refuse("--flat", piece.name, f"this piece cannot be made flat: {fault}",
                         "Print larger, or without --flat") from fault  # fmt: skip
    return tuple(tuple(plate) for plate in plates)


def lying(piece: FlatPiece) -> tuple[CrossSection, Manifold]:
    """A piece turned so that its box is smallest; tapes are drawn at the slant at which they hang."""
    angles = range(0, 90, 3) if piece.name.startswith("tape") else (0,)

    def box(angle: int) -> float:
        left, low, right, high = piece.outline.rotate(float(angle)).bounds()
        return round(float((right - left) * (high - low)), 6)

    angle = float(min(angles, key=box))
    return piece.outline.rotate(angle), piece.solid.rotate((0.0, 0.0, angle))


def assembly(kit: Kit, process: Process, letter: str, beside: bool = False) -> tuple[str, ...]:
    """How the pieces go together, one line a step; letter: that tapes bear; beside: whether all hoops stand beside her,
    and none lies over the uprights."""
    names = [piece.name for piece in kit.pieces]
    hoops, tapes = (sum(name.startswith(kind) for name in names) for kind in ("hoop", "tape"))
    lines = [
        f"{len(names)} pieces. Hoops bear H and their number from the top, tapes {letter} and theirs from "
        "centre front round by the wearer's left; on hoops they face up",
        f"Slots are {process.clearance:g} mm wider than pieces are thick; try them dry, ease with a file",
    ]
    lay = f"hoops {hoops} to 1 {{}}, the lowest first, letters to the front"
    if "base" in names:
        lines.append("Stand both uprights in the base, longer tabs down")
        if hoops and not beside:
            lines.append("Lay " + lay.format("over the uprights"))
        if "waist disc" in names:  # last: what stands inside a hoop does not pass over it
            lines.append("Then set the waist disc on their upper tabs")
    elif hoops and tapes and not beside:
        lines.append("Lay " + lay.format("one over another"))
    if tapes and hoops and beside:
        lines.append(
            "At one side after the other push the tapes on from outside, their slots over the waist disc, and press the"
            " hoops into the slots below from inside, from the top down, letters to the front"
        )
    elif tapes and hoops:
        lines += [
            "Lift the hoops one by one and push tape 1 on from outside, its slots over hoops"
            + (" and waist disc" if "waist disc" in names else ""),
            "Then the tape across from it, then the others in turn",
        ]
    return (*lines, "Glue every joint with a drop when the model stands straight")

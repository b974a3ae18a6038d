"""The flat pieces of a cage: rings, tapes, waist disc and stand, cut to fit each other; mm."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from manifold3d import CrossSection, OpType

from cage3d.design.models import Design
from cage3d.miniature.flat.piece import FlatPiece, flat_piece
from cage3d.miniature.flat.plan import TILT_TOLD, FlatPlan
from cage3d.miniature.flat.shapes import (
    Flag,
    label,
    open_band,
    ring,
    slotted_ring,
    tape_outline,
)
from cage3d.miniature.flat.stand import stand_pieces, tab_holes
from cage3d.miniature.flat.ties import openings, tie_bars, without_slits
from cage3d.miniature.lines import TieLine
from cage3d.miniature.process import (
    Process,
    Scale,
    refuse,
)
from cage3d.settle.state import SettledCage
from cage3d.steady import exceeds, fixed
from cage3d.wording import listed, numbered

ASIDE_TOLD = 2.0  # mm that a slot is beside its tape's place without being seen


@dataclass(frozen=True)
class Kit:
    """All pieces of a flat model, before they are laid on beds."""

    pieces: tuple[FlatPiece, ...]
    notes: tuple[str, ...]
    engraved: str


def flat_kit(settled: SettledCage, scale: Scale, process: Process, asked: tuple[str, ...]) -> Kit:
    """The pieces of the parts asked for; ties are one piece with their hoops, the form has none."""
    plan = FlatPlan(settled, scale, process)
    plan.check_slots()
    pieces: list[FlatPiece] = []
    engraved = ""
    bars, left_out = tie_bars(plan, "stand" in asked) if {"ties", "hoops"} <= set(asked) else ({}, ())
    if "waistband" in asked:
        pieces.append(waist_disc(plan, tab_holes(plan) if "stand" in asked else []))
    if "hoops" in asked:
        pieces += [hoop_piece(plan, hoop, bars.get(hoop, [])) for hoop in range(len(plan.lines.hoops))]
    if "tapes" in asked:
        pieces += [tape_piece(plan, tape) for tape in range(len(plan.lines.tapes))]
    if "stand" in asked:
        standing, engraved = stand_pieces(plan)
        pieces += standing
    if not pieces:
        raise refuse("--part", ", ".join(asked), "none of these parts is made flat",
                     "Choose from hoops, tapes, waistband, stand")  # fmt: skip
    return Kit(tuple(pieces), tuple(notes(plan, asked, left_out)), engraved)


def notes(plan: FlatPlan, asked: tuple[str, ...], left_out: Sequence[TieLine]) -> Iterator[str]:
    """What is left out, and what to mind."""
    if left_out:
        names = listed([tie.name for tie in left_out])
        yield (
            f"Left out: {names}. A tie from hoop to hoop, or in the way of the stand, has no place in flat "
            "pieces; the printed hoops keep the shape it gives them"
        )
    yield from turned_aside(plan)
    if exceeds(plan.lean, TILT_TOLD):
        yield f"Hoops lean up to {fixed(plan.lean, 0)} degrees: ease their slots with a file"
    if "form" in asked:
        yield "The wearer's form is not made flat"


def turned_aside(plan: FlatPlan) -> Iterator[str]:
    """Which tapes run so far sideways on their way down that a flat piece does not follow them."""
    off = plan.aside
    tapes = np.flatnonzero([exceeds(float(most), ASIDE_TOLD) for most in off.max(axis=1)])
    if len(tapes):
        row = int(np.round(off[tapes].max(axis=0), 6).argmax())
        named = numbered("tape", tapes + 1)
        yield (
            f"A flat piece cannot run sideways on its way down, as {named} would: slots are up to "
            f"{fixed(float(off.max()), 0)} mm beside the place where the tape crosses, most at {plan.row_name(row)}"
        )


def hoop_piece(plan: FlatPlan, hoop: int, ties: list[CrossSection]) -> FlatPiece:
    """A ring with its slots; ties: the bars across it."""
    line, closed = plan.ring_lines[hoop], bool(plan.lines.hoops[hoop].frames.closed)
    band = ring(line, plan.laps.width) if closed else open_band(line, plan.laps.width, plan.process.opening)
    if ties:
        band = without_slits(CrossSection.batch_boolean([band, *ties], OpType.Add), plan.process.opening)
    joints = [own[hoop + 1] for own in plan.joints if hoop + 1 in own]
    mark = ring_label(plan, hoop, closed)
    outline, plane = slotted_ring(band, joints, plan.laps), plan.ring_planes[hoop]
    mark = Flag(slotted_ring(mark.flag, joints, plan.laps), mark.letters)
    # A flag that reaches a tie shuts off a corner of its own.
    wanted = openings(outline + mark.flag) if ties else int(closed)
    return flat_piece(plan, f"hoop {hoop + 1}", outline, plane, mark, wanted)


def ring_label(plan: FlatPlan, hoop: int, closed: bool) -> Flag:
    """The hoop's number on its inside, between the two tapes nearest to the front that steel joins."""
    joined = plan.settled.cage.connectivity
    nodes = joined.hoop_nodes[hoop]
    spots = np.sort(np.flatnonzero(np.isin(nodes, joined.crossing[hoop])))
    ends = np.append(spots[1:], spots[0] + len(nodes)) if closed else spots[1:]
    middles = (spots[: len(ends)] + ends) // 2 % len(nodes)
    from_front = np.abs(np.mod(joined.node_fraction[nodes[middles]] + 0.5, 1.0) - 0.5)
    spot = int(middles[int(np.round(from_front, 6).argmin())])
    points = plan.ring_planes[hoop].flat(plan.lines.hoops[hoop].points)
    along = points[(spot + 1) % len(points)] - points[spot - 1]
    along = along / np.linalg.norm(along)
    inward = np.array([-along[1], along[0]])
    return label(f"H{hoop + 1}", points[spot], along, inward, plan.process)


def letter_of(design: Design) -> str:
    """What tapes bear before their number: T, or S where seams of cloth stand for them."""
    return design.line[0].upper()


def tape_piece(plan: FlatPlan, tape: int) -> FlatPiece:
    joints = list(plan.joints[tape].values())
    places = np.array([joint.in_tape for joint in joints])
    steps = np.linalg.norm(np.diff(places, axis=0), axis=1)
    longest = int(np.round(steps, 6).argmax())
    along = (places[longest] - places[longest + 1]) / steps[longest]
    outward = np.array([along[1], -along[0]])
    mark = label(
        f"{letter_of(plan.settled.cage.design)}{tape + 1}",
        places[longest : longest + 2].mean(axis=0),
        along,
        outward,
        plan.process,
    )
    return flat_piece(
        plan, f"tape {tape + 1}", tape_outline(joints, plan.laps), plan.tape_planes[tape], mark, 0
    )


def waist_disc(plan: FlatPlan, holes: Sequence[CrossSection]) -> FlatPiece:
    """The disc from which the tapes hang; holes: for the tabs of the stand."""
    oval = CrossSection([np.ascontiguousarray(plan.waist_line)])
    outline = oval.offset(plan.laps.width / 2.0, circular_segments=96)
    outline = slotted_ring(outline, [own[0] for own in plan.joints if 0 in own], plan.laps)
    for hole in holes:
        outline = outline - hole
    return flat_piece(plan, "waist disc", outline, plan.waist_plane, None, len(holes))

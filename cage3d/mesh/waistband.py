"""The waistband: a ring of its depth round the waist, closed by an overlap and a buckle where it opens."""

from __future__ import annotations

from functools import partial

import numpy as np

from cage3d.design import trade
from cage3d.design.models import Design
from cage3d.mesh.extras import lengths
from cage3d.mesh.frames import node_frames
from cage3d.mesh.part import Part
from cage3d.mesh.solid import Solid
from cage3d.mesh.sweep import rectangle, sweep
from cage3d.shape.arrays import Floats
from cage3d.shape.section_kinds import rounded
from cage3d.shape.waist import waist_ring

# Drawn only; common practice.
ROUND = 96  # points round the band
SHOWN_SHARE = 0.5  # of the written overlap; the rest is turned back inside
LAYER_GAP = 0.0001  # m between layers, so that no faces of two bodies coincide
MOST_OF_GIRTH = 1.0 / 6.0
OPENS_AT = {"front": 0.0, "back": 0.5}  # share of the girth from centre front by her left
BUCKLE_LENGTH, BUCKLE_BAR = 0.022, 0.0016  # m along the band; radius of its wire
# From the frame's middle: along the band in halves of the frame, outward in radii of the wire.
TONGUE = ((-1.1, 0.6), (-1.0, 2.1), (-0.8, 1.6), (0.7, 1.6), (0.95, 2.1), (1.2, 2.0))


def waistband_parts(design: Design) -> list[Part]:
    """The band, its overlap and its buckle with its tongue. The band's inside lies on the waist."""
    girth, depth = design.wearer.waist, design.waistband.drawn_depth
    told = partial(lengths, design.units, girth=girth, depth=depth, overlap=design.waistband.overlap)
    fractions = np.arange(ROUND) / ROUND
    line = waist_ring(design, fractions, 0.0)
    ring = sweep(
        line,
        node_frames(line, outward(design, fractions), True),
        rectangle(trade.BELTING_THICKNESS, depth, outward=trade.BELTING_THICKNESS / 2.0),
    )
    shown = min(SHOWN_SHARE * design.waistband.overlap / girth, MOST_OF_GIRTH)
    parts = [Part("band", "waistband", ring, "band", 0, told)]
    if shown > 0.0:
        parts.append(overlap(design, shown))
    return [*parts, *buckle_parts(design)]


def outward(design: Design, fractions: Floats) -> Floats:
    """(n, 3) unit, level and square to the waist ring."""
    step = 1e-4
    along = waist_ring(design, fractions + step, 0.0) - waist_ring(design, fractions - step, 0.0)
    out = np.column_stack([along[:, 1], -along[:, 0], np.zeros(len(along))])
    return np.asarray(out / np.linalg.norm(out, axis=1)[:, None])


def overlap(design: Design, shown: float) -> Part:
    fractions = np.linspace(0.0, shown, 13) + OPENS_AT[design.band_opens]
    line = waist_ring(design, fractions, 0.0)
    section = rectangle(
        trade.BELTING_THICKNESS,
        design.waistband.drawn_depth,
        outward=1.5 * trade.BELTING_THICKNESS + LAYER_GAP,
    )
    body = sweep(line, node_frames(line, outward(design, fractions), False), section)
    return Part("band overlap", "waistband", body, "band")


def buckle_parts(design: Design) -> list[Part]:
    """A frame of wire that lies on the band where it opens, and its tongue, hinged on the side where the band ends.

    The tongue goes through the overlap, which runs on the way tapes are counted, and rests on the frame's other bar.
    """
    place = np.array([OPENS_AT[design.band_opens]])
    middle, out = waist_ring(design, place, 0.0)[0], outward(design, place)[0]
    along, up = np.array([-out[1], out[0], 0.0]), np.array([0.0, 0.0, 1.0])
    half, high = BUCKLE_LENGTH / 2.0, design.waistband.drawn_depth / 2.0 + 2.0 * BUCKLE_BAR
    middle = middle + (2.0 * trade.BELTING_THICKNESS + BUCKLE_BAR) * out
    frame = middle + np.array([[-half, -high], [half, -high], [half, high], [-half, high]]) @ np.stack(
        [along, up]
    )
    # Over its hinge, down on the band's end, and up again over the other bar.
    tongue = middle + np.array(TONGUE) * [half, BUCKLE_BAR] @ np.stack([along, out])
    return [
        Part("buckle", "waistband", wire(frame, out, True), "hardware"),
        Part("buckle tongue", "waistband", wire(tongue, out, False), "hardware"),
    ]


def wire(line: Floats, out: Floats, closed: bool) -> Solid:
    frames = node_frames(line, np.tile(out, (len(line), 1)), closed)
    return sweep(line, frames, rounded(BUCKLE_BAR, 8), smooth=True)

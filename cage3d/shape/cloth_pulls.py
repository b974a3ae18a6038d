"""What of a petticoat's cloth pulls beside its seams: its lines between them, and the cloth across openings."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from cage3d.design.models import Design
from cage3d.shape.arrays import Floats, Ints
from cage3d.shape.gores import eases, gap_of, line_places, seam_lines, seam_shares
from cage3d.shape.lines import HoopLine


@dataclass(frozen=True)
class ClothPulls:
    """C pulls beside the seams; none where tapes carry the hoops."""

    ends: Ints  # (C, 2) nodes
    names: tuple[str, ...]
    shares: Floats  # (C, H*T) of the tape segments that each is as long as; nothing of those across openings


def between_seams(design: Design) -> Ints:
    """(L - T,) lines that are no seams: those that are fixed to the waistband after the seams, in this order."""
    return np.setdiff1d(np.arange(len(line_places(design))), seam_lines(design))


def fixed_places(design: Design) -> Floats:
    """(L,) shares of the girth of what is fixed to the waistband: seams first, then the lines between them."""
    places = line_places(design)
    return np.concatenate([places[seam_lines(design)], places[between_seams(design)]])


def open_hoops(design: Design) -> list[int]:
    """Hoops (from 0) whose openings are held by cloth."""
    return [hoop for hoop in range(len(design.hoops)) if gap_of(design, hoop) > 0.0]


def cloth_pulls(design: Design, lines: Sequence[HoopLine], nodes: Sequence[Ints], fixed: Ints) -> ClothPulls:
    """nodes: H x (n,) of each hoop; fixed: (L,) those of the waistband, as in `fixed_places`."""
    seams, hoops = design.tapes.count, len(lines)
    ends, names, shares = [], [], []
    between = between_seams(design)
    of_seams = seam_shares(design, line_places(design)[between])
    for anchor, line, share in zip(fixed[seams:], between, of_seams, strict=True):
        above, grown = int(anchor), np.zeros((hoops, seams))
        for hoop in range(hoops):
            grown[hoop] = share
            place = int(lines[hoop].at_lines[line])
            if place < 0:
                continue  # past the opening, down to the next hoop
            ends.append((above, int(nodes[hoop][place])))
            names.append(f"cloth to hoop {hoop + 1}")
            shares.append(grown.ravel())
            above, grown = int(nodes[hoop][place]), np.zeros((hoops, seams))
    for hoop in open_hoops(design):
        ends.append((int(nodes[hoop][-1]), int(nodes[hoop][0])))
        names.append(f"cloth across the opening of hoop {hoop + 1}")
        shares.append(np.zeros(hoops * seams))
    return ClothPulls(
        np.array(ends, dtype=np.intp).reshape(-1, 2), tuple(names),
        np.array(shares).reshape(-1, hoops * seams),
    )  # fmt: skip


def cloth_lengths(design: Design, shares: Floats, segments: Floats) -> Floats:
    """(C,) m of the pulls beside the seams, in the order of `cloth_pulls`; segments: (H*T,) m of the seams."""
    lengths = shares @ segments
    across = open_hoops(design)
    if across:
        over = eases(design)
        lengths[-len(across) :] = [gap_of(design, hoop) * (1.0 + over[hoop]) for hoop in across]
    return np.asarray(lengths)

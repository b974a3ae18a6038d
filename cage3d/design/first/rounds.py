"""The hoops and drops of a first design, worked out from a few measures and a silhouette.

The hoops are laid out level and round under a round waist: a tape between two of them is
the slant side of a cone, L = sqrt(dz^2 + dr^2).
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from itertools import accumulate, chain

from cage3d.design import trade
from cage3d.design.first.body import body_length
from cage3d.design.first.brief import Brief, edge_of, fine_grid, grid, height_of, whole
from cage3d.design.first.cage import FirstCage, FirstHoop, level, plane, slope
from cage3d.design.first.profile import SILHOUETTES, Profile, dome, levels

FLATTEST = 0.9  # least way down of the first tapes against their way out: flatter ones sag under the skirt
OPEN = 0.4  # of the hoops in cloth are open: two of five [common practice: the upper ones]
LOWER_AT_THE_SIDES = 0.006  # m, of open hoops in cloth: the cloth next to their ends then bears them too
BESIDE_A_SEAM, LEAST_OPENING = 0.03, 0.075  # m: that much steel crosses the seams, and less opening is none
OPEN_IN_FRONT = {"opening": "front"}
HEM_COUNTS = 4.0  # times as much as another hoop: it is the hem that was asked for


def round_cage(brief: Brief) -> FirstCage:
    """Round level hoops on equal tapes."""
    lengths = hoop_lengths(brief)
    edge, last = edge_of(brief), brief.hoops - 1
    return FirstCage(
        hoops=tuple(map(FirstHoop, lengths)),
        drops=(tuple(drops_for(brief, lengths)),),
        targets=tuple(
            level(hoop + 1, edge - depth, HEM_COUNTS if hoop == last else 1.0)
            for hoop, depth in enumerate(hoop_depths(brief, lengths))
        ),
        step=grid(brief.units),
    )


def gored_cage(brief: Brief) -> FirstCage:
    """A dome of round level hoops in casings on the petticoat's own cloth, the upper ones open at the front.

    An open hoop bears no cloth in front, where what hangs below it hangs on the band: each side has levels of its own.
    """
    dome = round_cage(brief)
    gap = opening(brief, dome.hoops[0].length)
    upper = round(OPEN * brief.hoops) if gap else 0
    down = tuple(accumulate(dome.drops[0]))
    sides = tuple(level + (LOWER_AT_THE_SIDES if place < upper else 0.0) for place, level in enumerate(down))
    closed = range(upper + 1, brief.hoops + 1)
    targets = [(at, plane(at.hoop), slope(at.hoop, 0.0, at.counts)) for at in dome.targets]
    return replace(
        dome,
        gores=brief.gores,
        gap=gap,
        hoops=tuple(
            replace(hoop, length=hoop.length - gap, placed=OPEN_IN_FRONT) if place < upper else hoop
            for place, hoop in enumerate(dome.hoops)
        ),
        drops=(down, sides, down),
        targets=tuple(chain.from_iterable(own[: 3 if own[0].hoop in closed else 1] for own in targets)),
        step=fine_grid(brief.units),
        free=(
            "all round",
            *(
                f"level {hoop} {wave}"
                for hoop in closed
                for wave in ("back against front", "sides against front and back")
            ),
        ),
    )


def opening(brief: Brief, girth: float) -> float:
    """m from end to end of open hoops, the first of this girth (m), in one gore; 0 where it leaves no room for one."""
    step = whole(brief.units)
    room = min(trade.OPENING_GAP, girth / (brief.gores or 1) - BESIDE_A_SEAM)
    gap = math.floor(room / step + 1e-9) * step
    return gap if gap >= LEAST_OPENING else 0.0


def hoop_lengths(brief: Brief) -> list[float]:
    """m, finished lengths from the top: the silhouette's profile, never narrower than the body.

    Where the profile would lie inside her hip it begins there instead of at the waist.
    """
    height = height_of(brief)
    shape = from_the_hip(brief) if starts_at_the_hip(brief) else from_the_waist(brief)
    return [
        up_from(shape(share), least(brief, share * height), whole(brief.units))
        for share in levels(brief.hoops)
    ]


def up_from(wanted: float, least: float, step: float) -> float:
    """m, `wanted` to the nearest step, or where that is less than `least` the next one up from that."""
    return max(round(wanted / step), math.ceil(least / step - 1e-9)) * step


def profile_of(brief: Brief) -> Profile:
    """The silhouette seen from the front; a dome where the kind says another thing about itself."""
    return SILHOUETTES.get(brief.silhouette, dome)


def least(brief: Brief, below: float) -> float:
    return max(body_length(brief, below), brief.waist)


def from_the_waist(brief: Brief) -> Callable[[float], float]:
    """m round at each level, by the silhouette alone."""
    profile = profile_of(brief)
    return lambda level: profile(level, brief.waist / brief.hem) * brief.hem


def from_the_hip(brief: Brief) -> Callable[[float], float]:
    """m round at each level: close over the hip, and the silhouette from there to the hem."""
    profile, hip, round_hip = profile_of(brief), hip_level(brief), least(brief, height_of(brief))
    spread = brief.hem - round_hip

    def shape(level: float) -> float:
        return round_hip + spread * profile((level - hip) / (1 - hip), 0.0) if level > hip else 0.0

    return shape


def hip_level(brief: Brief) -> float:
    """The hip's level as a share of the way from the band's edge to the hem."""
    return max((brief.hip_drop or 0.0) - trade.BAND_DEPTH / 2, 0.01) / height_of(brief)


def starts_at_the_hip(brief: Brief) -> bool:
    """Whether the silhouette, drawn from the waist, would lie inside the hip, and there is room to flare below it."""
    room = least(brief, height_of(brief)) < brief.hem and hip_level(brief) < 1.0
    return room and bool(decided_by_the_hip(brief))


def decided_by_the_hip(brief: Brief) -> dict[int, float]:
    """Hoops (from 0) that the silhouette alone would lay inside the hip and its room: what it asks for there (m)."""
    shape, height = from_the_waist(brief), height_of(brief)
    asked = {hoop: shape(level) for hoop, level in enumerate(levels(brief.hoops))}
    return {
        hoop: length
        for hoop, length in asked.items()
        if length < body_length(brief, levels(brief.hoops)[hoop] * height)
    }


def hoop_depths(brief: Brief, lengths: list[float]) -> list[float]:
    """m below the band's edge of each round hoop; the first low enough for its tapes to hang steeply."""
    return depths(brief, (lengths[0] - brief.waist) / math.tau)


def depths(brief: Brief, out: float) -> list[float]:
    """m below the band's edge of each hoop, whose first tapes step out by `out` (m)."""
    height, shares = height_of(brief), levels(brief.hoops)
    if brief.hoops == 1:
        return [height]
    first = max(shares[0] * height, FLATTEST * out)
    return [first + (share - shares[0]) / (1 - shares[0]) * (height - first) for share in shares]


def drops_for(brief: Brief, lengths: list[float]) -> list[float]:
    """m along the tape, rounded; each drop makes up for the rounding of those above it."""
    step = grid(brief.units)
    radii = [girth / math.tau for girth in (brief.waist, *lengths)]
    drops, reached = [], 0.0
    for depth, above, below in zip(hoop_depths(brief, lengths), radii, radii[1:], strict=False):
        out = abs(below - above)
        slant = round(math.hypot(max(depth - reached, step), out) / step) * step
        tape = max(slant, math.ceil((out + trade.TAPE_SPARE) / step) * step)
        drops.append(tape)
        reached += math.sqrt(tape**2 - out**2)
    return drops

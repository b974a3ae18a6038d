"""From an outline to figures of hoops: at which level each hoop hangs on it, and how wide it is there.

An outline alone leaves every hoop free to slide along it. So each keeps its place between waist and hem, where the
design does not want a height of it: the lowest hangs where the outline ends, the others in proportion.
"""

from __future__ import annotations

from collections.abc import Sequence

from cage3d.errors import CageError, Problem
from cage3d.settle import SettledCage
from cage3d.study.aiming.outline import Outline
from cage3d.study.aiming.wishes import Wish
from cage3d.study.figures import KINDS, Figure, figures_of
from cage3d.units import both

# Each side, the view that shows its edge, and on which side of the axis it lies there.
EDGES = {"left": ("front", 1.0), "right": ("front", -1.0), "front": ("side", -1.0), "back": ("side", 1.0)}


def with_outlines(
    settled: SettledCage, wishes: Sequence[Wish], outlines: Sequence[Outline], name: str
) -> tuple[Wish, ...]:
    """The wishes with heights and widths off the outlines for every hoop and side that they show.

    settled: the design as it hangs before. Raises CageError: a hoop hangs where the outline has nothing.
    """
    drawn = {outline.view: outline for outline in outlines}
    known = {wish.figure: wish.value for wish in wishes}
    for hoop in range(len(settled.cage.design.hoops)):
        known = levels_on(settled, drawn, hoop) | known
        for figure, value in breadths_on(known, drawn, hoop, name):
            known.setdefault(figure, value)
    return tuple(Wish(figure, value) for figure, value in sorted(known.items(), key=in_order))


def in_order(wish: tuple[Figure, float]) -> tuple[int, int]:
    """Hoops from the top, and each one's figures as they are always told."""
    return wish[0].hoop, list(KINDS).index(wish[0].kind)


def levels_on(settled: SettledCage, drawn: dict[str, Outline], hoop: int) -> dict[Figure, float]:
    """The heights of a hoop on every side: in proportion between the waistband and the outline's end.

    A side that is not drawn ends where the other view does, so that hoops lean no more than they did.
    """
    band = float(settled.positions[settled.cage.connectivity.on_band, 2].mean())
    hem = len(settled.cage.design.hoops) - 1
    found = {}
    for side, (view, sign) in EDGES.items():
        figures = [Figure(hoop, f"height {side}"), Figure(hem, f"height {side}")]
        height, lowest = figures_of(settled, figures)
        ends = lowest_end(drawn, view, sign)
        found[figures[0]] = float(band - (band - height) * (band - ends) / (band - lowest))
    return found


def lowest_end(drawn: dict[str, Outline], view: str, sign: float) -> float:
    """m above the floor, where an outline ends on one side of a view; of the other view both sides' middle."""
    if view in drawn:
        return drawn[view].lowest_towards(sign)
    (other,) = drawn.values()
    return (other.lowest_towards(1.0) + other.lowest_towards(-1.0)) / 2.0


def breadths_on(
    known: dict[Figure, float], drawn: dict[str, Outline], hoop: int, name: str
) -> list[tuple[Figure, float]]:
    """How wide the outlines are at the heights that are known of a hoop."""
    found = []
    if "front" in drawn:
        sides = [known[Figure(hoop, f"height {side}")] for side in ("left", "right")]
        least, most = ends_of(drawn["front"], sum(sides) / 2.0, hoop, name)
        found.append((Figure(hoop, "side to side"), most - least))
    if "side" in drawn:
        ahead = ends_of(drawn["side"], known[Figure(hoop, "height front")], hoop, name)[0]
        behind = ends_of(drawn["side"], known[Figure(hoop, "height back")], hoop, name)[1]
        found += [(Figure(hoop, "out in front"), -ahead), (Figure(hoop, "out at the back"), behind)]
    return found


def ends_of(outline: Outline, height: float, hoop: int, name: str) -> tuple[float, float]:
    """(least, most) m across; where the outline ends, a hair above. Raises CageError where it has nothing."""
    lowest, highest = float(outline.points[:, 1].min()), float(outline.points[:, 1].max())
    within = min(max(height, lowest + 1e-4), highest) if abs(height - lowest) < 2e-3 else height
    ends = outline.ends_at(within)
    if ends is None:
        why = f"hoop {hoop + 1} hangs {both(height)} above the floor, where the outline has nothing"
        try_this = "Draw the outline down to the hem, or want another height of this hoop"
        raise CageError(Problem(name, f"outline {outline.view}", why, try_this))
    return ends

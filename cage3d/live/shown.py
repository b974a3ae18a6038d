"""What the page draws of a settled cage while she moves: parts that cannot move are built once."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any

import numpy as np

from cage3d.design.models import Design
from cage3d.design.models.wanted import HEIGHTS, WIDTHS
from cage3d.live.page import shown_data
from cage3d.mesh.part import KINDS, USUAL_KINDS
from cage3d.page.shown_cage import WORN, ShownCage, ShownStage, match, stage
from cage3d.report import measure
from cage3d.report.curves import POINTS_PER_EDGE, hoop_curve
from cage3d.scene.shown import ScenePart, scene_parts
from cage3d.settle.state import SettledCage
from cage3d.shape.arrays import Floats
from cage3d.steady import all_steady, first_least
from cage3d.study.aiming.wishes import Wish, kind_of, wishes_of
from cage3d.units import show_length
from cage3d.wording import capital

HERS = frozenset({"form", "wearer", "waistband"})  # what hangs on her measures alone
HIDDEN = frozenset({"skirt", "form"})  # the cage stands on its wearer
DASH = 0.012  # m, of the outline of tapes and seams
BAR = 0.05  # m, height of a width's bars
FROM, TO = 0.01, 0.12  # m, where a height's line begins and ends, outside the hoop
OUT = {"front": (1, -1.0), "back": (1, 1.0), "left": (0, 1.0), "right": (0, -1.0)}  # axis, which way on it
ACROSS = {"side to side": 0, "front to back": 1}


@dataclass
class Shown:
    """The parts as the page has them."""

    parts: tuple[ScenePart, ...] = ()
    hers: tuple[object, tuple[ScenePart, ...]] | None = None  # of which measures, and the parts they give
    moving: set[str] = field(default_factory=set)  # parts that lay elsewhere since the whole was told

    def parts_of(self, settled: SettledCage) -> tuple[ScenePart, ...]:
        """What is drawn of the cage, in the order of the page."""
        parts = (*self.hers_of(settled), *scene_parts(settled, USUAL_KINDS - HERS, HIDDEN))
        order = list(KINDS)
        return tuple(sorted(parts, key=lambda part: order.index(part.group)))

    def stage_of(self, settled: SettledCage, parts: tuple[ScenePart, ...] | None = None) -> ShownStage:
        """The cage as it is drawn, with all that is said of it; parts: as `parts_of` gave them, where it was asked."""
        return stage(WORN, settled, measure(settled), self.parts_of(settled) if parts is None else parts)

    def hers_of(self, settled: SettledCage) -> tuple[ScenePart, ...]:
        design = settled.cage.design
        key = design.wearer, design.waistband, design.padding, design.units
        if self.hers is None or self.hers[0] != key:
            self.hers = key, tuple(scene_parts(settled, HERS, HIDDEN))
        return self.hers[1]

    def whole(self, settled: SettledCage, drawn: ShownStage) -> dict[str, Any]:
        """The scene as the page's scripts take it; what is told from now on is told against this."""
        self.parts, self.moving = drawn.parts, set()
        return shown_data(ShownCage(drawn.report.design, settled, drawn.report, (drawn,)))

    def moved(self, parts: tuple[ScenePart, ...]) -> set[str] | None:
        """Names of the parts to tell anew; None where they are other parts than the page has."""
        if not match(parts, self.parts):
            return None
        self.moving |= {
            part.name
            for part, other in zip(parts, self.parts, strict=True)
            if part is not other and not np.array_equal(part.vertices, other.vertices)
        }
        return self.moving


def outline(settled: SettledCage) -> list[list[list[float]]]:
    """Lines of (x, y, z) in m: every hoop, then every stretch of tape."""
    joined = settled.cage.connectivity
    hoops = [hoop_curve(settled, hoop).points[::POINTS_PER_EDGE] for hoop in range(joined.hoop_count)]
    stretches = [in_dashes(settled.pull_way(row)) for row in range(joined.segment_count)]
    return [points(line) for line in [*hoops, *stretches]]


def in_dashes(line: Floats) -> Floats:
    """The same way (k, 3) m with places so close that every other step of it is a dash."""
    along = np.concatenate([[0.0], np.cumsum(np.linalg.norm(np.diff(line, axis=0), axis=1))])
    places = np.linspace(0.0, along[-1], max(2, round(along[-1] / DASH) + 1))
    return np.column_stack([np.interp(places, along, axis) for axis in line.T])


def points(line: Floats) -> list[list[float]]:
    told: list[list[float]] = all_steady(line, 5).tolist()
    return told


def wanted_lines(settled: SettledCage) -> list[dict[str, Any]]:
    """What the design wants: a level line outside the hoop for a height, a bar at each end for a width."""
    return [line for wish in wishes_of(settled.cage.design) for line in lines_of(settled, wish)]


def lines_of(settled: SettledCage, wish: Wish) -> list[dict[str, Any]]:
    curve, kind = hoop_curve(settled, wish.figure.hoop).points, wish.figure.kind
    words = (
        f"wanted: {wish_name(settled.cage.design, wish)} {show_length(wish.value, settled.cage.design.units)}"
    )
    side = kind.removeprefix("height ")
    if side in OUT:
        axis, way = OUT[side]
        edge = float((curve[:, axis] * way).max())
        ends: Sequence[Floats] = [placed(axis, way * (edge + out), wish.value) for out in (FROM, TO)]
        return [{"line": points(np.array(ends)), "words": capital(words)}]
    if kind not in ACROSS:
        return []
    axis = ACROSS[kind]
    middle = float(curve[:, axis].min() + curve[:, axis].max()) / 2.0
    found = []
    for way in (-1.0, 1.0):
        at = middle + way * wish.value / 2.0
        level = float(curve[first_least(-way * curve[:, axis]), 2])
        bar = np.array([placed(axis, at, level + half) for half in (-BAR / 2.0, BAR / 2.0)])
        found.append({"line": points(bar), "words": capital(words)})
    return found


def wish_name(design: Design, wish: Wish) -> str:
    """'hoop 4 height left', and 'hoop 4 height' where all its sides are wanted alike."""
    own = [wanted for wanted in design.wanted if wanted.hoop - 1 == wish.figure.hoop]
    asked = {kind_of(key): value for wanted in own for key, value in wanted.asked()}
    for whole, parts in (("height", HEIGHTS), ("width", WIDTHS)):
        kinds = [kind_of(part) for part in parts]
        if wish.figure.kind in kinds and all(asked.get(kind) == wish.value for kind in kinds):
            return f"hoop {wish.figure.hoop + 1} {whole}"
    return wish.figure.name


def placed(axis: int, at: float, level: float) -> Floats:
    place = np.zeros(3)
    place[axis], place[2] = at, level
    return place

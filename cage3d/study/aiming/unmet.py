"""Why a figure that is wanted cannot be had, in words: from the slopes of what may change."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from cage3d.shape.arrays import Floats
from cage3d.steady import falling, first_least
from cage3d.study.aiming.aim import Aimed
from cage3d.study.aiming.freedom import freedom_of
from cage3d.study.figures import Figure, slopes_of
from cage3d.study.numbers import numbers_of, slides_of
from cage3d.units import show_length
from cage3d.wording import capital

DEAF = 0.02  # m a metre: a figure that moves by less with everything that is free hears nothing
MOST_REASONS = 6
COMPARED = {
    "height": ("made lower", "made higher"),
    "side": ("made narrower", "made wider"),
    "front": ("made narrower", "made wider"),
    "out": ("brought nearer", "brought farther out"),
}
AT_ITS_END = 1e-3  # m: a hoop that slides stands there
HELD = 0.5  # of what it is off: a figure counts as had once another is given up, if less is left


def reasons(aimed: Aimed, within: float, nodes: int) -> list[str]:
    """A sentence for each figure that is off by more than `within` (m), the farthest ones, and what would help."""
    ends = at_their_ends(aimed, nodes)
    # Off though every hoop slid as far as it liked.
    rest = linear_rest(aimed.slopes, aimed.off) if ends else aimed.off
    unmet = [place for place, off in enumerate(rest) if min(abs(off), abs(aimed.off[place])) > within]
    worst = falling([abs(float(aimed.off[place])) for place in unmet])[:MOST_REASONS]
    said = [reason(aimed, unmet[place]) for place in sorted(worst)]
    if len(unmet) > len(worst):
        said.append(f"{len(unmet) - len(worst)} figures more are off, by less.")
    return [*ends, *dict.fromkeys(said), *(helps(aimed, unmet, within, nodes) if unmet else ())]


def at_their_ends(aimed: Aimed, nodes: int) -> list[str]:
    """'Hoop 4 slides no longer than 76 in: ...' of hoops at that end beyond which the figures would come nearer."""
    design, lengths = aimed.design, np.eye(len(numbers_of(aimed.design)))
    figures = [wish.figure for wish in aimed.wishes]
    said = []
    for hoop, slide in slides_of(design).items():
        slopes = slopes_of(aimed.settled, design, nodes, lengths[:, [hoop]], figures)
        longer = float(aimed.off @ slopes[:, 0]) < 0.0  # takes away from what is off
        end, key = (slide.most, "most") if longer else (slide.least, "least")
        if abs(design.hoops[hoop].length - end) < AT_ITS_END:
            no_further = (
                f"slides no {'longer' if longer else 'shorter'} than {show_length(end, design.units)}"
            )
            said.append(f"Hoop {hoop + 1} {no_further}: write another {key} in its join, or want less of it.")
    return said


def reason(aimed: Aimed, place: int) -> str:
    """Why one figure is not had."""
    name, off = figure_in_words(aimed.wishes[place].figure), aimed.off[place]
    cannot = f"{capital(name)} cannot be {comparative(aimed.wishes[place].figure, off)}"
    if np.linalg.norm(aimed.slopes[place]) < DEAF:
        return f"{cannot}: nothing that is free moves it."
    rival = rival_of(aimed, place)
    if rival is None:
        return f"{cannot} without spoiling several others."
    return f"{cannot} together with {figure_in_words(aimed.wishes[rival].figure)} as wanted."


def comparative(figure: Figure, off: float) -> str:
    """What a figure would have to be: made wider, made lower, brought nearer, ..."""
    smaller, larger = COMPARED[figure.kind.split()[0]]
    return smaller if off > 0.0 else larger


def figure_in_words(figure: Figure) -> str:
    """'hoop 4 at the front', 'hoop 4 from side to side'."""
    side = figure.kind.removeprefix("height ")
    if figure.kind.startswith("out"):
        return f"hoop {figure.hoop + 1} {figure.kind}"
    if side == figure.kind:
        return f"hoop {figure.hoop + 1} from {side}"
    return f"hoop {figure.hoop + 1} at {'the ' if side in ('front', 'back') else 'her '}{side}"


def rival_of(aimed: Aimed, place: int) -> int | None:
    """The one other figure that, were it given up, would let this one be met; None where there is none."""
    left = []
    for other in range(len(aimed.off)):
        rows = [row for row in range(len(aimed.off)) if row != other]
        rest = linear_rest(aimed.slopes[rows], aimed.off[rows])
        left.append(abs(rest[rows.index(place)]) if other != place else np.inf)
    rival = first_least([float(one) for one in left]) if left else 0
    return rival if left and left[rival] < HELD * abs(aimed.off[place]) else None


def linear_rest(slopes: Floats, off: Floats) -> Floats:
    """(F,) m, what stays off after the best change as the slopes foresee it."""
    return np.asarray(off - slopes @ np.linalg.lstsq(slopes, off, rcond=1e-3)[0])


def helps(aimed: Aimed, unmet: list[int], within: float, nodes: int) -> Iterator[str]:
    """What else could be set free that moves them, as the slopes foresee."""
    design, figures = aimed.design, [wish.figure for wish in aimed.wishes]
    ways = [
        (words, freedom_of(design, free=[kind]))
        for kind, words, there in (
            ("tie", "Free the ties: --free tie", design.ties),
            ("panel", "Free the lacing: --free panel", design.panels),
        )
        if there
    ]
    ways.append(
        (f"Free each {design.line} for itself: --each-{design.line}", freedom_of(design, each_tape=True))
    )
    for words, freedom in ways:
        slopes = slopes_of(aimed.settled, design, nodes, freedom.directions, figures)
        rest = np.abs(linear_rest(slopes, aimed.off)[unmet])
        if rest.max() < max(within, HELD * np.abs(aimed.off[unmet]).max()):
            yield f"{words}."
            return
    moved = "drop" if design.cloth is None else "level"
    yield f"No length or {moved} of this cage moves them together; a tie or a laced panel more would."

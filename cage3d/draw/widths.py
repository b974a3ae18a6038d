"""Under every hoop of a level view its width, from end to end, each with its hoop's number.

Where hoops hang too near to each other for all of them, the hem's width and the widest hoop's stand, then
the topmost, then as many as there is room for from the hem upwards. Each stands nearest to its own hoop.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import product

import numpy as np
from scipy.spatial import cKDTree

from cage3d.draw.hung import Hung, extreme
from cage3d.draw.overlay import ACCENT, SOFT, Overlay, Place, width_of
from cage3d.draw.views import SIDE, Frame
from cage3d.shape.arrays import Floats
from cage3d.steady import first_largest, rising, steady
from cage3d.wording import capital, listed, numbered

# Everything in heights of the letters.
# Under the hoop's lower line as it is seen; over its upper one: negative.
BELOW = (0.95, 0.7, 0.45, 0.2, 0.0, -0.2, -0.45, -0.7, -0.95)
# Of the way to where the words reach the line's ends.
ASIDE = (0.0, -0.3, 0.3, -0.6, 0.6, -0.8, 0.8, -1.0, 1.0)
SIZES = (1.0, 0.75, 0.6)
PAD = 0.18  # of the white card round the words
OWN = 1.25  # the next hoop is further by this
APART = 0.1  # and by this
LINES_APART = 0.35
TWINS = 0.15  # hoops that take up the same place but for this have one width written


@dataclass(frozen=True)
class Width:
    """A width's dimension line from `left` to `right` at the height of its words; px."""

    hoop: int  # from 0
    left: Place  # the hoop's own outermost places
    right: Place
    middle: Place  # of the words
    size: float  # of the letters

    def box(self, words: str, text: float) -> tuple[float, float, float, float]:
        """left, top, right, bottom of the card under the words, px."""
        high = (0.5 + PAD) * self.size * text
        wide = width_of(words, text * self.size) / 2.0 + PAD * self.size * text
        x, y = self.middle
        return x - wide, y - high, x + wide, y + high


def level_widths(paper: Overlay, frame: Frame, hung: Hung) -> None:
    """Draws them; hoops whose width found no room are named at the foot of the picture."""
    every, widths = [frame.on_paper(curve) for curve in hung.curves], shown_widths(frame, hung)
    told = [hung.show(width) for width in widths]
    groups = hidden_behind(every, told, TWINS * paper.text)
    curves = [every[group[0]] for group in groups]
    words = [
        f"{capital(numbered('hoop', [hoop + 1 for hoop in group]))}: {told[group[0]]}" for group in groups
    ]
    found = placed_widths(curves, words, [widths[group[0]] for group in groups], paper.text)
    for width in found:
        y = width.middle[1]
        for x, from_y in (width.left, width.right):
            paper.straight([(x, from_y), (x, y + 0.2 * paper.text)], ACCENT, 0.5)
        paper.dimension((width.left[0], y), (width.right[0], y))
    for width in found:
        paper.words(width.middle, words[width.hoop], "mm", width.size, colour=ACCENT, card=True)
    shown = {hoop for width in found for hoop in groups[width.hoop]}
    if left_out := [str(hoop + 1) for hoop in range(len(every)) if hoop not in shown]:
        place = (paper.size[0] / 2.0, paper.size[1] - 0.6 * paper.text)
        which = f"hoop {left_out[0]}" if len(left_out) == 1 else f"hoops {listed(left_out)}"
        paper.words(place, f"No room for the width of {which}", "ms", 0.6, colour=SOFT)


def hidden_behind(curves: Sequence[Floats], told: Sequence[str], near: float) -> list[list[int]]:
    """Hoops (from 0) of which one hides the other, as baskets alike do from the side, together; else each by itself.

    curves: (n, 2) px a hoop; told: the width that is written of it; near: px that the corners of what both take up
    may be apart.
    """
    groups: list[list[int]] = []
    for hoop, curve in enumerate(curves):
        corners = np.concatenate([curve.min(axis=0), curve.max(axis=0)])
        for group in groups:
            other = curves[group[0]]
            apart = np.abs(np.concatenate([other.min(axis=0), other.max(axis=0)]) - corners).max()
            if apart < near and told[group[0]] == told[hoop]:
                group.append(hoop)
                break
        else:
            groups.append([hoop])
    return groups


def shown_widths(frame: Frame, hung: Hung) -> list[float]:
    """m, each hoop's width as this view shows it."""
    side = frame.view == SIDE
    return [hoop.width_front_back_m if side else hoop.width_side_side_m for hoop in hung.report.hoops]


def placed_widths(
    curves: Sequence[Floats], words: Sequence[str], widths: Sequence[float], text: float
) -> list[Width]:
    """Where each width stands; curves: (n, 2) px a hoop, from the top; text: height of the letters, px.

    The hem's and the widest one's are always among them.
    """
    trees = [cKDTree(curve) for curve in curves]
    own = [
        nearest(tries_of(hoop, curve, words[hoop], text), trees, hoop, text)
        for hoop, curve in enumerate(curves)
    ]
    hem, widest = len(curves) - 1, first_largest(widths)
    placed = both(own[hem], own[widest], words, text) if widest != hem else own[hem][:1]
    for hoop in (0, *range(hem - 1, 0, -1)):
        if all(width.hoop != hoop for width in placed):
            placed += [width for width in own[hoop] if clear(width, placed, words, text)][:1]
    return sorted(placed, key=lambda width: width.hoop)


def both(hem: Sequence[Width], widest: Sequence[Width], words: Sequence[str], text: float) -> list[Width]:
    """The hem's place that reads best beside which the widest one's has room; over one another rather than not."""
    for first in hem:
        second = [width for width in widest if clear(width, [first], words, text)]
        if second:
            return [first, second[0]]
    return [*hem[:1], *widest[:1]]


def tries_of(hoop: int, curve: Floats, words: str, text: float) -> list[Width]:
    """Places for the words of a hoop, the one that reads best first."""
    left, right = extreme(curve, -1), extreme(curve, 1)
    middle, tries = (left[0] + right[0]) / 2.0, []
    for size, aside in product(SIZES, ASIDE):
        room = (right[0] - left[0] - width_of(words, text * size)) / 2.0 - text
        if room <= 0.0 and aside:
            continue
        x = middle + aside * max(room, 0.0)
        low, high = lines_at(curve, x)
        for below in BELOW:
            y = (low if below >= 0.0 else high) + below * text
            # Rather in the middle than aside, rather well under the line than on it, rather large than small.
            unease = 3.0 * (1.0 - size) + (BELOW[0] - below) + 0.8 * abs(aside)
            tries.append((unease, Width(hoop, left, right, (x, y), size)))
    order = rising([unease for unease, _ in tries])
    return [tries[place][1] for place in order]


def lines_at(curve: Floats, x: float) -> tuple[float, float]:
    """px, the lowest and the highest line of a hoop as it is seen at one place across (y points down)."""
    closed = np.vstack([curve, curve[:1]])
    start, end = closed[:-1], closed[1:]
    hits = (start[:, 0] - x) * (end[:, 0] - x) <= 0.0
    if not hits.any():  # in the opening of an open hoop
        y = float(curve[np.abs(curve[:, 0] - x).argmin(), 1])
        return y, y
    run = np.where(np.abs(end[hits, 0] - start[hits, 0]) < 1e-9, 1.0, end[hits, 0] - start[hits, 0])
    y = start[hits, 1] + (x - start[hits, 0]) / run * (end[hits, 1] - start[hits, 1])
    return float(y.max()), float(y.min())


def nearest(tries: Sequence[Width], trees: Sequence[cKDTree], hoop: int, text: float) -> list[Width]:
    """Those whose words stand clearly nearer to their own hoop than to any other; one at the least."""
    middles = np.array([width.middle for width in tries])
    distances = [np.asarray(tree.query(middles)[0]) for tree in trees]
    others = [distance for other, distance in enumerate(distances) if other != hoop]
    if not others:
        return list(tries)
    spare = np.stack(others).min(axis=0) - OWN * distances[hoop] - APART * text
    clearly = [width for width, left in zip(tries, spare, strict=True) if steady(float(left), 3) >= 0.0]
    # Hoops that lie in one another as they are seen: where it stands nearest of all.
    return clearly or [tries[first_largest(spare)]]


def clear(width: Width, placed: Sequence[Width], words: Sequence[str], text: float) -> bool:
    """Whether a width's words and line keep clear of those that stand already."""
    left, top, right, bottom = width.box(words[width.hoop], text)
    for other in placed:
        a, b, c, d = other.box(words[other.hoop], text)
        if left < c and a < right and top < d and b < bottom:
            return False
        beside = width.right[0] < other.left[0] or other.right[0] < width.left[0]
        if not beside and abs(width.middle[1] - other.middle[1]) < LINES_APART * text:
            return False
    return True

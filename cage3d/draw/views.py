"""Where a picture is looked at from, and how a point of the cage falls on the paper (parallel projection)."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from cage3d.shape.arrays import Floats


@dataclass(frozen=True)
class View:
    """A direction to look in. turn: degrees from the front round by the wearer's left; rise: above level."""

    name: str
    title: str
    turn: float
    rise: float

    @property
    def axes(self) -> Floats:
        """(3, 3) unit rows: to the right in the picture, up in it, and out of it towards the eye."""
        turn, rise = np.radians(self.turn), np.radians(self.rise)
        out = [np.sin(turn) * np.cos(rise), -np.cos(turn) * np.cos(rise), np.sin(rise)]
        right = [np.cos(turn), np.sin(turn), 0.0]
        up = [-np.sin(turn) * np.sin(rise), np.cos(turn) * np.sin(rise), np.cos(rise)]
        return np.array([right, up, out])

    @property
    def sides(self) -> tuple[str, str]:
        """What of her lies furthest to the right of the picture and furthest to its left."""
        left, back = self.axes[0, :2]
        if abs(left) > abs(back):
            return ("her left", "her right") if left > 0.0 else ("her right", "her left")
        return ("the back", "the front") if back > 0.0 else ("the front", "the back")

    @property
    def level(self) -> bool:
        """Heights are seen at their true size."""
        return self.rise == 0.0

    @property
    def plan(self) -> bool:
        """Seen straight from above."""
        return self.rise == 90.0


FRONT = View("front", "From the front", 0.0, 0.0)
SIDE = View("side", "From her left", 90.0, 0.0)
BACK = View("back", "From the back", 180.0, 0.0)
ABOVE = View("above", "From above", 0.0, 90.0)
THREE_QUARTER = View("three-quarter", "Three-quarter", 28.0, 14.0)
SKIRT = View("skirt", "With its skirt, from behind", 152.0, 14.0)
VIEWS = (FRONT, SIDE, BACK, THREE_QUARTER, ABOVE)


@dataclass(frozen=True)
class Frame:
    """A view on a piece of paper."""

    view: View
    width: int  # px
    height: int  # px
    centre: tuple[float, float]  # m right and up, what lies in the middle of the paper
    scale: float  # px a metre

    def on_paper(self, points: Floats) -> Floats:
        """(n, 2) px from the upper left corner, for points (n, 3) m."""
        flat = np.atleast_2d(points) @ self.view.axes[:2].T - np.array(self.centre)
        return np.asarray([self.width / 2.0, self.height / 2.0] + flat * np.array([self.scale, -self.scale]))


@dataclass(frozen=True)
class Margins:
    """Room kept free round the cage for what is written (px)."""

    left: float
    right: float
    top: float
    bottom: float


def fitted(
    view: View, points: Floats, size: tuple[int, int], margins: Margins, scale: float | None = None
) -> Frame:
    """The frame in which points (n, 3) m fill what the margins leave, or are drawn at `scale` px a metre."""
    width, height = size
    flat = points @ view.axes[:2].T
    low, high = flat.min(axis=0), flat.max(axis=0)
    room = np.array([width - margins.left - margins.right, height - margins.top - margins.bottom])
    scale = scale or float((room / np.maximum(high - low, 1e-9)).min())
    aside = (margins.right - margins.left) / 2.0 / scale
    raised = (margins.top - margins.bottom) / 2.0 / scale
    middle = (low + high) / 2.0
    return Frame(view, width, height, (float(middle[0] + aside), float(middle[1] + raised)), scale)

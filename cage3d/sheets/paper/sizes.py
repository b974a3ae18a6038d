"""Paper sizes and the frame that every page shares."""

from __future__ import annotations

from dataclasses import dataclass

from reportlab.lib.units import mm

from cage3d.errors import CommandError, Problem
from cage3d.units import INCH

# m, upright: ISO 216 for A sizes; letter is 8 1/2 by 11 in.
PAPERS = {"a4": (0.210, 0.297), "letter": (0.2159, 0.2794), "a3": (0.297, 0.420)}
MARGIN = 12 * mm  # home printers leave up to 6 mm blank
HEADER = 9 * mm
FOOTER = 8 * mm
POINTS_PER_METRE = 72.0 / INCH


@dataclass(frozen=True)
class Paper:
    """One paper, in points as PDF counts them."""

    name: str
    width: float
    height: float

    @property
    def frame(self) -> tuple[float, float, float, float]:
        """(x, y, width, height) of what a page may hold between its header and footer."""
        return (MARGIN, MARGIN + FOOTER, self.width - 2 * MARGIN, self.height - 2 * MARGIN - HEADER - FOOTER)


def paper_named(name: str) -> Paper:
    """The paper of that name. Raises CommandError, listing all, for any other."""
    size = PAPERS.get(name.lower())
    if size is None:
        known = ", ".join(PAPERS)
        raise CommandError(Problem("--paper", name, "this paper is not known here", f"Choose one of {known}"))
    return Paper(name.lower(), size[0] * POINTS_PER_METRE, size[1] * POINTS_PER_METRE)

"""The shape that is wanted: figures of hoops as the cage hangs under its skirt."""

from __future__ import annotations

from collections.abc import Iterator

from cage3d.design.counts import Count
from cage3d.design.forms import Written
from cage3d.design.quantities import Length

HEIGHTS = ("front", "left", "back", "right")
WIDTHS = ("side_to_side", "front_to_back")


class WantedHoop(Written):
    """What one hoop (from 1) should be (m): heights above the floor, widths in plan.

    height: on all four sides; width: both ways.
    """

    hoop: Count
    height: Length | None = None
    front: Length | None = None
    left: Length | None = None
    back: Length | None = None
    right: Length | None = None
    width: Length | None = None
    side_to_side: Length | None = None
    front_to_back: Length | None = None

    def asked(self) -> Iterator[tuple[str, float]]:
        """(key, m) of every single figure, `height` and `width` taken apart."""
        for whole, parts in (("height", HEIGHTS), ("width", WIDTHS)):
            for part in parts:
                value = getattr(self, part) if getattr(self, part) is not None else getattr(self, whole)
                if value is not None:
                    yield part, value

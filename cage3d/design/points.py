"""Points of the cage in the maker's words, and where the tapes stand round the girth."""

from __future__ import annotations

import re

import numpy as np
from numpy.typing import NDArray

from cage3d.design.models import Tapes
from cage3d.design.models.gores import places_round
from cage3d.units import UnitError, refuse_long

POINT = re.compile(
    r"(?:hoop\s*(?P<hoop>[0-9]{1,4})|(?P<band>waist\s?band|waist|band))[\s,]+(?:tape|seam)\s*(?P<tape>[0-9]{1,4})"
)
TURNED = re.compile(
    r"(?:tape|seam)\s*(?P<tape>[0-9]{1,4})[\s,]+(?:at |on |of )?(?:hoop\s*(?P<hoop>[0-9]{1,4})|(?P<band>waist\s?band))"
)


# The sides of the wearer, as shares of a turn from centre front round by her left.
SIDES = {"before": 0.0, "left": 0.25, "behind": 0.5, "right": 0.75}
OPENS_AT = {"front": 0.0, "left": 0.25, "back": 0.5, "right": 0.75}  # of a hoop, by its own front and left


def way_round(start: float, end: float, side: float) -> float:
    """Share of a turn (by her left positive) that leads from one place to another past a side of her.

    All three as shares of a turn from centre front by her left.
    """
    by_left = (end - start) % 1.0
    return by_left if (side - start) % 1.0 <= by_left else by_left - 1.0


def parse_point(text: str) -> tuple[int | None, int]:
    """'hoop 3 tape 6' -> (3, 6); 'waistband tape 2' -> (None, 2); counted from 1 as written.

    Raises UnitError (a ValueError) where the text is no point.
    """
    refuse_long(text, "Write hoop 3 tape 6, or waistband tape 2")
    plain = " ".join(text.lower().split())
    found = POINT.fullmatch(plain) or TURNED.fullmatch(plain)
    if found is None:
        raise UnitError("this is not a point of the cage", "Write hoop 3 tape 6, or waistband tape 2")
    return (None if found["band"] else int(found["hoop"])), int(found["tape"])


def point_text(hoop: int | None, tape: int) -> str:
    """(3, 6) -> 'hoop 3 tape 6'; (None, 2) -> 'waistband tape 2'."""
    return f"waistband tape {tape}" if hoop is None else f"hoop {hoop} tape {tape}"


def station_fractions(tapes: Tapes) -> NDArray[np.float64]:
    """(T,) where each tape stands, as a share of the girth from centre front round by the wearer's left."""
    return np.array(places_round(tapes.stations, tapes.count), dtype=np.float64)

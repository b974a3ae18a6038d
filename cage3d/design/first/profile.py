"""Silhouettes in trade words: how wide the cage is at each level.

All rules of thumb here are common practice, compared with the long dome of the samples.
s is the level as a share of the way from the waistband (0) to the hem (1); a profile gives
the hoop's length as a share of the hem's, waist being the waistband's own share.
"""

from __future__ import annotations

import math
from collections.abc import Callable

DRAWN_IN = 0.87  # 60 in under 69 in, as the lantern of the samples; our own judgement

Profile = Callable[[float, float], float]


def dome(s: float, waist: float) -> float:
    """Widens fast at the top, near vertical below: within 5 % of the hem of the samples' long dome."""
    return waist + (1 - waist) * math.sin(s * math.pi / 2)


def bell(s: float, waist: float) -> float:
    """Close over the hips, then a flare that grows towards the hem."""
    return waist + (1 - waist) * s * math.sqrt(s)


def cone(s: float, waist: float) -> float:
    """Straight from waist to hem, as the sixteenth century's."""
    return waist + (1 - waist) * s


def drum(s: float, waist: float) -> float:  # noqa: ARG001
    """As wide at the first hoop as at the hem: the wheel of about 1600."""
    return 1.0


def lantern(s: float, waist: float) -> float:
    """Widest about two thirds of the way down; the hem is drawn in to DRAWN_IN of the widest."""
    narrow = DRAWN_IN * waist
    turn = math.pi - math.asin((DRAWN_IN - narrow) / (1 - narrow))
    return (narrow + (1 - narrow) * math.sin(s * turn)) / DRAWN_IN


SILHOUETTES: dict[str, Profile] = {"dome": dome, "bell": bell, "cone": cone, "drum": drum, "lantern": lantern}


def levels(hoops: int) -> list[float]:
    """Shares of the way down at which hoops hang: the first stretch half as long again."""
    if hoops == 1:
        return [1.0]
    steps = [1.5] + [1.1 - 0.25 * number / max(hoops - 2, 1) for number in range(hoops - 1)]
    total = sum(steps)
    return [sum(steps[: number + 1]) / total for number in range(hoops)]

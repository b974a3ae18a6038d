"""Hoops that do not go round her but stand beside her: which they are, and what hangs over what.

A basket is all hoops beside her on one side. Its hoops count round their own girth from their own front by their own
left; what is above or below a hoop is so in its own basket.
"""

from __future__ import annotations

from collections.abc import Sequence

from cage3d.design.models import Design, Hoop

HALVES = {"left": (0.0, 0.5), "right": (0.5, 1.0)}  # of a turn from centre front by her left
INNER = {"left": 0.75, "right": 0.25}  # of a hoop's own turn: the middle of the side that is next to her
TOWARDS_HER = {"left": "right", "right": "left"}  # the own side of a hoop at which it opens


def has_baskets(design: Design) -> bool:
    """Whether any hoop stands beside her."""
    return any(hoop.beside is not None for hoop in design.hoops)


def own_half(station: float, side: str) -> bool:
    """Whether a tape of this station on the waistband hangs at that side of her, and not at centre front or back."""
    low, high = HALVES[side]
    return low < station < high


def even_stations(hoop: Hoop, count: int) -> tuple[float, ...]:
    """Where `count` tapes stand on a hoop beside her that does not say it, the first of them first round by her left.

    On an open one evenly over half a turn, its ends at its own front and back; on a closed one evenly round it, from
    the middle of its inner side.
    """
    start = HALVES[str(hoop.beside)][0]
    if hoop.opening != "none":
        return tuple((start + 0.5 * place / max(count - 1, 1)) % 1.0 for place in range(count))
    return tuple((INNER[str(hoop.beside)] + (place + 0.5) / count) % 1.0 for place in range(count))


def basket_of(design: Design, hoop: int) -> list[int]:
    """All hoops (from 0) of the basket of a hoop beside her, from the top."""
    side = design.hoops[hoop].beside
    return [number for number, one in enumerate(design.hoops) if one.beside == side]


def neighbours(design: Design) -> tuple[tuple[int, int], ...]:
    """(hoop, the next below it), both from 0: in its own basket, or round her; under one round her both baskets."""
    pairs = []
    for upper, hoop in enumerate(design.hoops):
        for side in HALVES if hoop.beside is None else (hoop.beside,):
            below = range(upper + 1, len(design.hoops))
            pairs += [(upper, lower) for lower in below if design.hoops[lower].beside in (side, None)][:1]
    return tuple(dict.fromkeys(pairs))


def hem_hoops(design: Design) -> tuple[int, ...]:
    """The hoops (from 0) that make the hem."""
    return lowest_of([hoop.beside for hoop in design.hoops])


def lowest_of(sides: Sequence[str | None]) -> tuple[int, ...]:
    """The hoops (from 0) that make a hem: the last, or the lowest of each basket where that stands beside her.

    sides: at which side of her each hoop stands, from the top; None where it goes round her.
    """
    last = len(sides) - 1
    if sides[last] is None:
        return (last,)
    lowest = {side: number for number, side in enumerate(sides)}
    below = lowest.get(None, -1)  # the last hoop that goes round her
    return tuple(sorted(number for side, number in lowest.items() if side is not None and number > below))


def hem_under(sides: Sequence[str | None], hoop: int, passed: Sequence[int]) -> int:
    """The hoop of the hem that hangs under a mark of `hoop`: that of its own basket, where it stands beside her.

    Under a hoop that goes round her over two baskets it is that of the basket to which the mark's tape goes on.
    sides: as of `lowest_of`; passed: the hoops that the tape passes; all from 0.
    """
    hems = lowest_of(sides)
    own = [hem for hem in hems if sides[hem] == sides[hoop]]
    return (own or [hem for hem in hems if hem in passed] or hems)[-1]

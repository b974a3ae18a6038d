"""Which steel suits a cage: how far the hem gives under a hand, how near a bend comes to a kink, what it carries.

The lightest steel that carries the skirt is nearly always too soft to wear. Each strip is tried in every hoop, bare,
and the cage really settled with it. Of the strips of the stock only those are tried that no lighter one beats in
stiffness, and among them the lightest that is stiff enough is found by halving.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from cage3d.design import stock, trade
from cage3d.design.models import Design
from cage3d.design.stock import Strip
from cage3d.foresee.capacity import carries, with_steel
from cage3d.foresee.stiffness import USUAL, Give, droops, gives
from cage3d.settle.settling import settle
from cage3d.settle.state import SettledCage
from cage3d.shape.lay_out import lay_out
from cage3d.steady import steady

NO_REST, SOFT, KINKS, WEAK = "finds no rest", "too soft", "bent too near a kink", "carries too little"


@dataclass(frozen=True)
class Suit:
    """One strip in every hoop of a cage."""

    strip: Strip
    mass: float  # kg of all hoops, bare
    least_radius: float  # m; bent tighter it keeps a kink
    gives: tuple[Give, ...]  # at front, left and back
    droop: float | None  # m, at most; None where the cage finds no rest
    bent: float | None  # share of what the steel bears at its tightest bend, at rest
    fault: str  # why it does not do, the first of the words above; "" where it does


def suit(design: Design, strip: Strip, wanted: float) -> Suit:
    """A strip, tried under the planned skirt, a hand's push, and `wanted` times the skirt."""
    tried = with_steel(design, strip.width, strip.thickness)
    cage = lay_out(tried)
    mass = sum(steel.finished * steel.section.mass for steel in cage.steels)
    radius = min(steel.section.smallest_elastic_radius for steel in cage.steels)
    settled = settle(cage)
    if not settled.trusted:
        return Suit(strip, mass, radius, (), None, None, NO_REST)
    pushed = gives(settled)
    bent = float(settled.strains.max())
    fault = fault_of(settled, pushed, bent, wanted)
    return Suit(strip, mass, radius, pushed, max(droops(settled)), bent, fault)


def fault_of(settled: SettledCage, pushed: Sequence[Give], bent: float, wanted: float) -> str:
    """Why a steel does not do: the same bounds as in the report's words and warnings."""
    if any(one.dent is None or one.dent > USUAL for one in pushed):
        return SOFT
    if bent > trade.STRAIN or any(one.strain is None or one.strain >= 1.0 for one in pushed):
        return KINKS
    capacity = carries(settled)
    return WEAK if capacity is not None and capacity.factor < wanted else ""


def suiting_steel(design: Design, wanted: float) -> Suit:
    """The lightest strip of the stock that is stiff enough, else the stiffest; `fault` says whether it does."""
    chain = stiffer_for_their_weight(stock.STRIPS)
    best, low, high = suit(design, chain[-1], wanted), 0, len(chain) - 1
    if best.fault in (SOFT, NO_REST):
        return best
    while low < high:
        middle = (low + high) // 2
        tried = suit(design, chain[middle], wanted)
        if tried.fault in (SOFT, NO_REST):
            low = middle + 1
        else:
            best, high = tried, middle
    return best


def stiffer_for_their_weight(strips: Sequence[Strip]) -> list[Strip]:
    """Those that no other of their weight or less beats in bending stiffness (width times thickness cubed)."""
    chain: list[Strip] = []
    for strip in sorted(strips, key=lambda one: (steady(1e6 * one.width * one.thickness, 6), -one.thickness)):
        if not chain or bending(strip) > bending(chain[-1]) * (1.0 + 1e-9):
            chain.append(strip)
    return chain


def bending(strip: Strip) -> float:
    """m4, up to a factor."""
    return strip.width * strip.thickness**3


def own_steels(design: Design, wanted: float) -> tuple[Suit, ...]:
    """Every size of strip that the maker has written under `buying`, tried."""
    sizes = dict.fromkeys(
        (length.width, length.thickness)
        for length in design.buying.steel
        if length.width is not None and length.thickness is not None
    )
    return tuple(suit(design, Strip(width, thickness), wanted) for width, thickness in sizes)

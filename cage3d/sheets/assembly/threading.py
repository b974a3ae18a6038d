"""How the hoops go into their casings, in words."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby

from cage3d.shape.section import Section
from cage3d.sheets.assembly.step import Step
from cage3d.sheets.steel import SteelCut
from cage3d.sheets.writing import ranges
from cage3d.wording import capital


def threading_steps(cuts: Sequence[SteelCut], in_cloth: bool = False) -> list[Step]:
    """How the hoops go in, from the top down, so that the cage hangs straight; like ones in one step.

    Of two baskets first one, then the other.
    """
    steps = []
    for text, run in groupby(
        one_basket_after_another(cuts), key=threading_in_cloth if in_cloth else threading
    ):
        hoops = tuple(cut.hoop for cut in run)
        if len(hoops) == 1:
            steps.append(Step(f"Thread hoop {hoops[0]}", text))
        else:
            words = f"One after the other, from hoop {hoops[0]} down to hoop {hoops[-1]}. {text}"
            steps.append(Step(f"Thread hoops {ranges(hoops)}", words))
    return steps


def one_basket_after_another(cuts: Sequence[SteelCut]) -> list[SteelCut]:
    """From the top; of hoops beside her that follow one another, those at her left before those at her right."""
    ordered = []
    for _, run in groupby(cuts, key=lambda cut: cut.beside is None):
        ordered += sorted(run, key=lambda cut: cut.beside or "")
    return ordered


def threading_in_cloth(cut: SteelCut) -> str:
    """The same in a casing that goes all the way."""
    loose = f"{own_curve(cut.section)}Match every mark to its seam. Leave it loose."
    if not cut.closed:
        other = "end" if cut.opening == "front" else "end at the back"
        return f"Open: thread from one {other} of its casing to the other; its tips lie at the casing's ends. {loose}"
    return f"Closed: thread in at centre {cut.join_at}; both ends meet there{join_words(cut)}. {loose}"


def threading(cut: SteelCut) -> str:
    """From where a hoop is threaded and where its ends lie."""
    loose = f"{own_curve(cut.section)}Match every mark to its tape. Leave it loose."
    if cut.beside is not None and cut.closed:
        away = "front" if cut.join_at == "back" else "back"
        return (
            f"Closed, at her {cut.beside}: thread from its {away}; both ends meet at its own {cut.join_at}"
            f"{join_words(cut)}. {loose}"
        )
    if cut.between is not None:
        first, last = cut.between
        side = "behind her" if cut.opening == "front" else "before her"
        if cut.beside is not None:
            side = f"at her {cut.beside}, open towards her"
        if cut.on_band:
            return (
                f"Stands {side}: lead it from tape {first} to tape {last} through the casings between them; sew both"
                f" ends fast to the waistband where these two begin, lying along its lower edge. {loose}"
            )
        ends = "sew both ends fast there" if cut.sewn else "both ends past their last casings"
        return f"Stands {side}: thread from tape {first} to tape {last}, {ends}. {loose}"
    if cut.opening == "front":
        return f"Open: thread from the back, end at centre front, both ends past their last casings. {loose}"
    if cut.opening == "back":
        return f"Open: thread from the front, end at centre back, both ends past their last casings. {loose}"
    if cut.join_at == "back":
        return f"Closed: thread from the front; both ends meet at centre back{join_words(cut)}. {loose}"
    return f"Closed: thread from the back; both ends meet at centre front{join_words(cut)}. {loose}"


def own_curve(section: Section) -> str:
    """Which way round steel that lies free in a curve goes in."""
    if section.set_curvature == 0.0:
        return ""
    hollow = "towards" if section.set_curvature > 0.0 else "away from"
    return f"{capital(section.steel.made_of.stuff)} with its own curve: its hollow side {hollow} her. "


def join_words(cut: SteelCut) -> str:
    if cut.join is None:
        return ""
    if cut.slide is not None:
        return ", lapped to the marks “other end” in its two keepers"
    return (
        ", lapped to the marks “other end”, not yet clamped"
        if cut.overlap
        else ", over the plug, not yet pinned"
        if cut.section.socket == "plug"
        else ", inside the tube, not yet crimped"
    )

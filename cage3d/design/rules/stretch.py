"""Rules for how tapes stretch."""

from __future__ import annotations

from collections.abc import Iterator

from cage3d.design import stock
from cage3d.design.models import Design
from cage3d.errors import Problem
from cage3d.units import UnitError

MOST = 0.15  # of its length under KILO: more is elastic, and no tape to hang hoops from
LEAST = 1e-5  # under KILO; less no ribbon has, and the answer no use for
KILO = 1.0  # kg
WEIGHTS = (0.05, 50.0)  # kg, hung on a tape to try it


def tapes_stretch_like_tapes(design: Design) -> Iterator[Problem]:
    """A tape that gives by half its length carries nothing; a weight of nothing says nothing."""
    stretch = design.tapes.stretch
    if stretch is None:
        return
    if isinstance(stretch, str):
        try:
            stock.tape_stretch(stretch)
        except UnitError as fault:
            yield Problem("tapes.stretch", stretch, fault.why, fault.try_this)
        return
    if not WEIGHTS[0] <= stretch.at <= WEIGHTS[1]:
        yield Problem(
            "tapes.stretch.at",
            f"{stretch.at:g} kg",
            "a tape is not tried with such a weight",
            "Hang 1 kg on a metre of finished tape, and write by how much it grows longer",
        )
        return
    under_a_kilo = stretch.by * KILO / stretch.at
    if under_a_kilo > MOST:
        yield Problem(
            "tapes.stretch.by",
            f"{100.0 * stretch.by:g} %",
            f"that is elastic ({100.0 * under_a_kilo:g} % under 1 kg), and hoops cannot hang from it",
            "Write 0.3 to 1 % at 1 kg for woven polyester ribbon, 1 to 3 % for cotton twill tape",
        )
    elif under_a_kilo < LEAST:
        yield Problem(
            "tapes.stretch.by",
            f"{100.0 * stretch.by:g} %",
            "no ribbon stretches as little as that",
            "Leave stretch out for tapes that do not",
        )


RULES = (tapes_stretch_like_tapes,)

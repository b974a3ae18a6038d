"""Sliders that move several numbers by one amount, each by its share of it."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from typing import Any

import numpy as np

from cage3d.design.faults import place_of
from cage3d.design.models import Design, LevelsBySide
from cage3d.design.points import station_fractions
from cage3d.live.controls import REACH, Control
from cage3d.steady import steady
from cage3d.study.aiming.freedom import WAVES
from cage3d.study.aiming.way_back import usual_step
from cage3d.study.down import SIDES

USUAL_REACH = 0.3  # of the mean of what is moved together, either way; our own judgement
LEAST_SHARE = 1e-3


def joined(design: Design, controls: Sequence[Control]) -> Iterator[dict[str, Any]]:
    """All of them: at which hoop (from 0) each belongs, None for those of the whole cage."""
    for group, what, name in (("Lengths", "length", "All hoops"), ("Cloth", "girths", "All girths")):
        own = [one for one in controls if one.group == group and re.search(rf"\b{what}\b", one.place)]
        if own:
            yield together(group, name, [(one, 1.0) for one in own], design)
    down = [one for one in controls if one.group in ("Drops", "Levels")]
    group, word = ("Drops", "Drop") if design.cloth is None else ("Levels", "Level")
    hoops = sorted({hoop_of(one) for one in down})
    for hoop in hoops:
        for name, pairs in waves(design, [one for one in down if hoop_of(one) == hoop]):
            yield together(group, f"{word} {hoop + 1} {name}", pairs, design, hoop)
        if design.cloth is not None and hoops[0] < hoop < hoops[-1]:  # as a longer drop would take them along
            below = [(one, 1.0) for one in down if hoop_of(one) >= hoop]
            yield together(group, f"Level {hoop + 1} and all below", below, design, hoop)
    yield together(group, f"All {word.lower()}s", [(one, 1.0) for one in down], design)


def hoop_of(control: Control) -> int:
    """From 0: the last number of the place of a drop or level."""
    return int(place_of(control.place)[-1])


def waves(design: Design, own: Sequence[Control]) -> Iterator[tuple[str, list[tuple[Control, float]]]]:
    """Drops or levels of one hoop all round, back against front, sides against both."""
    around = np.array([station_of(design, one) for one in own])
    for name, wave in WAVES:
        shares = np.asarray(wave(around))
        most = float(np.abs(shares).max())
        if most > 0.1:  # on four tapes a wave may be none
            yield (
                name,
                [(one, steady(float(share), 6)) for one, share in zip(own, shares / most, strict=True)],
            )


def station_of(design: Design, control: Control) -> float:
    """Share of the girth from centre front by her left."""
    step = place_of(control.place)[2]
    if design.cloth is not None and isinstance(design.cloth.levels, LevelsBySide):
        return SIDES[str(step)]
    return float(station_fractions(design.tapes)[int(step)])


def together(
    group: str, name: str, pairs: list[tuple[Control, float]], design: Design, hoop: int | None = None
) -> dict[str, Any]:
    moved = [(one, share) for one, share in pairs if abs(share) > LEAST_SHARE]
    step = usual_step(design)
    mean = sum(one.value for one, _ in moved) / len(moved)
    far = REACH["Levels"] if group == "Levels" else USUAL_REACH
    reach = max(round(far * mean / step), 8) * step
    return {
        "group": group, "name": name, "at": hoop, "places": [one.place for one, _ in moved],
        "shares": [share for _, share in moved], "least": steady(-reach, 9), "most": steady(reach, 9),
        "step": steady(step, 9), "unit": moved[0][0].unit, "scale": moved[0][0].scale,
    }  # fmt: skip

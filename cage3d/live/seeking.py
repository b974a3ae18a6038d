"""The way back from where she is: the values that give the wanted shape, of what she has set free."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from typing import Any

from cage3d.design.read import read_data
from cage3d.errors import CageError, Problem
from cage3d.live.controls import text_at
from cage3d.live.fitting import Opened
from cage3d.settle import settle
from cage3d.shape.lay_out import lay_out
from cage3d.study.aiming.aim import Aimed
from cage3d.study.aiming.answer import Answer, verdict
from cage3d.study.aiming.least_change import meets
from cage3d.study.aiming.way_back import Asked, off_by, sought, usual_step, why_unmet
from cage3d.study.aiming.writing import data_with
from cage3d.study.numbers import number_names
from cage3d.wording import capital

OF_A_ROW = re.compile(r"\b(?:drop|level) \d+\b")


def sought_values(
    opened: Opened, values: Mapping[str, str], free: Any, told: Callable[[str], object]
) -> tuple[dict[str, str], str]:
    """(all values that then differ from the file, what was reached in words).

    free: places that may change. Raises CageError: nothing is free or wanted, no rest to begin from.
    """
    design, data = opened.design_with(values), opened.data_with(values)
    places = sought_places(opened)
    asked_for = set(free) if isinstance(free, list) and all(isinstance(one, str) for one in free) else set()
    wanted = {name for place, name in places.items() if place in asked_for}
    loose = [name for name in number_names(design) if name in wanted]
    if not loose:
        why = "nothing is set free that could change"
        rows = "drops" if design.cloth is None else "levels"
        raise CageError(Problem("aim", "", why, f"Set some lengths, {rows} or ties free"))
    kept = [name for name in number_names(design) if name not in loose]
    asked = Asked(keep=kept, free=beside_waves(loose, kept), step=usual_step(design))
    exact, found = sought(design, (), asked, opened.path.name, told)
    if not meets(exact, asked.within) and len(asked.free) < len(loose):
        asked = replace(asked, free=loose)
        exact, found = sought(design, (), asked, opened.path.name, told)
    written = data_with(data, design, found.design, asked.step)
    hung = settle(lay_out(read_data(written)))
    last = Aimed(hung.cage.design, hung, found.wishes, off_by(hung, found.wishes), exact.slopes, found.settlings + 1,
                 found.why)  # fmt: skip
    answer = Answer(design, last, float(abs(exact.off).max()), asked.within, why_unmet(exact, asked), "")
    return differing(opened, written), " ".join(verdict(answer))


def beside_waves(loose: Sequence[str], kept: Sequence[str]) -> list[str]:
    """Names that are to change each for itself: not those of a row that is free all round.

    Such a row goes by waves, which keep her left and right alike.
    """
    held = {row[0] for name in kept if (row := OF_A_ROW.search(name))}
    return [name for name in loose if (row := OF_A_ROW.search(name)) is None or row[0] in held]


def sought_places(opened: Opened) -> dict[str, str]:
    """Of every control that the way back can change, its place and what it is called there: 'hoop 4 length'."""
    names = {capital(name): name for name in number_names(opened.design)}
    return {place: names[one.name] for place, one in opened.controls.items() if one.name in names}


def differing(opened: Opened, data: dict[str, Any]) -> dict[str, str]:
    """Of every control what is written in the data, where that is not what the file says."""
    told = {place: text_at(data, place) for place in opened.controls}
    return {
        place: text
        for place, text in told.items()
        if text is not None and text != opened.controls[place].text
    }

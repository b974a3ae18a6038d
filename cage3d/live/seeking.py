"""The way back from where she is: the values that give the wanted shape, of what she has set free."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from cage3d.design.faults import place_of
from cage3d.design.read import read_data
from cage3d.errors import CageError, Problem
from cage3d.live.controls import text_at
from cage3d.live.fitting import Opened
from cage3d.settle import settle
from cage3d.shape.lay_out import lay_out
from cage3d.study.aiming.aim import Aimed
from cage3d.study.aiming.answer import Answer, verdict
from cage3d.study.aiming.way_back import Asked, off_by, sought, usual_step, why_unmet
from cage3d.study.aiming.writing import data_with
from cage3d.study.numbers import number_names


def sought_values(
    opened: Opened, values: Mapping[str, str], free: Any, told: Callable[[str], object]
) -> tuple[dict[str, str], str]:
    """(all values that then differ from the file, what was reached in words).

    free: places that may change. Raises CageError: nothing is free or wanted, no rest to begin from.
    """
    design, data = opened.design_with(values), opened.data_with(values)
    names = {name_of(place): place for place in opened.controls}
    asked_for = set(free) if isinstance(free, list) and all(isinstance(one, str) for one in free) else set()
    loose = [name for name in number_names(design) if names.get(name) in asked_for]
    if not loose:
        why = "nothing is set free that could change"
        raise CageError(Problem("aim", "", why, "Set some lengths, drops or ties free"))
    kept = [name for name in number_names(design) if name not in loose]
    asked = Asked(keep=kept, free=loose, step=usual_step(design))
    exact, found = sought(design, (), asked, opened.path.name, told)
    written = data_with(data, design, found.design, asked.step)
    hung = settle(lay_out(read_data(written)))
    last = Aimed(hung.cage.design, hung, found.wishes, off_by(hung, found.wishes), exact.slopes, found.settlings + 1,
                 found.why)  # fmt: skip
    answer = Answer(design, last, float(abs(exact.off).max()), asked.within, why_unmet(exact, asked), "")
    return differing(opened, written), " ".join(verdict(answer))


def name_of(place: str) -> str:
    """'hoops[3].length' is 'hoop 4 length' to the way back."""
    steps = place_of(place)
    part, numbers = steps[0], [step + 1 for step in steps if isinstance(step, int)]
    if part == "hoops" and steps[-1] == "length":
        return f"hoop {numbers[0]} length"
    if part == "tapes":
        return f"tape {numbers[0]} drop {numbers[1]}"
    if part == "ties":
        return f"tie {numbers[0]} length"
    if part == "panels":
        return f"panel {numbers[0]} tightness"
    return ""


def differing(opened: Opened, data: dict[str, Any]) -> dict[str, str]:
    """Of every control what is written in the data, where that is not what the file says."""
    told = {place: text_at(data, place) for place in opened.controls}
    return {
        place: text
        for place, text in told.items()
        if text is not None and text != opened.controls[place].text
    }

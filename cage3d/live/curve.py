"""How the figures answer one slider: the design settled along it, as `vary` does it."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import Any

from cage3d.design.faults import printable
from cage3d.errors import CageError, Problem
from cage3d.live.controls import Control
from cage3d.live.fitting import Opened
from cage3d.live.joined import joined
from cage3d.page.curves import curves_svg
from cage3d.steady import steady
from cage3d.study.sweeping.steps import Steps
from cage3d.study.sweeping.sweep import Sweep
from cage3d.study.sweeping.vary import vary
from cage3d.study.sweeping.varying import Varying

EITHER_WAY = 3  # values below and above where it stands
SHARE = 0.4  # of the slider's way that they take
DIGITS = 9


def curve_of(
    opened: Opened,
    values: Mapping[str, str],
    places: Any,
    told: Callable[[str], object],
    shares: Any = None,
) -> tuple[str, str]:
    """(SVG, a word on it) around where the control stands; several places are moved by one amount.

    shares: of that amount, that each of a joined slider's places takes; None: each all of it.
    Raises CageError for what is no control, or where no value on the way hangs.
    """
    known = isinstance(places, list) and places and all(isinstance(one, str) for one in places)
    if not known or not set(places) <= opened.controls.keys():
        raise nothing_there(places)
    design, data = opened.design_with(values), opened.data_with(values)
    controls = [opened.controls[place] for place in places]
    steps = steps_round(controls, [standing(opened, values, one) for one in controls])
    if shares is not None:
        steps = shared(opened, steps, places, shares)
    sweep = Sweep(design, data, (steps,))
    told(f"settling {sweep.count} cages")
    varied = vary(sweep)
    if not varied.answers:
        why = "none of the cages on the way hangs"
        raise CageError(Problem("curve", steps.figure.name, why, "Move it to where the cage hangs"))
    count = len(varied.answers)
    return curves_svg(varied), f"{steps.in_words}: {count} of {sweep.count} hang."


def nothing_there(places: Any) -> CageError:
    said = printable(str(places)[:60])
    return CageError(Problem("curve", said, "there is nothing here that can be moved", "Name a slider"))


def shared(opened: Opened, steps: Steps, places: list[str], shares: Any) -> Steps:
    """The steps of the joined slider that moves these places by these shares. Raises CageError where there is none."""
    for joint in joined(opened.design, list(opened.controls.values())):
        if joint["places"] == places and joint["shares"] == shares:
            names, of_each = (str(joint["name"]),), tuple(joint["shares"])
            return replace(steps, figure=replace(steps.figure, names=names, shares=of_each))
    raise nothing_there(places)


def standing(opened: Opened, values: Mapping[str, str], control: Control) -> float:
    text = values.get(control.place)
    number = None if text is None else opened.number_of(control.place, text)
    return control.value if number is None else number


def steps_round(controls: list[Control], now: list[float]) -> Steps:
    """Whole steps of the slider, as many below as above where it stands; of several, changes of what they are."""
    first, several = controls[0], len(controls) > 1
    reach = SHARE * (first.most - first.least) / 2.0
    stride = max(round(reach / EITHER_WAY / first.step), 1) * first.step
    below = EITHER_WAY if several else min(EITHER_WAY, int((now[0] - 1e-9) / stride))
    start = (0.0 if several else now[0]) - below * stride
    count = below + EITHER_WAY + 1
    name = f"{first.name} and {len(controls) - 1} more" if several else first.name
    figure = Varying((name,), first.kind, tuple(one.place for one in controls), tuple(now))
    low, by = (steady(value / first.scale, DIGITS) for value in (start, stride))
    return Steps(figure, low, by, count, first.unit, first.scale, several, low + (count - 1) * by)

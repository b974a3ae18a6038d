"""Warnings about the cage and its skirt in the place where it is worn: door, stairs, floor."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from cage3d.design import trade
from cage3d.report.curves import hoop_curve
from cage3d.report.record import WarningReport
from cage3d.report.warnings.case import Case
from cage3d.steady import exceeds, steady
from cage3d.wording import listed


def door(case: Case) -> Iterator[WarningReport]:
    """The cage and the skirt over it, which stands out on either side."""
    design = case.settled.cage.design
    clear, cloth = design.stage.door, 2.0 * trade.SKIRT_OUT if design.skirts else 0.0
    wide, deep = (width + cloth for width in (case.report.width_side_side_m, case.report.width_front_back_m))
    if clear is None or not exceeds(wide, clear):
        return
    if exceeds(clear, deep):
        way = f"Sideways she passes: front to back it measures {case.say(deep)}"
    else:
        way = "She must tilt or squeeze the cage to pass, or enter elsewhere"
    what = "The cage is"
    if cloth:
        what = f"With its skirt ({case.say(trade.SKIRT_OUT)} on each side; flounces take more) the cage is"
    yield WarningReport("door", f"{what} {case.say(wide)} wide and the door {case.say(clear)}. {way}.")


def riser(case: Case) -> Iterator[WarningReport]:
    """Going up the front of the hem meets the steps ahead, coming down its back meets those left behind."""
    stairs, hems = case.settled.cage.design.stage, case.report.hem_hoops
    if stairs.riser is None:
        return
    told, clear = [], True
    ways = (
        ("going up, the front", "front", max(hem.front_to_axis_m for hem in hems)),
        ("coming down, the back", "back", max(hem.back_to_axis_m for hem in hems)),
    )
    for way, side, reach in ways:
        low, steps = hem_towards(case, side), steps_under(reach, stairs.tread)
        high = steps * stairs.riser
        if exceeds(high + trade.RISER_ROOM, low):
            told.append(f"{way} {over_steps(case, low, high, steps)}")
            clear = clear and low > high
    if told:
        lift = "It must be lifted." if not clear else "Swinging it catches all the same: lift it."
        yield WarningReport(
            "riser", f"A stair riser is {case.say(stairs.riser)} high; {'; '.join(told)}. {lift}"
        )


def steps_under(reach: float, tread: float | None) -> int:
    """How many steps a hem hangs over that reaches so far (m) from where she stands, in the middle of a step."""
    return 1 if tread is None else max(1, int(steady(reach / tread + 0.5, 6)))


def over_steps(case: Case, low: float, high: float, steps: int) -> str:
    """What becomes of a hem `low` above the step she stands on over steps that are `high` together (m)."""
    hangs = f"of the hem, {case.say(low)} above the floor,"
    if steps > 1:
        hangs += f" reaches over {steps} steps, {case.say(high)} together, and"
    if low > high:
        return f"{hangs} clears {'it' if steps == 1 else 'them'} by only {case.say(low - high)}"
    return f"{hangs} does not clear {'it' if steps == 1 else 'them'}"


def hem_towards(case: Case, side: str) -> float:
    """m above the floor of the lowest place of the hem's quarter towards a side; all of it where there is no steel."""
    points = np.vstack([hoop_curve(case.settled, hem.number - 1).points for hem in case.report.hem_hoops])
    ahead = points[:, 1] * (-1.0 if side == "front" else 1.0)
    quarter = points[ahead >= np.abs(points[:, 0])]
    return float((quarter if len(quarter) else points)[:, 2].min())


def skirt_on_floor(case: Case) -> Iterator[WarningReport]:
    """Cloth that hangs below the hem hoop, where it would be longer than the hoop is high."""
    below = max((skirt.below_hem for skirt in case.settled.cage.design.skirts), default=0.0)
    if not below:
        return
    lying = {}
    for side in ("front", "left", "back", "right"):
        high = min(float(getattr(hem, f"height_{side}_m")) for hem in case.report.hem_hoops)
        if exceeds(below, high):
            lying[side] = below - high
    if lying:
        most = max(lying.values())
        where = "all round" if len(lying) == 4 else f"at the {listed(list(lying))}"
        yield WarningReport(
            "skirt_on_floor",
            f"The skirt hangs {case.say(below)} below the hem hoop and lies on the floor "
            f"{where}, by up to {case.say(most)}: she treads on it, and on stairs it trails. Shorten it, shorten "
            "the drops, or wear it as a train.",
        )

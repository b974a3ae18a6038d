"""Why a cage gave no answer, in words."""

from __future__ import annotations

from cage3d.design import trade
from cage3d.errors import Problem
from cage3d.report.touching import touch_reports
from cage3d.settle.state import SettledCage
from cage3d.units import show_length
from cage3d.wording import numbered


def why_not(settled: SettledCage, where: str) -> Problem:
    """What was tried, how far it came, and what to change. where: the design's file."""
    tried = "the bare cage hung from level circles, then the skirt put on step by step"
    if not settled.cage.parameters.skirt_hangs:
        tried = "the cage hung from level circles on tapes made stiffer step by step"
    on_floor = [touch.hoop for touch in touch_reports(settled) if touch.what == "floor"]
    if on_floor:
        why, try_this = lies_on_floor(settled, on_floor)
    elif not settled.settled:
        why = (
            f"the cage would not settle. Tried: {tried}, in {settled.steps} steps; "
            f"{settled.residual:.2g} N is left unbalanced, most at {settled.worst_node}"
        )
        try_this = "Look there for a tie or a drop too short, or for more weight than the steel bears"
    else:
        why = (
            f"the cage found no shape that it stays in. Tried: {tried}, and following it as it fell, "
            f"in {settled.steps} steps (lowest eigenvalue {settled.lowest_eigenvalue:.2g} N/m)"
        )
        try_this = "Give it stiffer steel, less weight, or more tapes"
    return Problem(where, "", f"{why}. No model is shown", try_this)


def lies_on_floor(settled: SettledCage, hoops: list[int]) -> tuple[str, str]:
    """(why, what to change) where hoops (from 1) lie on the floor, on which they slide as they like."""
    lies = "lies" if len(hoops) == 1 else "lie"
    why = f"{numbered('hoop', hoops)} {lies} on the floor, where nothing holds a hoop to its place"
    # The first shape is laid out as if there were no floor: level, round, every tape at its full drop.
    joined = settled.cage.connectivity
    level = float(settled.cage.positions[joined.hoop_nodes[-1], 2].mean())
    units = settled.cage.design.units
    below = (
        f"; with its tapes hanging free the hem would be {show_length(-level, units)} below it"
        if level < 0.0
        else ""
    )
    room = show_length(trade.TRIP_HEIGHT - min(level, 0.0), units)
    return why + below, f"Shorten the drops by {room} or more all round, or correct wearer: waist_height"

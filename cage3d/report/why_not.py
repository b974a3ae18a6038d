"""Why a cage gave no answer, in words."""

from __future__ import annotations

from cage3d.errors import Problem
from cage3d.report.touching import touch_reports
from cage3d.settle.state import SettledCage
from cage3d.wording import capital, numbered


def why_not(settled: SettledCage, where: str) -> Problem:
    """What was tried, how far it came, and what to change. where: the design's file."""
    tried = "the bare cage hung from level circles, then the skirt put on step by step"
    if not settled.cage.parameters.skirt_weight.any():
        tried = "the cage hung from level circles on tapes made stiffer step by step"
    if not settled.settled:
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
        on_floor = [touch.hoop for touch in touch_reports(settled) if touch.what == "floor"]
        try_this = "Give it stiffer steel, less weight, or more tapes"
        if on_floor:
            lies = "lies on the floor, where nothing holds it" if len(on_floor) == 1 else "lie on the floor"
            try_this = f"{capital(numbered('hoop', on_floor))} {lies}: shorten the drops"
    return Problem(where, "", f"{why}. No model is shown", try_this)

"""Why a cage gave no answer, in words."""

from __future__ import annotations

from cage3d.design import trade
from cage3d.design.baskets import hem_hoops
from cage3d.design.hoop_materials import one_stuff
from cage3d.errors import Problem
from cage3d.report.touching import touch_reports
from cage3d.settle.state import SettledCage
from cage3d.steady import first_largest
from cage3d.units import show_length
from cage3d.wording import numbered

BEYOND = 1000.0  # N, more than any tape, tie or seam bears


def why_not(settled: SettledCage, where: str) -> Problem:
    """What was tried, how far it came, and what to change. where: the design's file."""
    design = settled.cage.design
    tried = "the bare cage hung from level circles, then the skirt put on step by step"
    if not settled.cage.parameters.skirt_hangs:
        tried = "the cage hung from level circles on tapes made stiffer step by step"
    on_floor = [touch.hoop for touch in touch_reports(settled) if touch.what == "floor"]
    if on_floor:
        why, try_this = lies_on_floor(settled, on_floor)
    elif pulled_in_vain(settled):
        why, try_this = cannot_all_be(settled)
    elif not settled.settled:
        why = (
            f"the cage would not settle. Tried: {tried}, in {settled.steps} steps"
            f"{', after which it was given up' if settled.given_up else ''}; "
            f"{settled.residual:.2g} N is left unbalanced, most at {settled.worst_node}"
        )
        bears = f"the {one_stuff(design.stuff)} bears"
        try_this = f"Look there for a tie or a drop too short, or for more weight than {bears}"
    else:
        why = (
            f"the cage found no shape that it stays in. Tried: {tried}, and following it as it fell, "
            f"in {settled.steps} steps (lowest eigenvalue {settled.lowest_eigenvalue:.2g} N/m)"
        )
        more = "" if design.cloth is not None else ", or more tapes"
        try_this = f"Give it stiffer {one_stuff(design.stuff, 'hoops')}, less weight{more}"
    return Problem(where, "", f"{why}. No model is shown", try_this)


def pulled_in_vain(settled: SettledCage) -> bool:
    """Whether a tape or tie ends up pulling with what no sewing bears, and still is longer than it may be."""
    return not settled.settled and float(settled.state.pull_force.max(initial=0.0)) > BEYOND


def cannot_all_be(settled: SettledCage) -> tuple[str, str]:
    """(why, what to change) where a tape or tie is too short for what lies between its ends."""
    state, joined = settled.state, settled.cage.connectivity
    tightest = first_largest(state.pull_force)
    name = joined.pull_names[tightest]
    pressed = [
        hoop + 1 for hoop, nodes in enumerate(joined.hoop_nodes) if state.wearer_push[nodes].sum() > BEYOND
    ]
    hoops, are = numbered("hoop", pressed), "is" if len(pressed) == 1 else "are"
    if not pressed:
        why, remedy = f"{name} is too short", f"Make {name} longer, or what it is tied to nearer"
    elif tightest < joined.segment_count:
        why = f"{hoops} {are} too short to lie round the wearer where the tapes hold a hoop"
        remedy = (
            f"Make {hoops} longer, or the drops above shorter or longer by so much that she is narrower there"
        )
        if settled.cage.design.padding:
            remedy += ", or the padding thinner"
    elif {settled.cage.design.hoops[hoop - 1].beside for hoop in pressed} >= {"left", "right"}:
        why = f"{name} is too short to draw the two baskets together, since the wearer stands between them"
        remedy = f"Make {name} longer, or let {hoops} open towards her: their ends then give way"
    else:
        why, remedy = f"{name} is too short with {hoops} round the wearer", f"Make {name} or {hoops} longer"
    return f"what is written cannot all be at once: {why}", remedy


def lies_on_floor(settled: SettledCage, hoops: list[int]) -> tuple[str, str]:
    """(why, what to change) where hoops (from 1) lie on the floor, on which they slide as they like."""
    lies = "lies" if len(hoops) == 1 else "lie"
    why = f"{numbered('hoop', hoops)} {lies} on the floor, where nothing holds a hoop to its place"
    # The first shape is laid out as if there were no floor: level, round, every tape at its full drop.
    joined = settled.cage.connectivity
    hems = [joined.hoop_nodes[hoop] for hoop in hem_hoops(settled.cage.design)]
    level = min(float(settled.cage.positions[nodes, 2].mean()) for nodes in hems)
    units = settled.cage.design.units
    below = (
        f"; with its tapes hanging free the hem would be {show_length(-level, units)} below it"
        if level < 0.0
        else ""
    )
    room = show_length(trade.TRIP_HEIGHT - min(level, 0.0), units)
    return why + below, f"Shorten the drops by {room} or more all round, or correct wearer: waist_height"

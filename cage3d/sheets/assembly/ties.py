"""How ties are tied and panels laced, in words."""

from __future__ import annotations

from collections.abc import Sequence

from cage3d.design import trade
from cage3d.design.hoop_materials import one_hoop
from cage3d.design.models import Design, Panel, Tie
from cage3d.sheets.assembly.step import Step
from cage3d.sheets.making import Making
from cage3d.sheets.writing import Writing, hoops_named, plural

PASSING = {
    None: "",
    "behind": ", behind her",
    "before": ", before her",
    "left": ", by her left",
    "right": ", by her right",
}


def steels_of(design: Design) -> str:
    """What ties run between, in words."""
    return f"{one_hoop(design.stuff)}s"


def tie_steps(ties: Sequence[Tie], writing: Writing, steels: str = "steels") -> list[Step]:
    """What holds for every tie once, before the first; then one step a tie."""
    if not ties:
        return []
    each = "it" if len(ties) == 1 else "each"
    general = (
        f"Tie {each} with a bow, not a knot, until the cage is balanced. Cut {each} {writing.full(trade.TIE_EXTRA)}"
        f" longer than it is between the {steels}.{clear_of_her(ties, each)}"
    )
    first = Step(f"The {plural(len(ties), 'tie')}" if len(ties) > 1 else "The tie", general)
    return [first, *(tie_step(number, tie, writing, steels) for number, tie in enumerate(ties, start=1))]


def clear_of_her(ties: Sequence[Tie], each: str) -> str:
    """Where ties may not run; one that is written to pass her may bear on her."""
    passing = sum(tie.runs is not None for tie in ties)
    if passing == len(ties):
        return ""
    if passing:
        return " Those that pass her may bear on her; lead the others clear of where the legs move."
    return f" Lead {each} clear of where the legs move."


def tie_step(number: int, tie: Tie, writing: Writing, steels: str = "steels") -> Step:
    name = f"Tie {number}" + (f", {tie.name}" if tie.name and tie.name.lower() != f"tie {number}" else "")
    return Step(
        name,
        f"From {tie.from_} to {tie.to}{PASSING[tie.runs]}: {writing.full(tie.length)} between the {steels}, cut"
        f" {writing.full(tie.length + trade.TIE_EXTRA)}.",
    )


def panel_step(number: int, panel: Panel, making: Making) -> Step:
    first, last = panel.tapes
    text = f"{between(making)} {first} and {last} at {hoops_named(panel.hoops)}. "
    if panel.widths is not None:
        pairs = zip(panel.hoops, panel.widths, strict=True)
        text += (
            "Lace to "
            + ", ".join(f"{making.writing.full(wide)} at hoop {hoop}" for hoop, wide in pairs)
            + "."
        )
    else:
        tight = f"{100.0 * (panel.tightness or 0.0):.0f} %"
        text += f"Lace until the {making.design.stuff} between them is drawn in by {tight}."
    return Step(f"Laced panel {number}", text)


def between(making: Making) -> str:
    """How a panel is held: between two tapes, or by strips on two seams of cloth."""
    if not making.gores:
        return "Between tapes"
    return "Sew a strip with its eyelets inside along each of two seams, and lace across from one to the other: seams"

"""From a written design and what is wanted of it to the text of the design that has it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np

from cage3d.design.models import Design
from cage3d.design.read import text_as_written
from cage3d.design.tables import table_text
from cage3d.design.text_files import text_of
from cage3d.errors import CageError, CommandError, Problem
from cage3d.settle import SettledCage, settle
from cage3d.shape.arrays import Floats
from cage3d.shape.lay_out import lay_out
from cage3d.shape.lines import default_resolution
from cage3d.steady import first_least
from cage3d.study.aiming.aim import WITHIN, Aimed
from cage3d.study.aiming.answer import OTHERWISE, Answer
from cage3d.study.aiming.freedom import Freedom, freedom_of
from cage3d.study.aiming.least_change import aimed
from cage3d.study.aiming.outline import Outline
from cage3d.study.aiming.outline_files import outlines_in
from cage3d.study.aiming.outline_wishes import with_outlines
from cage3d.study.aiming.rounding import rounded
from cage3d.study.aiming.unmet import reasons
from cage3d.study.aiming.wishes import Wish, wishes_of, with_table
from cage3d.study.aiming.writing import text_with
from cage3d.study.budget import Budget
from cage3d.study.figures import figures_of
from cage3d.study.numbers import number_names
from cage3d.units.kinds import INCH
from cage3d.wording import nearest

TIMES = 3  # that a shape is sought, where the cage that was found hangs another way once it is hung anew
NO_TABLE = "Check the name, or write what is wanted into the design: wanted: [{hoop: 4, height: 17 in}]"


@dataclass(frozen=True)
class Asked:
    """How the way back is sought.

    step: to which numbers are rounded, None: not; within: good enough (m); outline: a file of outlines that are wanted,
    scale: of it where it is a drawing, 0.1 for 1:10.
    """

    keep: Sequence[str] = ()
    free: Sequence[str] = ()
    each_tape: bool = False
    step: float | None = None
    within: float = WITHIN
    outline: Path | None = None
    scale: float | None = None


def usual_step(design: Design) -> float:
    """m: the fraction that a tape measure in the design's units shows: an eighth of an inch, or a millimetre."""
    return INCH / 8 if design.units in ("in", "ft") else 1e-3


def way_back(
    path: Path, table: Path | None, asked: Asked, told: Callable[[str], object] = lambda _what: None
) -> Answer:
    """The design in a file changed so that it has the shape it wants, or that a table (CSV) wants.

    Raises CageError: the design or the table is at fault, nothing is wanted, a name is none, no rest to begin from.
    """
    text = text_of(path)
    design, data = text_as_written(text, str(path))
    asking = with_table(data, table_text(table, NO_TABLE), str(table)) if table else design
    outlines = wanted_outlines(asking, asked)
    start, settlings, answers = asking, 0, list[Answer]()
    for _ in range(TIMES):
        exact, found = sought(start, outlines, asked, str(path), told)
        written = text_with(text, data, design, found.design, asked.step, str(path))
        found = replace(found, settlings=found.settlings + settlings)
        answer = replace(settled_answer(asking, exact, found, written, asked, path), outlines=outlines)
        if not hangs_otherwise(answer.found, found, asked.within):
            return answer
        told("hung anew it hangs another way; seeking from there")
        start, settlings = found.design, answer.found.settlings
        answers.append(replace(answer, found=replace(answer.found, why=OTHERWISE)))
    return answers[first_least([one.off for one in answers])]


def hangs_otherwise(anew: Aimed, found: Aimed, within: float) -> bool:
    """Whether the cage, hung from the beginning, comes to rest elsewhere than where the search had followed it."""
    return anew.settled.trusted and bool(np.abs(anew.off - found.off).max() > within)


def sought(
    design: Design,
    outlines: tuple[Outline, ...],
    asked: Asked,
    name: str,
    told: Callable[[str], object] = lambda _what: None,
) -> tuple[Aimed, Aimed]:
    """(the answer as exact as it comes, the same with its numbers rounded), by what the design and outlines want.

    Raises CageError naming `name`: nothing is wanted, a name is none, no rest to begin from.
    """
    wishes, nodes = wishes_of(design), default_resolution(design)
    if not wishes and not outlines:
        why = "the design does not say what is wanted"
        try_this = (
            "Write wanted: [{hoop: 4, height: 17 in}], or name a table (--wanted) or a drawing (--outline)"
        )
        raise CageError(Problem(name, "", why, try_this))
    freedom = free_to_change(design, asked)
    if outlines:
        told("the cage as it is")
        wishes = with_outlines(settle(lay_out(design, nodes)), wishes, outlines, str(asked.outline))
    try:
        exact, freedom = aimed(design, wishes, freedom, nodes, asked.within, told, Budget())
    except ValueError as fault:
        why = f"{fault}, so there is no way back from it"
        raise CageError(Problem(name, "", why, "Begin with a design that cage3d check accepts")) from None
    told("rounding")
    return exact, rounded(exact, design, freedom, nodes, asked.step, asked.within) if asked.step else exact


def wanted_outlines(design: Design, asked: Asked) -> tuple[Outline, ...]:
    """The outlines that are asked for; none where there is no file of them. Raises CageError."""
    if asked.outline is None:
        if asked.scale is not None:
            why = "there is no drawing that has it"
            raise CommandError(
                Problem("--scale", f"1:{1 / asked.scale:g}", why, "Name the drawing: --outline shape.svg")
            )
        return ()
    height = design.wearer.waist_height
    sides = [height] if isinstance(height, float) else [height.front, height.left, height.back, height.right]
    return outlines_in(asked.outline, asked.scale, sum(sides) / len(sides), design.units)


def settled_answer(before: Design, exact: Aimed, found: Aimed, text: str, asked: Asked, path: Path) -> Answer:
    """The written text read and settled anew, as `check` would: what it says is the answer."""
    design, _ = text_as_written(text, f"{path} as changed")
    settled = settle(lay_out(design))
    off = off_by(settled, found.wishes)
    last = Aimed(design, settled, found.wishes, off, exact.slopes, found.settlings + 1, found.why)
    return Answer(before, last, float(np.abs(exact.off).max()), asked.within, why_unmet(exact, asked), text)


def why_unmet(exact: Aimed, asked: Asked) -> tuple[str, ...]:
    """Why some figures are not had, where some are not."""
    if np.abs(exact.off).max() <= asked.within:
        return ()
    return tuple(reasons(exact, asked.within, default_resolution(exact.design)))


def off_by(settled: SettledCage, wishes: Sequence[Wish]) -> Floats:
    """(F,) m, settled less wanted."""
    wanted: Floats = np.array([wish.value for wish in wishes])
    return np.asarray(figures_of(settled, [wish.figure for wish in wishes]) - wanted)


def free_to_change(design: Design, asked: Asked) -> Freedom:
    """What may change. Raises CommandError for a name that is none, or where all is kept."""
    known = known_names(design)
    for option, given in (("--keep", asked.keep), ("--free", asked.free)):
        for name in given:
            if " ".join(name.lower().split()) not in known:
                like = nearest(said_of(design, name.lower()), sorted(known))
                usual = "drop 3, tape 1" if design.cloth is None else "level 3, seam 1"
                try_this = f"Write {like}" if like else f"Write hoop 2 length, {usual}, tie 1"
                why = f"the cage has no such length, {'drop' if design.cloth is None else 'level'} or tie"
                raise CommandError(Problem(option, name, why, try_this))
    freedom = freedom_of(design, asked.keep, asked.free, asked.each_tape)
    if not len(freedom):
        raise CommandError(
            Problem("--keep", ", ".join(asked.keep), "then nothing is left to change", "Keep less")
        )
    return freedom


def said_of(design: Design, name: str) -> str:
    """A name said of tapes and drops, said of what this cage has."""
    return name if design.cloth is None else name.replace("tape", "seam").replace("drop", "level")


def known_names(design: Design) -> set[str]:
    """What may be kept or freed, by name: single numbers, and all of a hoop, tape, seam, row, tie or panel."""
    names = number_names(design)
    known = {
        " ".join(words[:count]) for name in names for words in [name.split()] for count in (2, len(words))
    }
    line, row = ("tape", "drop") if design.cloth is None else ("seam", "level")
    known |= {f"{row} {hoop}" for hoop in range(1, len(design.hoops) + 1)} | {row, "hoop", "length"}
    known |= {line} if any(name.startswith(line) for name in names) else set()
    return known | ({"tie"} if design.ties else set()) | ({"panel"} if design.panels else set())

"""One cage as the page shows it: its parts, labels, points and pulls at every stage of hanging."""

from __future__ import annotations

from collections.abc import Mapping, Sequence, Set
from dataclasses import dataclass, replace

import numpy as np

from cage3d.errors import NotSettledError, OutputError, Problem
from cage3d.mesh.dressing import DressingStep
from cage3d.mesh.part import KINDS, USUAL_KINDS
from cage3d.mesh.parts import build_parts
from cage3d.report import measure, with_certainty
from cage3d.report.record import Report
from cage3d.scene.bent import BentSteel, bent_steel
from cage3d.scene.labels import Label, labels
from cage3d.scene.points import NamedPoint, named_points
from cage3d.scene.pulls import Contact, PullLine, contacts, pull_lines
from cage3d.scene.shown import ScenePart, scene_parts
from cage3d.settle.state import SettledCage

WORN = "as worn"


@dataclass(frozen=True)
class ShownStage:
    """The cage at one stage. Parts and points match those of the other stages one for one."""

    name: str
    report: Report
    parts: tuple[ScenePart, ...]
    labels: tuple[Label, ...]
    points: tuple[NamedPoint, ...]
    pulls: tuple[PullLine, ...]
    contacts: tuple[Contact, ...]
    bent: tuple[BentSteel, ...] = ()


@dataclass(frozen=True)
class ShownCage:
    """name: of the design, told apart from the other one's; units: what its lengths are shown in."""

    name: str
    settled: SettledCage
    report: Report
    stages: tuple[ShownStage, ...]  # the last is the cage as worn


def shown_cage(
    settled: SettledCage,
    report: Report,
    wanted: Set[str] | None = None,
    steps: Sequence[DressingStep] = (),
    wearer: bool = False,
) -> ShownCage:
    """A cage and the steps before it as mesh.dressing gives them.

    wanted: kinds of part, None for all; wearer: she is shown at first, and not her form.
    Raises NotSettledError for a cage that is no answer, OutputError where it has none of the parts.
    """
    if not report.trusted:
        why = "the cage is not settled, so there is nothing to show"
        raise NotSettledError(Problem("page", report.design, why, "Run cage3d check to see why"))
    kinds = USUAL_KINDS if wanted is None else frozenset(wanted)
    hidden = {"skirt"}
    if "form" in kinds:
        kinds |= {"wearer"}
        hidden.add("form" if wearer else "wearer")

    found = scene_parts(settled, kinds, hidden)
    if not found:
        raise OutputError(nothing_to_show(settled, kinds))
    if not any(part.shown for part in found):  # asked for alone, it is looked at
        hidden = set()

    def at(name: str, hung: SettledCage, told: Report, ties_open: bool = False) -> ShownStage:
        return stage(name, hung, told, tuple(scene_parts(hung, kinds, hidden)), ties_open)

    stages = [
        at(step.name, step.settled, with_certainty(told, step.settled), step.ties_open)
        for step in steps
        for told in [replace(measure(step.settled), units=report.units)]
    ]
    stages.append(at(WORN, settled, report))
    return ShownCage(report.design, settled, report, tuple(stages))


def nothing_to_show(settled: SettledCage, wanted: Set[str]) -> Problem:
    has = {part.kind for part in build_parts(settled)}
    names = ", ".join(kind for kind in KINDS if kind in has)
    return Problem("page", ", ".join(sorted(wanted)), "this cage has none of these", f"It has: {names}")


def variants_shown(design: str, hung: Mapping[str, tuple[SettledCage, Report]], opening: str) -> ShownCage:
    """Variants of one design by their names, each a stage; the cage itself is the one the page opens with.

    Raises ValueError where their parts do not match one for one, as with other numbers of tapes.
    """
    kinds = frozenset(USUAL_KINDS) | {"wearer"}
    stages = tuple(
        stage(name, settled, report, tuple(scene_parts(settled, kinds, {"skirt", "wearer"})))
        for name, (settled, report) in hung.items()
    )
    if not all(match(one.parts, stages[0].parts) for one in stages):
        raise ValueError("the variants are not made of the same parts")
    return ShownCage(design, *hung[opening], stages)


def match(parts: Sequence[ScenePart], others: Sequence[ScenePart]) -> bool:
    """Whether they are the same parts of the same corners, wherever these lie."""
    return [part.name for part in parts] == [part.name for part in others] and all(
        len(part.vertices) == len(other.vertices) and np.array_equal(part.faces, other.faces)
        for part, other in zip(parts, others, strict=True)
    )


def stage(
    name: str, settled: SettledCage, report: Report, parts: tuple[ScenePart, ...], ties_open: bool = False
) -> ShownStage:
    """ties_open: nothing is said of ties, whose length is then only that of the drawing."""
    said, pulls = labels(settled, report), pull_lines(settled, report)
    if ties_open:
        said = tuple(label for label in said if label.group not in ("ties", "panels"))
        pulls = tuple(pull for pull in pulls if pull.group in ("tapes", "cloth"))
    return ShownStage(
        name, report, parts, said, named_points(settled), pulls,
        contacts(settled, report), bent_steel(settled, report),
    )  # fmt: skip

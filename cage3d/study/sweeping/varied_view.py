"""What came of a sweep, for reading: what varied, the table, what to mind, and why some variants are no answer."""

from __future__ import annotations

from rich.console import Group, RenderableType
from rich.text import Text

from cage3d.design.baskets import hem_hoops
from cage3d.design.hoop_materials import what_it_bears
from cage3d.legible import in_signs_of, legible
from cage3d.report.cautions import PREDICTIONS
from cage3d.report.view import Wrapped
from cage3d.study.sweeping.variant_table import WHICH, Sure, mind_marks, variant_table
from cage3d.study.sweeping.vary import Varied
from cage3d.units import IN_WORDS
from cage3d.wording import capital


def varied_view(varied: Varied, sure: Sure | None, encoding: str = "utf-8") -> Group:
    """For a rich console whose terminal or file has this encoding."""

    def said(text: str, style: str = "") -> Wrapped:
        return Wrapped(in_signs_of(encoding, legible(text)), style)

    parts: list[RenderableType] = [
        said(varied.sweep.design.name, "bold"),
        *(said(line) for line in title_lines(varied)),
        Text(""),
        variant_table(varied, sure),
        *(said(line) for line in key_lines(varied, sure)),
        Text(""),
        *(said(line, "yellow") for line in failure_lines(varied)),
        *(said(line, "yellow") for line in mind_lines(varied)),
        Text(""),
    ]
    return Group(*parts, said(PREDICTIONS))


def title_lines(varied: Varied) -> list[str]:
    """What varies, and how many variants there are."""
    count, good = varied.sweep.count, len(varied.answers)
    steps = varied.sweep.steps
    lines = [f"{capital(one.in_words)}." for one in steps]
    if len(steps) > 1:
        lines = [f"{which}: {one.in_words}." for which, one in zip(WHICH, steps, strict=True)]
    lines += [
        f"No step falls on {steps.last:g} {steps.unit}; the last is {steps.shown(steps.count - 1)}."
        for steps in varied.sweep.steps
        if steps.missed
    ]
    hang = "all of them hang" if good == count else f"{good} of them hang"
    return [*lines, f"{count} variants, {hang}."]


def key_lines(varied: Varied, sure: Sure | None) -> list[str]:
    """What the columns are."""
    unit = IN_WORDS[varied.sweep.design.units or "mm"]
    lowest = (
        "the lowest hoop" if len(hem_hoops(varied.sweep.design)) == 1 else "the lowest hoops of both baskets"
    )
    lines = [
        f"Lengths in {unit}. Hem: of {lowest} above the floor. Behind: of front to back, behind the waist. "
        f"Tilt: of the hoop that tilts most. Bent: at most, of {what_it_bears(varied.sweep.design.stuff)}. "
        f"Pull: the strongest {varied.sweep.design.line}'s, in g."
    ]
    if varied.sweep.design.ties:
        lines.append("Tie: the strongest tie's pull, in g.")
    if sure is not None:
        lines.append(f"±: nine times in ten, worked out at {varied.sweep.name(sure.variant)}.")
    return lines


def mind_lines(varied: Varied) -> list[str]:
    """Every kind of warning once, with the variants that have it, and its words at the first."""
    lines = []
    for code, number in mind_marks(varied).items():
        own = [variant for variant, told in enumerate(varied.told) if code in dict(told.warnings)]
        text = dict(varied.told[own[0]].warnings)[code]
        lines.append(f"Mind {number}, at {where(varied, own)}: {text}")
    return lines


def where(varied: Varied, variants: list[int]) -> str:
    """'72 in', '72 in and the 3 after it', or '5 variants, first 72 in'."""
    first, many = varied.sweep.name(variants[0]), len(variants)
    if many == 1:
        return first
    if len(varied.sweep.steps) == 1 and variants == list(range(variants[0], variants[0] + many)):
        return f"{first} to {varied.sweep.name(variants[-1])}"
    return f"{many} variants, the first {first}"


def failure_lines(varied: Varied) -> list[str]:
    """Why some variants are no answer: each reason once."""
    reasons: dict[str, list[int]] = {}
    for variant, told in enumerate(varied.told):
        if not told.figures:
            reasons.setdefault(told.why, []).append(variant)
    return [f"No answer at {where(varied, own)}: {why}." for why, own in reasons.items()]

"""The page's controls as HTML: parts on and off, stages of hanging, points to measure between, frames."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape
from itertools import groupby

from cage3d.mesh.part import KINDS
from cage3d.page.line_drawing import drawing_svg
from cage3d.page.packing import stage_names
from cage3d.page.shown_cage import ShownCage
from cage3d.report.how_sure import legend
from cage3d.report.tables import span
from cage3d.scene.shown import ScenePart
from cage3d.units import show_length
from cage3d.wording import capital

INSTEAD = "The drawing is to scale. A browser with WebGL and JavaScript shows the model to turn."


def frames_html(cages: Sequence[ShownCage]) -> str:
    """A frame a cage, each with its line drawing for browsers that show nothing in three dimensions."""
    return "\n".join(frame(cage, number, len(cages) > 1) for number, cage in enumerate(cages))


def frame(cage: ShownCage, number: int, named: bool) -> str:
    end = f"-{number + 1}" if number else ""
    caption = f"<figcaption>{escape(cage.name)}</figcaption>" if named else ""
    which = f"{('first', 'second')[number]} cage" if named else "cage"
    said = f"The {which} in three dimensions. Arrow keys turn it, plus and minus zoom; more under Keys."
    return f"""<figure>{caption}
<div class="frame">
<canvas id="view{end}" tabindex="0" role="img" aria-label="{said}"></canvas>
<svg id="marks{end}" class="marks" aria-hidden="true"></svg>
<div class="instead">{drawing_svg(cage.settled)}<p>{INSTEAD}</p></div>
</div></figure>"""


def switches_html(cages: Sequence[ShownCage]) -> str:
    """A box for every group, and under it one for every part where a group has several."""
    parts: dict[str, ScenePart] = {}
    for cage in cages:
        parts |= {part.name: part for part in cage.stages[-1].parts if part.name not in parts}
    order = list(KINDS)
    ordered = sorted(parts.values(), key=lambda part: (order.index(part.group), part.number))
    return "\n".join(
        boxes_of_group(group, list(members))
        for group, members in groupby(ordered, key=lambda part: part.group)
    )


def boxes_of_group(group: str, own: Sequence[ScenePart]) -> str:
    checked = " checked" if any(part.shown for part in own) else ""
    red, green, blue = (round(255 * value) for value in own[0].colour[:3])
    swatch = f'<svg class="swatch" aria-hidden="true"><rect fill="rgb({red},{green},{blue})"/></svg>'
    boxes = "".join(
        f'<label><input type="checkbox" data-part="{escape(part.name)}" data-of="{escape(group)}"'
        f"{' checked' if part.shown else ''}> {escape(part.name)}</label>"
        for part in own
    )
    whole = (
        f'<label><input type="checkbox" data-group="{escape(group)}"{checked}> '
        f"{escape(capital(group))}{swatch}</label>"
    )
    if group == "skirt":
        whole += '<label class="under"><input type="checkbox" id="skirt-opaque"> opaque, not a veil</label>'
    if len(own) == 1:
        return f"{whole}<div hidden>{boxes}</div>"
    return f"{whole}<details><summary>each of the {escape(group)}</summary>{boxes}</details>"


def stages_html(cages: Sequence[ShownCage]) -> str:
    """A button a stage, pressed for the cage as worn; nothing where there is only that one."""
    names = stage_names(cages)
    if len(names) < 2:
        return ""
    buttons = "".join(
        f'<button type="button" data-stage="{name}" aria-pressed="{str(name == names[-1]).lower()}">'
        f"{capital(name)}</button>"
        for name in names
    )
    return f'<div class="stages" role="group" aria-label="Stage of hanging">{buttons}</div>'


def stage_words_html(cages: Sequence[ShownCage]) -> str:
    """Hem and widths at every stage, of which one is shown."""
    return "".join(
        f'<p class="stage-words" data-words-of="{stage.name}"{"" if stage is cage.stages[-1] else " hidden"}>'
        f"{escape(f'{cage.name}: ' if len(cages) > 1 else '')}{escape(stage_words(stage.name, cage))}</p>"
        for cage in cages
        for stage in cage.stages
        if len(cage.stages) > 1 or stage.report.certainty is not None
    )


def stage_words(name: str, cage: ShownCage) -> str:
    report = next(stage.report for stage in cage.stages if stage.name == name)
    low, high, wide, deep = (
        show_length(metres, report.units)
        for metres in (
            report.hem.lowest_m, report.hem.highest_m, report.width_side_side_m, report.width_front_back_m
        )
    )  # fmt: skip
    sure = "".join(f" {line}." for line in legend(report))
    return f"{capital(name)}: lowest hoop {span(low, high)} above the floor, {wide} wide, {deep} deep.{sure}"


def point_lists_html(cages: Sequence[ShownCage]) -> str:
    """Two lists of all named points, for those who do not click."""
    options = ['<option value="">as clicked</option>']
    for number, cage in enumerate(cages):
        for hoop, points in groupby(cage.stages[-1].points, key=lambda point: point.hoop):
            of = f", {cage.name}" if len(cages) > 1 else ""
            own = "".join(
                f'<option value="{number}:{escape(point.name)}">{escape(point.name)}</option>'
                for point in points
            )
            options.append(f'<optgroup label="Hoop {hoop}{escape(of)}">{own}</optgroup>')
    listed = "".join(options)
    return "".join(
        f'<label class="end">{word} <select data-end="{end}">{listed}</select></label>'
        for end, word in enumerate(("From", "to"))
    )

"""Rules for laced panels: do their tapes and hoops exist, and what keeps them closed?"""

from __future__ import annotations

from collections.abc import Iterator

from cage3d.design.models import Design, Panel
from cage3d.design.rules.ties import where_they_cross
from cage3d.errors import Problem
from cage3d.units import show_length


def panels_that_exist(design: Design) -> Iterator[Problem]:
    for number, panel in enumerate(design.panels):
        where = f"panels[{number}]"
        for place, tape in enumerate(panel.tapes):
            if tape > design.tapes.count:
                yield Problem(
                    f"{where}.tapes[{place}]",
                    str(tape),
                    f"there is no tape {tape}: the design has {design.tapes.count}",
                    "Count tapes from centre front round by the wearer's left, from 1",
                )
        if panel.tapes[0] == panel.tapes[1]:
            yield Problem(
                f"{where}.tapes[1]",
                str(panel.tapes[1]),
                "a panel is laced between two tapes",
                "Write two different tapes, such as [5, 6]",
            )
        for place, hoop in enumerate(panel.hoops):
            if hoop > len(design.hoops):
                yield Problem(
                    f"{where}.hoops[{place}]",
                    str(hoop),
                    f"there is no hoop {hoop}: the design has {len(design.hoops)}",
                    "Count hoops from the top, from 1",
                )
                continue
            for tape in panel.tapes:
                if tape <= design.tapes.count and hoop >= 1:
                    yield from where_they_cross(design, f"{where}.hoops[{place}]", str(hoop), hoop, tape)
        if not panel.hoops:
            yield Problem(
                f"{where}.hoops", "", "the panel crosses no hoop", "Write the hoops it is laced over: [1, 2]"
            )
        elif len(set(panel.hoops)) < len(panel.hoops):
            yield Problem(f"{where}.hoops", "", "a hoop stands twice", "Write each hoop once")


def panels_say_how_tight(design: Design) -> Iterator[Problem]:
    for number, panel in enumerate(design.panels):
        where = f"panels[{number}]"
        if (panel.widths is None) == (panel.tightness is None):
            yield Problem(
                where,
                "panel",
                "a panel has widths or one tightness",
                "Write widths: [5 in, 6 in], one a hoop, or tightness: 10 %",
            )
        if panel.widths is not None and len(panel.widths) != len(panel.hoops):
            yield Problem(
                f"{where}.widths",
                f"{len(panel.widths)} widths",
                f"the panel crosses {len(panel.hoops)} hoops",
                "Write one width for each hoop",
            )
        if panel.tightness is not None and panel.tightness > 0.9:
            yield Problem(
                f"{where}.tightness",
                f"{panel.tightness:g}",
                "the two tapes would all but meet",
                "Write a share such as 10 %",
            )
        yield from too_wide(design, panel, where)


def too_wide(design: Design, panel: Panel, where: str) -> Iterator[Problem]:
    """A width that the steel between the two tapes can never take."""
    for place, (width, hoop) in enumerate(zip(panel.widths or (), panel.hoops, strict=False)):
        if hoop <= len(design.hoops) and width > design.hoops[hoop - 1].length:
            yield Problem(
                f"{where}.widths[{place}]",
                show_length(width, design.units),
                f"the panel is wider than hoop {hoop} is long",
                "Check the number and its unit",
            )


RULES = (panels_that_exist, panels_say_how_tight)

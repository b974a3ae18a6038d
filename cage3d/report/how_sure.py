"""How sure the figures are, in words: the ± of one figure, of many at once, and what most of it comes from."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Sequence

from cage3d import units
from cage3d.design.hoop_materials import one_stuff
from cage3d.report.record import Report
from cage3d.steady import steady
from cage3d.units import INCH
from cage3d.wording import listed, numbered

OFTEN = "nine times in ten"
FEW = 3  # values that are told one by one
SEEN = 2e-4  # m, less than this of a cause is not worth a word
CAUSES = {
    "sewing": "from marks and cuts as people sew them",
    "casings": "from {} that lies loosely in its casings",
    "friction": "from friction where something lies on her",
    "skirt": "from not knowing whether the skirt lies on the hoops or slides",
    "material": "from hoops of a material that is sold stiffer and softer, heavier and lighter",
}
ALSO = {
    "sewing": "sewing",
    "casings": "loose casings",
    "friction": "friction on her",
    "skirt": "how the skirt hangs",
    "material": "the hoops' material",
}


def give_or_take(metres: float, written_in: str | None) -> str:
    """What a figure may be more or less, without its unit: rounded up to 1/16 in, or to a millimetre.

    Feet carry their own marks.
    """
    inches = written_in in ("in", "ft")
    step = INCH / 16 if inches else 0.001
    rounded = step * max(math.ceil(steady(metres / step, 6)), 1)
    if inches:
        return units.show_inches(rounded, 1 / 16) + ('"' if written_in == "ft" else "")
    return units.show_length(rounded, written_in, unit=False)


def with_unit(metres: float, written_in: str | None) -> str:
    """The same with its unit."""
    return give_or_take(metres, written_in) + unit_of(written_in)


def unit_of(written_in: str | None) -> str:
    """' in', ' mm', ' cm' behind the figure; nothing behind feet and inches."""
    return "" if written_in == "ft" else f" {written_in or 'mm'}"


def of_the_whole(report: Report, *names: str) -> str:
    """' (±1/8)', the largest of some figures of the whole cage; empty where it was not asked how sure they are."""
    if report.certainty is None:
        return ""
    return f" (±{give_or_take(max(getattr(report.certainty, name) for name in names), report.units)})"


def legend(report: Report, heights: bool = True, widths: str = "widths") -> list[str]:
    """'Heights ±1/8 in, widths ±3/16 in, nine times in ten', on two lines where hoops differ.

    heights: False where none is shown; widths: which of a hoop's are shown, as `HoopMoves` calls them; none if empty.
    Nothing where it was not asked how sure they are.
    """
    if report.certainty is None:
        return []
    hoops = report.certainty.hoops
    told = []
    if heights:
        told.append(of_hoops(report, "Heights", [max(hoop.heights) for hoop in hoops]))
    if widths:
        each = [getattr(hoop, widths) for hoop in hoops]
        most = [max(one) if isinstance(one, tuple) else one for one in each]
        told.append(of_hoops(report, "Widths", most))
    if len(told) == 2 and not any("hoop" in one for one in told):
        told = [f"{told[0]}, {told[1][0].lower()}{told[1][1:]}"]
    return [*told[:-1], f"{told[-1]}, {OFTEN}"]


def of_hoops(report: Report, what: str, each: Sequence[float]) -> str:
    """'Heights ±1/8 in (hoops 1 and 2: ±3/16)', or one after the other where they differ much; each: m of a hoop."""
    said = [give_or_take(metres, report.units) for metres in each]
    unit = unit_of(report.units)
    usual, *others = (value for value, _ in Counter(said).most_common())
    if len(others) >= FEW:
        return f"{what}, hoop 1 to {len(said)}: ±{', '.join(said)}{unit}"
    exceptions = [
        f"{numbered('hoop', [place for place, value in enumerate(said, 1) if value == other])}: ±{other}"
        for other in others
    ]
    return f"{what} ±{usual}{unit}" + (f" ({'; '.join(exceptions)})" if exceptions else "")


def how_sure(report: Report) -> list[str]:
    """What the largest part of the ± is; none where it was not asked."""
    found = report.certainty
    if found is None:
        return []
    (most,) = (cause for cause in found.causes if cause.what == found.largest)
    others = [
        ALSO[cause.what]
        for cause in found.causes
        if cause.what != found.largest and max(cause.height_m, cause.width_m) > SEEN
    ]
    high, wide = (with_unit(metres, report.units) for metres in (most.height_m, most.width_m))
    why = CAUSES[most.what].format(one_stuff(report.stuff, "a hoop"))
    return [
        f"Most of the ± comes {why}: alone it moves heights by up to {high}, widths by up to {wide}."
        + (f" Counted too: {listed(others)}." if others else "")
    ]

"""A part's measures: in metres under a key that says so, and as text in the design's units."""

from __future__ import annotations

from cage3d import units
from cage3d.report.how_sure import with_unit
from cage3d.steady import steady


class Extras:
    """Collects the extras of one part."""

    def __init__(self, design_units: str | None) -> None:
        self._units = design_units
        self.all: dict[str, object] = {}

    def add(self, key: str, metres: float, fine: bool = False) -> None:
        """A length in metres; fine: thicknesses, which eighths of an inch would round away."""
        self.all[f"{key}_m"] = steady(metres, 7)
        text = f"{units.show_mm(metres, 2)} mm" if fine else units.show_length(metres, self._units)
        self.all[key] = text

    def add_within(self, key: str, metres: float) -> None:
        """What figures may be more or less, in metres; as text rounded up, with its sign."""
        self.all[f"{key}_m"] = steady(metres, 7)
        self.all[key] = f"±{with_unit(metres, self._units)}"

    def with_facts(self, **facts: object) -> dict[str, object]:
        """Everything collected and further facts that need no unit or carry it in their name."""
        return {**self.all, **facts}


def lengths(design_units: str | None, **metres: float) -> dict[str, object]:
    """The measures of a part that has lengths only, by their keys (m)."""
    measures = Extras(design_units)
    for key, value in metres.items():
        measures.add(key, value)
    return measures.all

"""What every warning looks at."""

from __future__ import annotations

from dataclasses import dataclass

from cage3d import units
from cage3d.report.record import Report
from cage3d.settle.state import SettledCage


@dataclass(frozen=True)
class Case:
    """A settled cage with its figures."""

    report: Report
    settled: SettledCage

    def say(self, metres: float) -> str:
        """A length in the design's units, inches to 1/8."""
        return units.show_length(metres, self.report.units)

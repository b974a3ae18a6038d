"""What a settled cage tells: heights, widths, tensions, slack, strains, warnings."""

from cage3d.report.measure import measure
from cage3d.report.record import (
    HemReport,
    HoopReport,
    PointReport,
    Report,
    SegmentReport,
    TapeReport,
    TieReport,
    TouchReport,
    WarningReport,
)

__all__ = [
    "HemReport",
    "HoopReport",
    "PointReport",
    "Report",
    "SegmentReport",
    "TapeReport",
    "TieReport",
    "TouchReport",
    "WarningReport",
    "measure",
]

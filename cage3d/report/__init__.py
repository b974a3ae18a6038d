"""What a settled cage tells: heights, widths, tensions, slack, strains, warnings."""

from cage3d.report.as_json import problems_json, report_json
from cage3d.report.finer import not_vouched_for, with_finer
from cage3d.report.foreseen import CapacityReport, CertaintyReport, MarkReport
from cage3d.report.measure import measure
from cage3d.report.outlook import (
    with_capacity,
    with_certainty,
    with_marks,
    with_second_way,
    with_stiffness,
    with_suiting,
)
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
from cage3d.report.slides import with_slides
from cage3d.report.view import report_text, report_view
from cage3d.report.why_not import why_not

__all__ = [
    "CapacityReport",
    "CertaintyReport",
    "HemReport",
    "HoopReport",
    "MarkReport",
    "PointReport",
    "Report",
    "SegmentReport",
    "TapeReport",
    "TieReport",
    "TouchReport",
    "WarningReport",
    "measure",
    "not_vouched_for",
    "problems_json",
    "report_json",
    "report_text",
    "report_view",
    "why_not",
    "with_capacity",
    "with_certainty",
    "with_finer",
    "with_marks",
    "with_second_way",
    "with_slides",
    "with_stiffness",
    "with_suiting",
]

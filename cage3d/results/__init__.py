"""What follows from a settled cage, as files by name."""

from cage3d.results.made import Files, figures, miniature, miniature_files, page_of, plate_stl, sheet_files
from cage3d.results.names import cage_print, joint_print, named, page_name
from cage3d.results.parts import (
    RESULTS,
    SHEETS,
    TO_FILL_IN,
    Result,
    files_of_all,
    files_or_problems,
    kind_of,
    refuse_wearer,
    results_showing,
)

__all__ = [
    "RESULTS",
    "SHEETS",
    "TO_FILL_IN",
    "Files",
    "Result",
    "cage_print",
    "figures",
    "files_of_all",
    "files_or_problems",
    "joint_print",
    "kind_of",
    "miniature",
    "miniature_files",
    "named",
    "page_name",
    "page_of",
    "plate_stl",
    "refuse_wearer",
    "results_showing",
    "sheet_files",
]

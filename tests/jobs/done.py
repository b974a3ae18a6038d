"""A job from its design to the bench: settled once, its sheets and tables as a maker has them."""

from __future__ import annotations

import csv
import re
from dataclasses import dataclass
from functools import cached_property
from io import StringIO
from pathlib import Path

from made import hung_design, pages_of

from cage3d.design.read import read
from cage3d.report import Report, report_text
from cage3d.report.cautions import cautions_text
from cage3d.settle import SettledCage
from cage3d.sheets import Sheets, make_sheets

INCH = 0.0254


@dataclass(frozen=True)
class Job:
    """One of the designs beside this file."""

    name: str

    @cached_property
    def hung(self) -> tuple[SettledCage, Report]:
        return hung_design(read(Path(__file__).parent / f"{self.name}.yaml"))

    @property
    def report(self) -> Report:
        return self.hung[1]

    @cached_property
    def sheets(self) -> Sheets:
        return make_sheets(*self.hung)

    @cached_property
    def words(self) -> str:
        """All that stands on the sheets, on one line."""
        return " ".join(" ".join(page.text.split()) for page in pages_of(self.sheets.pdf))

    @cached_property
    def told(self) -> str:
        """All that the report says, on one line."""
        text = report_text(self.report) + cautions_text(self.hung[0].cage.design, self.report)
        return " ".join(text.split())

    def rows(self, table: str, **where: str) -> list[dict[str, str]]:
        text = self.sheets.tables[f"{table}.csv"].decode()
        rows = csv.DictReader(StringIO(text, newline=""))
        return [row for row in rows if all(row[key] == value for key, value in where.items())]

    def cells(self, table: str, column: str, **where: str) -> list[str]:
        return [row[column] for row in self.rows(table, **where)]

    def figures(self, table: str, column: str, **where: str) -> list[float]:
        return [float(cell) for cell in self.cells(table, column, **where)]

    def warning(self, code: str) -> str:
        """Its only warning of this kind; empty where there is none."""
        texts = [warning.text for warning in self.report.warnings if warning.code == code]
        assert len(texts) <= 1
        return "".join(texts)

    def slack_in_warnings(self) -> set[tuple[int, int]]:
        """(tape, hoop) that the warning of slack names."""
        found = re.findall(r"tapes? ([\d, and]+) above hoop (\d+)", self.warning("slack_tape"))
        return {(int(tape), int(hoop)) for tapes, hoop in found for tape in re.findall(r"\d+", tapes)}


JOBS = HARVEST, MASQUE, TRAIN = Job("harvest"), Job("masque"), Job("train")

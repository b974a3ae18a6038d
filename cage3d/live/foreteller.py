"""The process of one tab that says of a cage at rest all that `check` says, while the other follows the hand."""

from __future__ import annotations

from multiprocessing.connection import Connection
from pathlib import Path
from typing import Any

from cage3d.errors import CageError, CancelledError
from cage3d.live.fitting import open_text
from cage3d.live.line import Line
from cage3d.live.words import figures_told, no_rest, unexpected
from cage3d.report import (
    measure,
    not_vouched_for,
    why_not,
    with_certainty,
    with_finer,
    with_marks,
    with_second_way,
    with_slides,
    with_stiffness,
)
from cage3d.report.record import Report
from cage3d.settle.settling import MOST_STEPS, settle
from cage3d.settle.state import SettledCage
from cage3d.shape.lay_out import lay_out
from cage3d.study.processes import begin, give_way


def foretell(pipe: Connection, path: str) -> None:
    """The whole life of the process."""
    begin()
    give_way()  # to the hand
    line = Line(pipe)
    try:
        while True:
            asked = line.heard()
            while line.waiting():  # only what hangs now counts
                asked = line.heard()
            line_answer(line, Path(path), asked)
    except (EOFError, OSError):
        return  # the tab was closed


def line_answer(line: Line, path: Path, asked: dict[str, Any]) -> None:
    """Tells the figures, or why there are none; nothing where something newer waits."""
    seq = asked["seq"]
    try:
        opened = open_text(path, asked["text"])
        settled = settle(
            lay_out(opened.design_with(asked["values"])), most_steps=MOST_STEPS, cancel=line.waiting
        )
        if not settled.trusted:
            line.say(no_rest(seq, why_not(settled, str(path))))
            return
        report = foretold(settled, line)
        if report.trusted:
            line.say(figures_told(seq, report, settled.cage.design, foretold=True))
        else:
            line.say(no_rest(seq, not_vouched_for(report, str(path))))
    except CancelledError:
        return
    except CageError as fault:
        line.say({"kind": "failed", "seq": seq, "text": str(fault)})
    except (EOFError, OSError):
        raise
    except Exception as fault:
        line.say({"kind": "failed", "seq": seq, "text": unexpected(fault)})


def foretold(settled: SettledCage, line: Line) -> Report:
    """As `flow.foretold`, given up between its parts where something newer waits. Raises CancelledError."""
    report = measure(settled)
    for more in (with_marks, with_certainty, with_slides, with_stiffness, with_second_way, with_finer):
        if line.waiting():
            raise CancelledError
        report = more(report, settled)
    return report

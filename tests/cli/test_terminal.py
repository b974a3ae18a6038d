"""What a terminal shows: every figure whole at any width, and nothing that steers it."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from collections.abc import Callable
from functools import cache
from pathlib import Path

import pytest
from cage3d_cli.telling import show_report
from calling import QUICKLY, SMALL, Caller
from hung import hung
from made import MANY_HOOPS, SAMPLES, hard_data, hung_design, hung_sample

from cage3d.design.read import read_data
from cage3d.foresee.slips import Slip
from cage3d.report import Report, outlook, with_marks
from cage3d.settle import SettledCage
from cage3d.shape.weights import GRAVITY
from cage3d.units import INCH, show_length

pty = pytest.importorskip("pty", reason="Windows has none")
WIDTHS = (60, 80, 100)
STYLING = re.compile(r"\x1b\[[0-9;]*m")
STEERING = re.compile(r"[\x00-\x09\x0b-\x1f\x7f-\x9f\u200e\u200f\u202a-\u202e\u2066-\u2069]")


class Terminal:
    """A pseudo-terminal; what is written to it is read back."""

    def __init__(self, columns: int) -> None:
        import fcntl
        import struct
        import termios

        self.ours, self.theirs = pty.openpty()
        fcntl.ioctl(self.theirs, termios.TIOCSWINSZ, struct.pack("HHHH", 50, columns, 0, 0))
        settings = termios.tcgetattr(self.theirs)
        settings[1] &= ~termios.OPOST  # line ends as they are written
        termios.tcsetattr(self.theirs, termios.TCSANOW, settings)

    def read(self) -> str:
        """All that was written, once the other end is closed; styling left away."""
        data = b""
        try:
            while piece := os.read(self.ours, 65536):
                data += piece
        except OSError:  # how Linux says that the other end is closed
            pass
        os.close(self.ours)
        text = STYLING.sub("", data.decode())
        return "\n".join(line.rstrip() for line in text.split("\n"))


def shown(report: Report, columns: int, monkeypatch: pytest.MonkeyPatch) -> str:
    """The report on a terminal of so many columns."""
    from threading import Thread

    terminal, said = Terminal(columns), []
    reader = Thread(target=lambda: said.append(terminal.read()))
    reader.start()
    with os.fdopen(terminal.theirs, "w", encoding="utf-8") as stream, monkeypatch.context() as patch:
        patch.setattr(sys, "stdout", stream)
        show_report(report)
    reader.join()
    return said[0]


def with_wide_marks(report: Report, settled: SettledCage) -> Report:
    """With what marks do told wide and not settled again, which takes most of the work."""
    wide = Slip(*(-15 / 16 * INCH for _ in range(4)))
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(outlook, "slip", lambda *_: wide)
        return with_marks(report, settled)


@cache
def huge() -> Report:
    settled, report = hung_design(read_data(hard_data()))
    assert len(report.hoops) == MANY_HOOPS
    assert report.ties
    return with_wide_marks(report, settled)


def sampled(path: Path) -> Callable[[], Report]:
    def made() -> Report:
        settled, report = hung_sample(path)
        return with_wide_marks(report, settled)

    return cache(made)


REPORTS = {path.stem: sampled(path) for path in SAMPLES} | {"huge": huge}


def columns_of(text: str, title: str) -> dict[str, list[str]]:
    """The figures under each head of a table, gathered from all its parts; what names the rows, from the last."""
    lines = text[text.index(f"\n{title}") :].split("\n")
    rules = [place for place, line in enumerate(lines) if set(line.strip()) == {"─"}]
    found: dict[str, list[str]] = {}
    end = rules[0] - 1
    for rule in rules:
        heads = cells_of(lines[rule - 1])
        # Between the parts of one table nothing stands; another table has its title there.
        if any(line.strip() for line in lines[end : rule - 1]):
            break
        end = lines.index("", rule)
        rows = [cells_of(line) for line in lines[rule + 1 : end]]
        found |= {head: list(cells) for head, cells in zip(heads, zip(*rows, strict=True), strict=True)}
    return found


def cells_of(line: str) -> list[str]:
    """Cells stand two blanks apart or more; within a figure there is one."""
    return re.split(r" {2,}", line.strip())


@pytest.mark.parametrize("columns", WIDTHS)
@pytest.mark.parametrize("name", REPORTS)
def test_no_figure_is_cut(name: str, columns: int, monkeypatch: pytest.MonkeyPatch) -> None:
    report = REPORTS[name]()
    text = shown(report, columns, monkeypatch)
    assert max(map(len, text.split("\n"))) <= columns
    assert "…" not in text
    hoops = columns_of(text, "Hoops (")
    want = {
        "Length": [hoop.length_m for hoop in report.hoops],
        "Back": [hoop.height_back_m for hoop in report.hoops],
        "Deep": [hoop.width_front_back_m for hoop in report.hoops],
    }
    for head, metres in want.items():
        written = [show_length(one, report.units, unit=False) for one in metres]
        assert [cell.rstrip("*") for cell in hoops[head]] == written
    assert hoops["Tilt"] == [f"{hoop.tilt_deg:.1f}°" for hoop in report.hoops]
    assert [int(cell.split()[0]) for cell in hoops["Hoop"]] == [hoop.number for hoop in report.hoops]
    pulls = columns_of(text, "Pull at each seam" if report.on_cloth else "Pull in the tapes")
    for hoop in report.hoops:
        above = [tape.to(hoop.number) for tape in report.tapes]  # none at a hoop on her other side
        cells = pulls[f"to hoop {hoop.number}"]
        assert [cell == "–" for cell in cells] == [part is None for part in above]
        for cell, part in zip(cells, above, strict=True):
            grams = part.tension_N / GRAVITY * 1000 if part else 0.0
            # Where two hoops meet there is no tape between them, and what is told is the pull on what holds them.
            figure = cell.removeprefix("sewn, " if part and not part.length_m else "")
            assert not part or figure.startswith("slack") or abs(float(figure) - grams) <= 0.5001
    marks = columns_of(text, "What one mark")
    # The strongest marks are settled again and printed.
    printed = [str(mark.tape) for mark in report.marks if mark.low]
    assert len(printed) > 2
    assert [tape for tape in marks["Seam" if report.on_cloth else "Tape"] if tape] == printed
    for tie in report.ties:
        assert re.search(rf"  {show_length(tie.length_m, report.units, unit=False)}  ", text)


def test_a_terminal_with_ascii_alone_gets_ascii_rules(tmp_path: Path) -> None:
    (tmp_path / "small.yaml").write_text(SMALL.replace("Small cage", "Zoë's cage"), encoding="utf-8")
    terminal = Terminal(60)
    done = subprocess.Popen(
        [sys.executable, "-c", QUICKLY, "check", "small.yaml"],
        cwd=tmp_path, env={**os.environ, "PYTHONIOENCODING": "ascii"}, stdout=terminal.theirs,
        stderr=subprocess.DEVNULL, stdin=subprocess.DEVNULL,
    )  # fmt: skip
    os.close(terminal.theirs)
    text = terminal.read()
    assert done.wait(60) == 0
    assert text.isascii()
    assert text.startswith("Zoe's cage\n")
    assert "\n----------" in text.replace("\n -", "\n-")
    assert (
        re.search(r"[|]|[+]--", text) is None
    )  # no boxes either, which would take more room; +- is how sure
    assert "?" not in text
    assert " deg" in text
    assert max(map(len, text.split("\n"))) <= 60


def test_names_neither_colour_nor_steer_a_terminal(monkeypatch: pytest.MonkeyPatch) -> None:
    tie = {"from": "hoop 2 tape 3", "to": "hoop 2 tape 6", "length": 16, "name": "[red]tie[/]\u202e :cat:"}
    report, _ = hung(name="[bold]cage\u202e", ties=[tie])
    text = shown(report, 80, monkeypatch)
    assert text.startswith("[bold]cage\\u202e\n")
    assert "\n[red]tie[/]\\u202e :cat:  " in text.replace("\n ", "\n")
    assert STEERING.search(text) is None


@pytest.mark.parametrize(
    "text",
    [
        SMALL + '"\\e[31mkey\\u202e": 1\n',
        SMALL + '"\\e[2J": 1\n"\\e[2J": 2\n',
        SMALL.replace("waist: 26", 'waist: "26\\e]0;title\\a\\u2066"'),
        SMALL.replace("Small cage", '"Small\\e[31m cage"'),
    ],
)
def test_a_fault_is_told_without_the_signs_that_steer(cage3d: Caller, text: str) -> None:
    said = cage3d("check", cage3d.write(text))
    assert said.status == 1
    assert "small.yaml:" in said.err
    assert STEERING.search(said.err + said.out) is None


@pytest.mark.parametrize(
    "arguments",
    [
        ("check", "no\x1b[31m\u202e.yaml"),
        ("check", "a", "b\x1b[2J\u202e"),
        ("check", "--x\x1b[2J\u202e"),
        ("\x1b[2J\u202e",),
    ],
)
def test_nor_do_words_of_the_command_line(cage3d: Caller, arguments: tuple[str, ...]) -> None:
    said = cage3d(*arguments)
    assert said.status in (1, 2)
    assert "\\x1b" in said.err
    assert STEERING.search(said.err + said.out) is None

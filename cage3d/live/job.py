"""What takes longer than a picture, each in a process of its own: making, downloads, the way back, curves."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Callable, Mapping
from contextlib import suppress
from multiprocessing.connection import Connection
from pathlib import Path
from typing import Any

from cage3d.errors import CageError, Problem
from cage3d.flow import make_of, proved, report_for, vouched
from cage3d.live.curve import curve_of
from cage3d.live.fitting import Opened, open_text
from cage3d.live.line import Line
from cage3d.live.seeking import sought_values
from cage3d.live.words import faults_json, unexpected
from cage3d.report import with_capacity
from cage3d.results import RESULTS, Files, Result, files_or_problems, named
from cage3d.settle import SettledCage, settle
from cage3d.shape.lay_out import lay_out
from cage3d.study.processes import begin, give_way
from cage3d.write.folder import Folder

DOWNLOADS = {"model": "3D model", "page": "page", "sheets": "making sheets"}
FIRST = {
    "model": "{stem}.glb",
    "page": "{stem}.html",
    "sheets": "{stem}-sheets.pdf",
}  # of the files of each part


def work(
    pipe: Connection, path: str, folder: str, ask: dict[str, Any], text: str, values: dict[str, str]
) -> None:
    """One job, from its beginning to its answer."""
    begin()
    give_way()  # to the hand
    line, number = Line(pipe), ask["id"]

    def told(what: str) -> None:
        line.say({"kind": "told", "id": number, "text": what})

    with suppress(EOFError, OSError):  # the tab was closed
        try:
            opened = open_text(Path(path), text)
            head, data = JOBS[ask["do"]](opened, values, ask, Folder(Path(folder)), told)
            done = {"kind": "done", "id": number, **head}
            if data is None:
                line.say(done)
            else:
                line.hand_over(done, data)
        except CageError as fault:
            line.say({"kind": "failed", "id": number, "text": in_words(fault), "faults": faults_json(fault)})
        except (EOFError, OSError):
            raise
        except Exception as fault:
            line.say({"kind": "failed", "id": number, "text": unexpected(fault)})


Told = Callable[[str], None]
Answer = tuple[dict[str, Any], bytes | None]


def in_words(fault: CageError) -> str:
    return " ".join(f"{one}." for one in fault.problems)


def hung(opened: Opened, values: Mapping[str, str], told: Told) -> SettledCage:
    told("settling the cage")
    return proved(settle(lay_out(opened.design_with(values))), opened.path)


def make(opened: Opened, values: dict[str, str], _ask: dict[str, Any], folder: Folder, told: Told) -> Answer:
    """Everything into the folder of results, as `make` does it, of what the page shows."""
    made = make_of(hung(opened, values, told), folder, told_parts(told))
    unsaved = " They are of values that are not saved yet." if values else ""
    missing = "".join(f" Not made: {problem}." for problem in made.failed)
    notes = "".join(f" {note}." for note in made.notes)
    count = len(made.written)
    return {"text": f"{count} files written into {folder.path.name}.{unsaved}{missing}{notes}"}, None


def told_parts(told: Told) -> list[Result]:
    """The results, each saying what it is before it is made."""

    def saying(part: Result) -> Callable[[SettledCage, Any], Files]:
        def files(settled: SettledCage, report: Any) -> Files:
            told(part.name)
            return part.files(settled, report)

        return files

    return [Result(**(vars(part) | {"files": saying(part)})) for part in RESULTS]


def download(
    opened: Opened, values: dict[str, str], ask: dict[str, Any], _folder: Folder, told: Told
) -> Answer:
    """One file, or all as a ZIP."""
    what = ask.get("what")
    parts = [part for part in RESULTS if what == "everything" or part.name == DOWNLOADS.get(str(what))]
    if not parts:
        why = "there is no such download"
        raise CageError(
            Problem("download", str(what)[:60], why, f"Ask for {', '.join(DOWNLOADS)} or everything")
        )
    settled = hung(opened, values, told)
    told("finding out what it will do")
    report = vouched(report_for(parts, settled), opened.path)
    if any(part.foreseen for part in parts):
        report = with_capacity(report, settled)
    design = settled.cage.design
    files: Files = {}
    for part in parts:
        told(part.name)
        made, problems = files_or_problems(part, settled, report)
        files |= {named(name, design): data for name, data in made.items()}
        if problems and what != "everything":
            raise CageError(problems)
    if what == "everything":
        name, data = named("{stem}.zip", design), zipped(files)
    else:
        name = named(FIRST[str(what)], design)
        data = files[name]
    return {"name": name, "text": f"{name} is made."}, data


def zipped(files: Files) -> bytes:
    """All files in one, the same bytes for the same files."""
    held = io.BytesIO()
    with zipfile.ZipFile(held, "w", zipfile.ZIP_DEFLATED) as packed:
        for name in sorted(files):
            packed.writestr(zipfile.ZipInfo(name), files[name], zipfile.ZIP_DEFLATED)
    return held.getvalue()


def aim(opened: Opened, values: dict[str, str], ask: dict[str, Any], _folder: Folder, told: Told) -> Answer:
    found, text = sought_values(opened, values, ask.get("free"), told)
    return {"values": found, "text": text}, None


def curve(opened: Opened, values: dict[str, str], ask: dict[str, Any], _folder: Folder, told: Told) -> Answer:
    places = ask.get("places", [ask.get("place")])
    svg, text = curve_of(opened, values, places, told, ask.get("shares"))
    return {"svg": svg, "text": text}, None


JOBS: dict[str, Callable[[Opened, dict[str, str], dict[str, Any], Folder, Told], Answer]] = {
    "make": make,
    "download": download,
    "aim": aim,
    "curve": curve,
}

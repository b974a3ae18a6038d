"""What a folder of results holds after one run and another: one cage, and all that is hers."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest
from calling import SMALL, Caller

from cage3d import flow, results
from cage3d.design.read import read_text
from cage3d.settle import SettledCage, settle
from cage3d.shape.lay_out import lay_out
from cage3d.write.folder import MADE, Folder

RECORD = "tables/fitting-record.csv"


@cache
def hung(text: str) -> SettledCage:
    return settle(lay_out(read_text(text, "small.yaml"), 32))


def cheap(failing: str = "") -> tuple[results.Result, ...]:
    """Every part, with its name in place of its files' contents."""

    def files(part: results.Result) -> results.Files:
        if part.name == failing:
            raise MemoryError
        return {name: f"{part.name} {name}".encode() for name in part.names}

    return tuple(
        results.Result(part.name, lambda *_, part=part: files(part), part.names, part.kind)
        for part in results.RESULTS
    )


@pytest.fixture
def make(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    """A cheap `make` of a text into `out`."""
    monkeypatch.setattr(flow, "foretold", flow.measure)
    monkeypatch.setattr(flow, "with_capacity", lambda report, _settled: report)

    def run(text: str = SMALL, parts: tuple[results.Result, ...] = cheap(), force: bool = False) -> flow.Made:
        monkeypatch.setattr(flow, "settle", lambda _cage: hung(text))
        path = tmp_path / "small.yaml"
        path.write_text(text, "utf-8")
        return flow.make(path, Folder(tmp_path / "out", force), parts)

    return run


def files_in(folder: Path) -> set[str]:
    return {str(path.relative_to(folder)) for path in folder.rglob("*") if path.is_file()} - {MADE}


OTHER = SMALL.replace("length: 62", "length: 63")
ALL = {name.format(stem="small-cage", hoop="steel") for part in results.RESULTS for name in part.names}
PAGE = "small-cage.html"


def test_sheets_alone_leave_the_same_cages_other_parts(make, tmp_path: Path) -> None:
    make()
    made = make(parts=cheap()[4:5])
    assert (made.notes, files_in(tmp_path / "out")) == ((), ALL)


def test_sheets_of_a_changed_design_move_the_older_models_away(make, tmp_path: Path) -> None:
    make()
    made = make(OTHER, cheap()[4:5])
    sheets = {name.format(stem="small-cage", hoop="steel") for name in results.SHEETS}
    assert files_in(tmp_path / "out") == sheets | {f"old/{name}" for name in ALL - sheets}
    assert "moved there" in made.notes[0]
    assert PAGE in made.notes[0]


@pytest.mark.parametrize("text", [SMALL, OTHER])
def test_the_files_of_a_part_that_failed_are_moved_away(make, tmp_path: Path, text: str) -> None:
    make()
    made = make(text, cheap("page"))
    assert len(made.failed) == 1
    assert files_in(tmp_path / "out") == ALL - {PAGE} | {f"old/{PAGE}"}
    assert PAGE in made.notes[0]


def test_a_renamed_design_takes_the_place_of_the_other(make, tmp_path: Path) -> None:
    make()
    make(SMALL.replace("Small cage", "Wide cage"))
    now = {name for name in files_in(tmp_path / "out") if not name.startswith("old/")}
    assert now == {name.replace("small", "wide") for name in ALL}


def test_a_filled_in_record_is_never_written_over(make, tmp_path: Path) -> None:
    make()
    hers = tmp_path / "out" / RECORD
    hers.write_bytes(b"what she measured")
    for text, force in ((SMALL, False), (OTHER, True), (SMALL, True)):
        made = make(text, force=force)
        assert hers.read_bytes() == b"what she measured"
        assert "has been filled in and stays" in made.notes[0]
        assert (tmp_path / "out/tables/fitting-record-2.csv").read_bytes().startswith(b"making sheets")
    assert "tables/fitting-record-3.csv" not in files_in(tmp_path / "out")


def before_any_work(cage3d: Caller) -> None:
    def work(_cage: object) -> None:
        raise AssertionError("it was settled")

    cage3d.monkeypatch.setattr(flow, "settle", work)


@pytest.mark.parametrize("name", sorted(ALL - {RECORD}))
def test_what_is_in_the_way_is_told_before_the_work(cage3d: Caller, name: str) -> None:
    before_any_work(cage3d)
    path = cage3d.folder / "out" / name
    path.parent.mkdir(parents=True)
    path.write_bytes(b"hers")
    said = cage3d("make", cage3d.write(), "-o", "out")
    assert (said.status, said.out) == (1, "")
    assert "not made by this tool" in said.err
    assert files_in(cage3d.folder / "out") == {name}


@pytest.mark.parametrize("command", ["make", "sheets", "maquette", "show"])
@pytest.mark.parametrize(
    ("into", "status", "why"),
    [("", 2, "no name of a folder"), (" ", 2, "no name of a folder"), ("small.yaml", 1, "is a file"),
     ("small.yaml/in", 1, "lies under a file")],
)  # fmt: skip
def test_a_folder_that_cannot_be_is_refused_before_the_work(
    cage3d: Caller, command: str, into: str, status: int, why: str
) -> None:
    before_any_work(cage3d)
    said = cage3d(command, cage3d.write(), "-o", into)
    assert (said.status, said.out) == (status, "")
    assert why in said.err

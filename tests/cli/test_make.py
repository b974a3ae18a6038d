"""`cage3d make` and its parts: what is written, what is said, what is left alone."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from calling import ON_THE_FLOOR, SMALL, Caller
from half_size import draw_half_size
from kept import keep_answers

from cage3d import flow, results
from cage3d.errors import NotSettledError, OutputError, Problem
from cage3d.report import outlook
from cage3d.write.folder import MADE, Folder

FIGURES = results.Result("report", results.figures)
SENT = [
    "small-cage.glb",
    "small-cage.stl",
    "small-cage.html",
    "small-cage-front.png",
    "small-cage-sheets.pdf",
]


def files_in(folder: Path) -> set[str]:
    return {str(path.relative_to(folder)) for path in folder.rglob("*") if path.is_file()}


def test_make_writes_everything_under_the_names_looked_for_and_says_where(cage3d: Caller) -> None:
    draw_half_size(cage3d.monkeypatch)
    said = cage3d("make", cage3d.write(), "-o", "out")
    assert (said.status, said.err) == (0, "")
    there = files_in(cage3d.folder / "out")
    looked_for = {
        name.format(stem="small-cage", hoop="steel") for part in results.RESULTS for name in part.names
    }
    # How many beds a miniature takes is known when it is made.
    miniature = {name for name in there if name.startswith("small-cage-1-6-filament-flat")}
    assert there - miniature == looked_for | {MADE}
    assert {f"out/{name}" for name in there - {MADE}} == set(said.out.split())
    assert there >= {
        *SENT,
        "report.txt",
        "report.json",
        "tables/cutting.csv",
        "small-cage-1-6-filament-flat.txt",
    }
    assert (cage3d.folder / "out/small-cage.glb").read_bytes().startswith(b"glTF")
    assert json.loads((cage3d.folder / "out/report.json").read_text("utf-8"))["settled"] is True
    assert "Small cage" in (cage3d.folder / "out/report.txt").read_text("utf-8")
    again = cage3d("sheets", "small.yaml", "-o", "out")
    assert again.status == 0
    assert files_in(cage3d.folder / "out") == there


def small(folder: Path, text: str = SMALL) -> Path:
    path = folder / "small.yaml"
    path.write_text(text, "utf-8")
    return path


def test_without_a_folder_the_designs_name_is_taken(cage3d: Caller) -> None:
    said = cage3d("sheets", cage3d.write())
    assert said.status == 0
    assert (cage3d.folder / "small/small-cage-sheets.pdf").read_bytes().startswith(b"%PDF")


def test_warnings_go_to_stderr(cage3d: Caller) -> None:
    said = cage3d("sheets", cage3d.write(SMALL.replace("[22, 28]", "[8, 10]")))
    assert said.status == 0
    assert "Warning: The hem hangs" in said.err
    assert "Warning" not in said.out


def test_a_part_that_fails_is_one_line_and_the_rest_is_written(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    keep_answers(monkeypatch)

    def no_graphics(_settled: object, _report: object) -> results.Files:
        raise OutputError(Problem("pictures", "", "the graphics library crashed", "Install it"))

    def broken(_settled: object, _report: object) -> results.Files:
        raise ZeroDivisionError("division by zero")

    def not_installed(_settled: object, _report: object) -> results.Files:
        raise ImportError("No module named 'absent'")

    parts = [results.Result(name, make) for name, make in
             {"pictures": no_graphics, "page": broken, "model": not_installed}.items()]  # fmt: skip
    made = flow.make(small(tmp_path), Folder(tmp_path / "out"), [*parts, FIGURES])
    assert [path.name for path in made.written] == ["report.txt", "report.json"]
    lines = [str(problem) for problem in made.failed]
    assert lines[0] == "pictures: the graphics library crashed. Install it"
    assert "by a fault of the tool (ZeroDivisionError: division by zero)" in lines[1]
    assert "a library is missing" in lines[2]


def test_a_part_that_fails_is_status_1(cage3d: Caller) -> None:
    def failing(*_: object, **_more: object) -> None:
        raise OutputError(Problem("making sheets", "", "the paper is out", "Fetch some"))

    cage3d.monkeypatch.setattr("cage3d.sheets.sheets.make_sheets", failing)
    said = cage3d("sheets", cage3d.write())
    assert (said.status, said.out) == (1, "")
    assert "cage3d: making sheets: the paper is out. Fetch some" in said.err


def test_somebody_elses_files_are_left_alone(cage3d: Caller) -> None:
    name = cage3d.write()
    (cage3d.folder / "out").mkdir()
    (cage3d.folder / "out/small-cage-sheets.pdf").write_text("my own notes", "utf-8")
    said = cage3d("sheets", name, "-o", "out")
    assert (said.status, said.out) == (1, "")
    assert "not made by this tool" in said.err
    assert files_in(cage3d.folder / "out") == {"small-cage-sheets.pdf"}
    assert cage3d("sheets", name, "-o", "out", "--force").status == 0


def test_a_file_in_place_of_the_output_folder(cage3d: Caller) -> None:
    name = cage3d.write()
    (cage3d.folder / "out").write_text("a file", "utf-8")
    said = cage3d("sheets", name, "-o", "out")
    assert (said.status, said.out) == (1, "")
    assert "not a folder" in said.err


@pytest.mark.parametrize("command", ["make", "sheets", "maquette", "show"])
def test_nothing_is_written_of_a_cage_that_finds_no_rest(cage3d: Caller, command: str) -> None:
    said = cage3d(command, cage3d.write(ON_THE_FLOOR), "-o", "out")
    assert (said.status, said.out) == (3, "")
    assert "No model is shown" in said.err
    assert not (cage3d.folder / "out").exists()


def test_the_library_raises_for_it(tmp_path: Path) -> None:
    with pytest.raises(NotSettledError, match="lies on the floor"):
        flow.make(small(tmp_path, ON_THE_FLOOR), Folder(tmp_path / "out"), [FIGURES])


@pytest.mark.parametrize(
    "arguments",
    [
        ["make", "small.yaml", "--parts", "hops"],
        ["sheets", "small.yaml", "--paper", "foolscap"],
        ["maquette", "small.yaml", "--scale", "1:0"],
        ["maquette", "small.yaml", "--process", "knitting"],
        ["maquette", "small.yaml", "--bed", "round"],
    ],
)
def test_an_option_that_cannot_be_is_status_2(cage3d: Caller, arguments: list[str]) -> None:
    cage3d.write()
    said = cage3d(*arguments)
    assert (said.status, said.out) == (2, "")
    assert "Traceback" not in said.err


def test_only_some_parts_of_the_model(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    keep_answers(monkeypatch)
    chosen = {part.name: part for part in results.results_showing(frozenset({"hoops"}), fine=True)}
    made = flow.make(small(tmp_path), Folder(tmp_path / "out"), [chosen["3D model"], chosen["page"]])
    assert (len(chosen), made.failed) == (len(results.RESULTS), ())
    glb = (tmp_path / "out/small-cage.glb").read_bytes()
    assert b'"hoop 2"' in glb
    assert b'"tape 1"' not in glb
    form_alone = results.results_showing(frozenset({"floor"}), fine=False)[1]
    assert [
        path.suffix for path in flow.make(small(tmp_path), Folder(tmp_path / "floor"), [form_alone]).written
    ] == [".glb"]


def test_a_miniature_asks_for_the_warnings_alone(cage3d: Caller) -> None:
    """What marks and pushes do stands nowhere in its files; whether the cage can hang another way is a warning."""

    def work(_settled: object) -> None:
        raise AssertionError("it was foretold")

    cage3d.monkeypatch.setattr(flow, "foretold", work)
    cage3d.monkeypatch.setattr(outlook, "second_way", lambda _settled: "it may hang lower")
    said = cage3d("maquette", cage3d.write(), "-o", "out")
    assert said.status == 0
    assert said.err == "Warning: It may hang lower.\n"


def test_maquette_in_its_scale(cage3d: Caller) -> None:
    said = cage3d("maquette", cage3d.write(), "--scale", "1:8", "--process", "powder", "-o", "out")
    assert said.status == 0
    assert {Path(line).name for line in said.out.split()} == {
        f"small-cage-1-8-powder.{kind}" for kind in ("txt", "3mf", "stl")
    }
    assert "not to be worn" in (cage3d.folder / "out/small-cage-1-8-powder.txt").read_text("utf-8")


def test_show_without_a_display_writes_a_picture(cage3d: Caller) -> None:
    for name in ("DISPLAY", "WAYLAND_DISPLAY"):
        cage3d.monkeypatch.delenv(name, raising=False)
    said = cage3d("show", cage3d.write())
    assert (said.status, said.err) == (0, "")
    picture = Path(said.out.strip())
    assert picture.name == "small-cage-three-quarter.png"
    assert picture.read_bytes().startswith(b"\x89PNG")


def test_show_with_a_display_opens_a_window_with_the_designs_name(cage3d: Caller) -> None:
    opened: list[str] = []
    cage3d.monkeypatch.setattr("cage3d.draw.window.display", lambda: True)
    cage3d.monkeypatch.setattr(
        "cage3d.draw.window.open_window", lambda _settled, title, _wearer: opened.append(title)
    )
    said = cage3d("show", cage3d.write())
    assert (said.status, said.out, opened) == (0, "", ["Small cage"])


def test_show_writes_a_picture_where_no_window_comes_up(cage3d: Caller) -> None:
    cage3d.monkeypatch.setenv("DISPLAY", ":987")  # a display that is not there
    cage3d.monkeypatch.delenv("WAYLAND_DISPLAY", raising=False)
    said = cage3d("show", cage3d.write())
    assert said.status == 0
    assert "no window" in said.err
    assert Path(said.out.strip()).read_bytes().startswith(b"\x89PNG")

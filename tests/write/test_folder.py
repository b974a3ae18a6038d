"""A folder of results overwrites only what is its own."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from cage3d.errors import OutputError
from cage3d.write.folder import MADE, Folder


def held(folder: Path) -> dict[str, bytes]:
    return {
        str(path.relative_to(folder)): path.read_bytes()
        for path in folder.rglob("*")
        if path.is_file() and path.name != MADE
    }


def test_writes_with_folders_between(tmp_path: Path) -> None:
    folder = Folder(tmp_path / "new" / "deep")
    written = folder.put({"a.txt": b"1", "tables/b.csv": b"2"})
    assert written == (tmp_path / "new/deep/a.txt", tmp_path / "new/deep/tables/b.csv")
    assert held(folder.path) == {"a.txt": b"1", "tables/b.csv": b"2"}


def test_overwrites_its_own(tmp_path: Path) -> None:
    folder = Folder(tmp_path)
    folder.put({"a.txt": b"1", "b.txt": b"1"})
    folder.put({"a.txt": b"2"})
    folder.put({"b.txt": b"3"})
    assert held(tmp_path) == {"a.txt": b"2", "b.txt": b"3"}


def test_leaves_somebody_elses_files_alone_and_then_writes_nothing(tmp_path: Path) -> None:
    (tmp_path / "b.txt").write_bytes(b"letters")
    (tmp_path / "c.txt").write_bytes(b"more letters")
    with pytest.raises(OutputError) as fault:
        Folder(tmp_path).put({"a.txt": b"1", "b.txt": b"2", "c.txt": b"3"})
    assert [problem.where for problem in fault.value.problems] == [
        str(tmp_path / "b.txt"),
        str(tmp_path / "c.txt"),
    ]
    assert held(tmp_path) == {"b.txt": b"letters", "c.txt": b"more letters"}


def test_leaves_what_was_changed_by_hand_alone(tmp_path: Path) -> None:
    folder = Folder(tmp_path)
    folder.put({"a.txt": b"1"})
    (tmp_path / "a.txt").write_bytes(b"1 and a note")
    with pytest.raises(OutputError, match="changed since"):
        folder.put({"a.txt": b"2"})
    assert held(tmp_path) == {"a.txt": b"1 and a note"}


def test_force_overwrites_and_then_it_is_our_own(tmp_path: Path) -> None:
    (tmp_path / "a.txt").write_bytes(b"letters")
    Folder(tmp_path, force=True).put({"a.txt": b"1"})
    Folder(tmp_path).put({"a.txt": b"2"})
    assert held(tmp_path) == {"a.txt": b"2"}


def test_goes_on_after_a_run_that_was_killed_before_its_list_was_written(tmp_path: Path) -> None:
    folder = Folder(tmp_path)
    folder.put({"a.txt": b"1"})
    (tmp_path / MADE).unlink()
    folder.put({"a.txt": b"1", "b.txt": b"2"})
    assert held(tmp_path) == {"a.txt": b"1", "b.txt": b"2"}


@pytest.mark.parametrize("listed", [b"", b"[1, 2]", b'{"sha256": 3}', b"\xff\xfe"])
def test_a_list_that_cannot_be_read_stops_it(tmp_path: Path, listed: bytes) -> None:
    (tmp_path / MADE).write_bytes(listed)
    with pytest.raises(OutputError, match="cannot be read"):
        Folder(tmp_path).put({"a.txt": b"1"})
    assert held(tmp_path) == {}
    Folder(tmp_path, force=True).put({"a.txt": b"1"})
    assert held(tmp_path) == {"a.txt": b"1"}


def test_a_file_in_place_of_the_folder(tmp_path: Path) -> None:
    (tmp_path / "out").write_bytes(b"a file")
    with pytest.raises(OutputError):
        Folder(tmp_path / "out").put({"a.txt": b"1"})
    assert (tmp_path / "out").read_bytes() == b"a file"


def test_a_folder_in_place_of_a_file(tmp_path: Path) -> None:
    (tmp_path / "a.txt").mkdir()
    with pytest.raises(OutputError):
        Folder(tmp_path).put({"a.txt": b"1"})


def test_the_list_is_the_same_for_the_same_files(tmp_path: Path) -> None:
    Folder(tmp_path / "one").put({"b.txt": b"2", "a.txt": b"1"})
    Folder(tmp_path / "two").put({"a.txt": b"1", "b.txt": b"2"})
    one, two = ((tmp_path / name / MADE).read_bytes() for name in ("one", "two"))
    assert one == two
    assert list(json.loads(one)["sha256"]) == ["a.txt", "b.txt"]

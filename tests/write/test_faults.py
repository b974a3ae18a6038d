"""Every call by which a folder of results is written, failing in every way, at every place."""

from __future__ import annotations

import errno
import io
import os
import signal
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest

from cage3d.errors import OutputError
from cage3d.write.folder import MADE, OLD, Folder, Run

EIGHT = ("EACCES", "EPERM", "EROFS", "ENOSPC", "EDQUOT", "EIO", "EMFILE", "ENOMEM")
ERRORS = [getattr(errno, name) for name in EIGHT if hasattr(errno, name)]
CALLS = ["open", "write", "fsync", "rename", "replace", "mkdir"]
NAMES = ("report.txt", "cage.glb", "tables/cutting.csv", "tables/fitting-record.csv")
HERS = {"notes.txt": b"her notes", "tables/fitting-record.csv": b"her measures", "tables/mine.csv": b"hers"}


@pytest.fixture(autouse=True)
def quick_disk(monkeypatch: pytest.MonkeyPatch) -> None:
    """A power cut cannot be tried here, and thousands of real syncs take minutes."""
    monkeypatch.setattr(os, "fsync", lambda _handle: None)


class Injected(io.FileIO):
    """A file whose writes are counted with the other calls."""

    def __init__(self, handle: int, mode: str, hit: Callable[[str], None]) -> None:
        super().__init__(handle, mode)
        self.hit = hit

    def write(self, data: Any) -> int:
        self.hit("write")
        return super().write(data) or 0


@contextmanager
def failing(call: str, at: int, error: int) -> Iterator[list[str]]:
    """The call number `at` of this kind raises."""
    seen: list[str] = []

    def hit(name: str) -> None:
        if name == call:
            seen.append(name)
            if len(seen) == at + 1:
                raise OSError(error, os.strerror(error))

    def counted(name: str, real: Callable[..., Any]) -> Callable[..., Any]:
        def replacement(*arguments: Any, **named: Any) -> Any:
            hit(name)
            return real(*arguments, **named)

        return replacement

    with pytest.MonkeyPatch.context() as patch:
        for name in CALLS:
            if name != "write":
                patch.setattr(os, name, counted(name, getattr(os, name)))
        real = os.fdopen
        patch.setattr(os, "fdopen", lambda handle, mode: Injected(handle, mode, hit) if "w" in mode else
                      real(handle, mode))  # fmt: skip
        yield seen


def generation(cage: str) -> dict[str, bytes]:
    names = (*NAMES, f"{cage}.png")
    return {name: f"{name} of {cage}, {'x' * 3000}".encode() for name in names}


def run(cage: str) -> Run:
    parts = dict.fromkeys(generation(cage), "all")
    return Run(cage, parts, frozenset({"all"}), frozenset({"tables/fitting-record.csv"}))


def put(folder: Path, cage: str) -> None:
    Folder(folder).put(generation(cage), run(cage))


def prepare(folder: Path, state: str) -> None:
    """A new folder, one with a generation, or one that she has worked in."""
    if state == "new":
        return
    put(folder, "first")
    if state == "hers":
        for name, data in HERS.items():
            (folder / name).write_bytes(data)


def held(folder: Path) -> dict[str, bytes]:
    return {str(path.relative_to(folder)): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


def expected(cage: str, state: str, older: bool) -> dict[str, bytes]:
    """What a folder holds after a run that went through, without the record."""
    files = generation(cage)
    if state == "hers":
        files["tables/fitting-record-2.csv"] = files["tables/fitting-record.csv"]
        files |= HERS
    if older:
        files[f"{OLD}/first.png"] = generation("first")["first.png"]
    return files


def calls_of(tmp_path: Path, state: str, call: str) -> int:
    folder = tmp_path / f"count-{state}-{call}"
    prepare(folder, state)
    with failing(call, -1, 0) as seen:
        put(folder, "second")
    return len(seen)


@pytest.mark.parametrize("state", ["new", "first", "hers"])
@pytest.mark.parametrize("call", CALLS)
def test_no_fault_leaves_two_generations(tmp_path: Path, call: str, state: str) -> None:
    count = calls_of(tmp_path, state, call)
    if call != "mkdir" or state != "hers":
        assert count > 0
    for at in range(count):
        for error in ERRORS:
            folder = tmp_path / f"{at}-{error}"
            prepare(folder, state)
            before = held(folder)
            with failing(call, at, error):
                try:
                    put(folder, "second")
                    went_through = True  # what only makes a rename last, or sweeps, may fail
                except OutputError:
                    went_through = False
            if not went_through:
                assert held(folder) == before, (call, at, errno.errorcode[error])
            put(folder, "third")
            after = held(folder)
            after.pop(MADE)
            wanted = expected("third", state, state != "new")
            if went_through:
                wanted[f"{OLD}/second.png"] = generation("second")["second.png"]
            assert after == wanted, (call, at, errno.errorcode[error])


def forked_and_killed(folder: Path, at: int) -> bool:
    """Puts the second generation in a process that is killed at its call number `at`; whether it got there."""
    child = os.fork()
    if child == 0:
        count = 0

        def counted(real: Callable[..., Any]) -> Callable[..., Any]:
            def call(*arguments: Any, **named: Any) -> Any:
                nonlocal count
                count += 1
                if count == at:
                    os.kill(os.getpid(), signal.SIGKILL)
                return real(*arguments, **named)

            return call

        for name in ("open", "rename", "replace", "fsync", "unlink", "mkdir"):
            setattr(os, name, counted(getattr(os, name)))
        try:
            put(folder, "second")
        finally:
            os._exit(0)
    _, status = os.waitpid(child, 0)
    return os.WIFSIGNALED(status)


@pytest.mark.skipif(os.name != "posix", reason="kills by signal")
@pytest.mark.parametrize("state", ["new", "first", "hers"])
def test_a_kill_anywhere_leaves_whole_files_and_the_next_run_goes_through(tmp_path: Path, state: str) -> None:
    whole = {*generation("first").values(), *generation("second").values(), *HERS.values()}
    at = 1
    while True:
        folder = tmp_path / str(at)
        prepare(folder, state)
        if not forked_and_killed(folder, at):
            break
        there = held(folder)
        assert {data for name, data in there.items() if not Path(name).name.startswith((".", MADE))} <= whole
        put(folder, "third")
        after = held(folder)
        after.pop(MADE)
        current = {name: data for name, data in after.items() if not name.startswith(OLD)}
        assert current == expected("third", state, False), at
        at += 1
    assert at > 20


@pytest.mark.skipif(os.name != "posix", reason="forks")
@pytest.mark.parametrize("runs", [2, 4])
def test_of_runs_at_once_each_goes_through_or_is_told(tmp_path: Path, runs: int) -> None:
    for turn in range(10):
        folder = tmp_path / str(turn)
        children = []
        for number in range(runs):
            child = os.fork()
            if child == 0:
                try:
                    put(folder, f"cage-{number}")
                    os._exit(0)
                except OutputError as fault:
                    os._exit(1 if "another run" in str(fault) else 2)
                except BaseException:
                    os._exit(3)
            children.append(child)
        ends = [os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) for child in children]
        assert set(ends) <= {0, 1}
        assert 0 in ends
        now = {name: data for name, data in held(folder).items() if not name.startswith(OLD)}
        now.pop(MADE)
        assert any(now == generation(f"cage-{number}") for number in range(runs))


def test_a_second_run_is_told(tmp_path: Path) -> None:
    with Folder(tmp_path).held(), pytest.raises(OutputError, match="another run of cage3d is writing"):
        put(tmp_path, "second")
    put(tmp_path, "second")


@pytest.mark.skipif(os.name != "posix", reason="links, pipes")
@pytest.mark.parametrize("kind", ["link", "dangling", "pipe", "folder", "linked folder"])
@pytest.mark.parametrize("name", ["report.txt", MADE, "tables/cutting.csv", "tables/fitting-record.csv"])
def test_what_is_no_plain_file_is_refused_and_not_followed(tmp_path: Path, name: str, kind: str) -> None:
    folder, target = tmp_path / "out", tmp_path / "hers"
    target.mkdir()
    (target / "x").write_bytes(b"hers")
    place = folder / name
    if kind == "linked folder":
        if "/" not in name:
            return
        folder.mkdir()
        place.parent.symlink_to(target)
    else:
        place.parent.mkdir(parents=True)
        {"link": lambda: place.symlink_to(target / "x"), "dangling": lambda: place.symlink_to("nowhere"),
         "pipe": lambda: os.mkfifo(place), "folder": place.mkdir}[kind]()  # fmt: skip
    for force in (False, True):
        with pytest.raises(OutputError, match=r"is a link|is not a plain file|is a folder"):
            Folder(folder, force).put(generation("first"), run("first"))
    assert held(target) == {"x": b"hers"}
    assert not (folder / "cage.glb").exists()

"""Files appear whole or not at all."""

from __future__ import annotations

import errno
import os
import subprocess
import sys
from pathlib import Path

import pytest

from cage3d.errors import OutputError
from cage3d.write.files import write_whole

OLD, NEW = b"old", b"new" * 100_000


def run_child(code: str, path: Path) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-c", code, str(path)], capture_output=True, text=True, check=False
    )


def test_new_file_is_written_in_a_new_folder(tmp_path: Path) -> None:
    path = tmp_path / "a" / "b" / "file.bin"
    assert write_whole(path, NEW) == path
    assert path.read_bytes() == NEW
    assert os.listdir(path.parent) == ["file.bin"]


def test_new_file_is_readable_as_others_of_this_user(tmp_path: Path) -> None:
    (tmp_path / "plain").write_bytes(OLD)
    write_whole(tmp_path / "ours", NEW)
    assert (tmp_path / "ours").stat().st_mode == (tmp_path / "plain").stat().st_mode


def test_old_file_is_replaced_and_keeps_its_mode(tmp_path: Path) -> None:
    path = tmp_path / "file"
    path.write_bytes(OLD)
    path.chmod(0o640)
    write_whole(path, NEW)
    assert path.read_bytes() == NEW
    assert path.stat().st_mode & 0o777 == 0o640


def test_link_stays_a_link(tmp_path: Path) -> None:
    (tmp_path / "real").write_bytes(OLD)
    (tmp_path / "link").symlink_to(tmp_path / "real")
    write_whole(tmp_path / "link", NEW)
    assert (tmp_path / "link").is_symlink()
    assert (tmp_path / "real").read_bytes() == NEW


@pytest.mark.skipif(os.name != "posix", reason="limits of a process are set in another way")
def test_full_disk_leaves_the_old_file(tmp_path: Path) -> None:
    path = tmp_path / "file"
    path.write_bytes(OLD)
    child = run_child(
        "import resource, sys\n"
        "from cage3d.errors import OutputError\n"
        "from cage3d.write.files import write_whole\n"
        "resource.setrlimit(resource.RLIMIT_FSIZE, (1000, 1000))\n"
        "try:\n"
        "    write_whole(sys.argv[1], b'x' * 5000)\n"
        "except OutputError as fault:\n"
        "    print(fault)\n",
        path,
    )
    assert str(path) in child.stdout
    assert "is larger than this disk takes" in child.stdout
    assert path.read_bytes() == OLD
    assert os.listdir(tmp_path) == ["file"]


@pytest.mark.skipif(os.name != "posix", reason="no SIGKILL")
def test_killed_process_leaves_the_old_file(tmp_path: Path) -> None:
    path = tmp_path / "file"
    path.write_bytes(OLD)
    child = run_child(
        "import os, signal, sys\n"
        "from cage3d.write.files import write_whole\n"
        "os.fsync = lambda handle: os.kill(os.getpid(), signal.SIGKILL)\n"
        "write_whole(sys.argv[1], b'x' * 5000)\n",
        path,
    )
    assert child.returncode == -9
    assert path.read_bytes() == OLD


@pytest.mark.skipif(os.name != "posix" or os.geteuid() == 0, reason="root may write anywhere")
def test_folder_that_may_not_be_written(tmp_path: Path) -> None:
    tmp_path.chmod(0o500)
    try:
        with pytest.raises(OutputError, match="may not be written"):
            write_whole(tmp_path / "file", NEW)
    finally:
        tmp_path.chmod(0o700)


def test_name_of_a_folder(tmp_path: Path) -> None:
    with pytest.raises(OutputError, match="is a folder"):
        write_whole(tmp_path, NEW)


def test_folder_under_a_file(tmp_path: Path) -> None:
    (tmp_path / "file").write_bytes(OLD)
    with pytest.raises(OutputError, match="lies under a file"):
        write_whole(tmp_path / "file" / "inner", NEW)


def test_special_file_is_refused() -> None:
    with pytest.raises(OutputError, match="not a plain file"):
        write_whole(os.devnull, NEW)


def test_name_too_long(tmp_path: Path) -> None:
    with pytest.raises(OutputError, match="too long a name"):
        write_whole(tmp_path / ("n" * 300), NEW)


@pytest.mark.parametrize("number", [5, 32])
def test_file_that_windows_will_not_replace_while_a_program_has_it_open(
    number: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """5 and 32: access denied and sharing violation, in the list of Windows' system errors; Python makes both
    a PermissionError."""

    def held_open(*_: object) -> None:
        fault = PermissionError(errno.EACCES, "in use")
        fault.winerror = number  # type: ignore[misc]
        raise fault

    (tmp_path / "sheets.pdf").write_bytes(OLD)
    monkeypatch.setattr(os, "replace", held_open)
    with pytest.raises(OutputError, match=r"open in another program\..*Close it there"):
        write_whole(tmp_path / "sheets.pdf", NEW)
    assert (tmp_path / "sheets.pdf").read_bytes() == OLD
    assert os.listdir(tmp_path) == ["sheets.pdf"]

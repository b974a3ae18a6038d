"""Drawing in a child: what it is told, what is said of its end, and that it never outlives its parent."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from cage3d import process
from cage3d.draw import advice

LONGEST_WAIT = 60.0  # s, on a machine that does much else
ECHO = "import sys; from cage3d.process import received; sys.stdout.buffer.write(received())"
# A child that tells its number and then has nothing to do, and the parent that started it.
IDLE = (
    "import os, sys, time; from cage3d.process import end_with_parent, received\n"
    "received(); end_with_parent(); open(sys.argv[1], 'w').write(str(os.getpid())); time.sleep(60)"
)
PARENT = (
    # Tests that run without a terminal (nohup) may have been told to take no notice of its end.
    "import signal, sys; from cage3d.process import run_child\n"
    "hasattr(signal, 'SIGHUP') and signal.signal(signal.SIGHUP, signal.SIG_DFL)\n"
    f"run_child([sys.executable, '-c', {IDLE!r}, sys.argv[1]], b'job', off_screen=True)"
)


def test_a_job_larger_than_any_pipe_arrives_whole() -> None:
    job = os.urandom(3_000_000)
    done = process.run_child([sys.executable, "-c", ECHO], job, off_screen=True, longest_wait=60.0)
    assert (done.returncode, done.stdout) == (0, job)


@pytest.mark.skipif(os.name != "posix", reason="other systems have no such signals")
@pytest.mark.parametrize("deadly", ["SIGTERM", "SIGKILL", "SIGHUP"])
def test_a_child_ends_with_its_parent(tmp_path: Path, deadly: str) -> None:
    told = tmp_path / "child"
    with subprocess.Popen(
        [sys.executable, "-c", PARENT, str(told)], env=process.child_environment(True)
    ) as parent:
        child = int(waited_for(lambda: told.exists() and told.read_text("utf-8")))
        parent.send_signal(getattr(signal, deadly))
        parent.wait(LONGEST_WAIT)
    assert waited_for(lambda: not alive(child))


def waited_for(asked):  # type: ignore[no-untyped-def]
    """The first answer that is something."""
    end = time.monotonic() + LONGEST_WAIT
    while not (answer := asked()):
        assert time.monotonic() < end, "waited in vain"
        time.sleep(0.05)
    return answer


def alive(number: int) -> bool:
    """Whether a process runs: one that ended and that nobody asked about does not."""
    try:
        state = Path(f"/proc/{number}/stat").read_text("utf-8").rsplit(")", 1)[1].split()[0]
    except FileNotFoundError:
        return False
    return state != "Z"


def test_graphics_without_a_screen_are_asked_for_on_linux_only(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv("VTK_DEFAULT_OPENGL_WINDOW", raising=False)
    asked = {}
    for system in ("linux", "darwin", "win32"):
        monkeypatch.setattr(sys, "platform", system)
        asked[system] = process.child_environment(off_screen=True).get("VTK_DEFAULT_OPENGL_WINDOW")
    assert asked == {"linux": "vtkEGLRenderWindow", "darwin": None, "win32": None}


@pytest.mark.parametrize(
    ("name", "code", "said"),
    [
        ("posix", -11, "the graphics library crashed (signal 11)"),
        ("nt", 0xC0000005, "the graphics library crashed (0xC0000005)"),
        ("nt", -1, "the drawing process failed: why"),
        ("posix", 1, "the drawing process failed: why"),
    ],
)
def test_an_exit_code_is_read_as_the_system_means_it(
    monkeypatch: pytest.MonkeyPatch, name: str, code: int, said: str
) -> None:
    monkeypatch.setattr(process, "POSIX", name == "posix")
    assert process.how_it_ended(code, b"first\nwhy\n") == said


@pytest.mark.parametrize(
    ("system", "release", "said"),
    [
        ("linux", {"ID": "debian"}, "On Debian and Ubuntu: apt install libegl1 libgl1-mesa-dri"),
        ("linux", {"ID": "mint", "ID_LIKE": "ubuntu debian"}, "On Debian and Ubuntu: apt install"),
        ("linux", {"ID": "fedora"}, "On Fedora: dnf install mesa-libEGL mesa-dri-drivers"),
        ("linux", {"ID": "unheard-of"}, "Install Mesa"),
        ("darwin", {}, "logged in at the Mac"),
        ("win32", {}, "graphics card's own driver"),
    ],
)
def test_advice_is_for_the_system_it_is_given_on(
    monkeypatch: pytest.MonkeyPatch, system: str, release: dict[str, str], said: str
) -> None:
    monkeypatch.setattr(sys, "platform", system)
    monkeypatch.setattr("platform.freedesktop_os_release", lambda: release)
    assert said in advice.graphics_advice()
    assert "everything else" not in advice.graphics_advice()

"""The command `fitting`: what it prints, how it ends, and that nothing of it lives on."""

from __future__ import annotations

import os
import re
import signal
import socket
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path

import pytest
from cage3d_cli import fitting as command
from websockets.sync.client import ClientConnection, connect

from cage3d.live.serving import Fitting

SAMPLE = Path(__file__).parents[2] / "samples" / "a-short-petticoat.yaml"
ADDRESS = re.compile(r"http://127\.0\.0\.1:([0-9]+)/[\w-]{32}/\n")
posix = pytest.mark.skipif(os.name != "posix", reason="Ctrl-C is sent as a signal")


@contextmanager
def running(*given: str) -> Iterator[subprocess.Popen[str]]:
    line = [sys.executable, "-m", "cage3d", "fitting", *given]
    with subprocess.Popen(line, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True) as process:
        try:
            yield process
        finally:
            process.kill()


@contextmanager
def opened(address: str) -> Iterator[ClientConnection]:
    """A page whose cage hangs."""
    origin = address.rsplit("/", 2)[0]
    with connect(f"{address.replace('http', 'ws', 1)}live", origin=origin, max_size=None, proxy=None) as page:
        page.recv(timeout=100)
        yield page


@posix
def test_it_prints_its_address_and_ends_quietly():
    """With a page open, of which nothing is left."""
    with running(str(SAMPLE), "--no-browser") as process:
        assert process.stdout is not None
        line = process.stdout.readline()
        assert ADDRESS.fullmatch(line)
        with opened(line.strip()):
            children = children_of(process.pid)
            assert children
            process.send_signal(signal.SIGINT)
            out, said = process.communicate(timeout=60)
    assert (out, process.returncode) == ("", 0)
    assert said == "cage3d: Ctrl-C ends the fitting\n"
    assert gone(children)


@posix
def test_where_it_is_killed_its_processes_end_too():
    with running(str(SAMPLE), "--no-browser") as process:
        assert process.stdout is not None
        with opened(process.stdout.readline().strip()):
            children = children_of(process.pid)
            assert children
            process.kill()
            process.wait(60)
            assert gone(children)


def children_of(pid: int) -> list[str]:
    if not Path("/proc/self/stat").exists():
        pytest.skip("processes are counted on Linux")
    stats = [path.read_text("ascii", errors="replace") for path in Path("/proc").glob("[0-9]*/stat")]
    return [stat.split()[0] for stat in stats if stat.rpartition(")")[2].split()[1] == str(pid)]


def gone(pids: list[str]) -> bool:
    """Within a minute; what has ended and waits to be told of counts as gone."""
    end = time.monotonic() + 60.0
    left = pids
    while left and time.monotonic() < end:
        left = [pid for pid in left if lives(pid)]
        time.sleep(0.1)
    return not left


def lives(pid: str) -> bool:
    try:
        return (
            Path(f"/proc/{pid}/stat").read_text("ascii", errors="replace").rpartition(")")[2].split()[0]
            != "Z"
        )
    except OSError:
        return False


@posix
def test_a_port_in_use_is_told():
    with closing(socket.create_server(("127.0.0.1", 0))) as taken:
        port = taken.getsockname()[1]
        with running(str(SAMPLE), "--no-browser", "--port", str(port)) as process:
            assert process.stdout is not None
            found = ADDRESS.fullmatch(process.stdout.readline())
            process.send_signal(signal.SIGINT)
            _, said = process.communicate(timeout=60)
    assert found is not None
    assert int(found[1]) != port
    assert said.startswith(f"cage3d: port {port} is in use, so it is {found[1]}\n")


def test_a_file_that_is_not_there_is_told(tmp_path: Path):
    with running(str(tmp_path / "none.yaml"), "--no-browser") as process:
        out, said = process.communicate(timeout=60)
    assert (process.returncode, out) == (1, "")
    assert "there is no such file" in said
    assert "Traceback" not in said


def test_where_there_is_no_browser_the_address_is_said(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
):
    asked: list[str] = []
    monkeypatch.setattr(command.webbrowser, "open", lambda address: bool(asked.append(address)))
    served = Fitting(SAMPLE, SAMPLE)
    served.listening.close()
    command.open_page(served.gate.address)
    assert asked == [served.gate.address]
    assert capsys.readouterr().out == f"{served.gate.address}\n"

"""Work beside this process: the same answers, faults told, what fails done here, and nothing that outlives it."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from collections.abc import Callable
from functools import partial
from pathlib import Path

import pytest
from calling import SMALL
from made import hung_sample, sample

from cage3d import flow, results
from cage3d.beside import Beside
from cage3d.process import child_environment
from cage3d.report import measure
from cage3d.wording import listed
from cage3d.write.folder import Folder

# A process that lets a child sleep, which tells its number.
# Tests that run in the background of a shell inherit that Ctrl-C is ignored; this process takes it.
SLEEPS = """\
import signal, sys, time
signal.signal(signal.SIGINT, signal.default_int_handler)
from cage3d.beside import Beside
with Beside(2) as beside:
    beside.begin(exec, f"import os, time; open({sys.argv[1]!r}, 'w').write(str(os.getpid())); time.sleep(60)")
    time.sleep(60)
"""


def waited_for(holds: Callable[[], bool], else_said: str) -> None:
    end = time.monotonic() + 60.0
    while not holds():
        assert time.monotonic() < end, else_said
        time.sleep(0.05)


def test_a_child_answers_as_this_process_would() -> None:
    with Beside(2) as beside:
        assert not beside.alone
        asked = [beside.begin(listed, ["a", "b", "c"]), beside.begin(os.getpid), beside.begin(os.getpid)]
        assert asked[0]() == listed(["a", "b", "c"]) == "a, b and c"
        assert asked[1]() not in (os.getpid(), asked[2]())


def test_alone_everything_is_done_here() -> None:
    with Beside(1) as beside:
        assert beside.alone
        assert beside.begin(os.getpid)() == os.getpid()


def test_what_has_no_name_or_kills_its_child_is_done_here(tmp_path: Path) -> None:
    here = os.getpid()
    with Beside(2) as beside:
        assert beside.begin(lambda: os.getpid())() == here
        begun = tmp_path / "begun"
        ends_a_child = beside.begin(
            eval,
            f"'here' if __import__('os').getpid() == {here} else open({str(begun)!r}, 'w').close() or exit(7)",
        )
        waited_for(begun.exists, "the child did not begin")  # else it would be done here at once
        assert ends_a_child() == "here"


def test_what_is_raised_is_raised_here() -> None:
    with Beside(2) as beside, pytest.raises(ZeroDivisionError):
        beside.begin(divmod, 1, 0)()


def test_what_no_child_has_begun_is_done_here(tmp_path: Path) -> None:
    with Beside(2) as beside:
        begun = tmp_path / "begun"
        beside.begin(exec, f"import time; open({str(begun)!r}, 'w').close(); time.sleep(300)")
        waited_for(begun.exists, "the child did not begin")
        began = time.monotonic()
        assert beside.begin(os.getpid)() == os.getpid()
    assert time.monotonic() - began < 200.0  # the child was not waited for, neither then nor at the end


@pytest.mark.skipif(os.name != "posix", reason="other systems have no such signals")
@pytest.mark.parametrize(("deadly", "status"), [("SIGINT", -signal.SIGINT), ("SIGKILL", -signal.SIGKILL)])
def test_no_child_outlives_its_parent(tmp_path: Path, deadly: str, status: int) -> None:
    told = tmp_path / "child"
    with subprocess.Popen(
        [sys.executable, "-c", SLEEPS, str(told)], env=child_environment(False), stderr=subprocess.PIPE
    ) as parent:
        waited_for(lambda: told.exists() and bool(told.read_text("utf-8").strip()), "the child did not begin")
        child = int(told.read_text("utf-8"))
        parent.send_signal(getattr(signal, deadly))
        said = parent.communicate(timeout=60)[1].decode()
    assert parent.returncode == status
    assert said.count("Traceback") == (deadly == "SIGINT")
    waited_for(lambda: not Path(f"/proc/{child}").exists(), "the child lives on")


QUICK = tuple(part for part in results.RESULTS if part.name in ("report", "3D model", "miniature"))


def test_make_writes_the_same_and_says_the_same_beside_and_alone(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The miniature is made beside the rest, and how much the cage carries is found out there."""
    path = tmp_path / "small.yaml"
    path.write_text(SMALL + "skirt: {weight: 1 kg}\n", "utf-8")
    told: dict[int, list[object]] = {1: [], 2: []}
    made = {}
    for cores, said in told.items():
        monkeypatch.setattr(flow, "cores", partial(int, cores))
        made[cores] = flow.make(path, Folder(tmp_path / f"{cores}"), QUICK, said.append)
    assert told[1] == told[2]
    assert made[1].report == made[2].report
    assert made[1].report.carries is not None
    assert [one.name for one in made[1].written] == [two.name for two in made[2].written]
    assert [one.read_bytes() for one in made[1].written] == [two.read_bytes() for two in made[2].written]


def test_a_heavy_part_that_fails_leaves_the_others_standing_and_in_order() -> None:
    settled, _ = hung_sample(sample("a"))
    files = {"divided": divmod, "figures": results.figures, "one": one_file}
    parts = [results.Result(name, made, heavy=made is not one_file) for name, made in files.items()]
    with Beside(3) as beside:
        answers = results.files_of_all(parts, settled, measure(settled), beside, lambda _name: None)
    assert [list(files) for files, _ in answers] == [[], ["report.txt", "report.json"], ["one.txt"]]
    assert "by a fault of the tool (TypeError: unsupported operand" in str(answers[0][1][0])


def one_file(_settled: object, _report: object) -> results.Files:
    return {"one.txt": b"1"}

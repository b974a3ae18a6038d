"""How the command ends where its output, its pipe or its maker goes away: said once, quietly, with its status."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest
from calling import SMALL, Caller

from cage3d.draw.render import DrawError, pictures_in
from cage3d.process import run_child

COMMAND = [sys.executable, "-m", "cage3d_cli.main"]
pytestmark = pytest.mark.skipif(os.name != "posix", reason="signals and devices as POSIX has them")

# Tells when the command loads its first module from elsewhere, and then takes long over it.
LOADS_LONG = """
import sys, time
class Slow:
    def find_spec(self, name, *_):
        if name == "typer":
            print("begun", flush=True)
            time.sleep(50)
sys.meta_path.insert(0, Slow())
sys.argv = ["cage3d", "check", "small.yaml"]
from cage3d_cli.main import main
main()
"""


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="needs a device that is always full")
def test_output_that_does_not_fit_is_told() -> None:
    with open("/dev/full", "w", encoding="utf-8") as full:
        done = subprocess.run(
            [*COMMAND, "--help"], stdout=full, stderr=subprocess.PIPE, text=True, check=False
        )
    assert done.returncode == 1
    assert done.stderr.startswith("cage3d: what was to be printed did not get out (No space left on device).")
    assert done.stderr.count("\n") == 1


def test_a_reader_that_leaves_is_no_fault_to_tell() -> None:
    reading, writing = os.pipe()
    os.close(reading)
    done = subprocess.run(
        [*COMMAND, "--help"], stdout=writing, stderr=subprocess.PIPE, text=True, check=False
    )
    os.close(writing)
    assert (done.returncode, done.stderr) == (1, "")


def test_ctrl_c_while_modules_load_is_quiet(tmp_path: Path) -> None:
    (tmp_path / "small.yaml").write_text(SMALL, encoding="utf-8")
    begun = subprocess.Popen(
        [sys.executable, "-c", LOADS_LONG],
        cwd=tmp_path,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    )
    assert begun.stdout is not None
    assert begun.stdout.readline() == "begun\n"
    begun.send_signal(signal.SIGINT)
    said, told = begun.communicate(timeout=60)
    assert (begun.returncode, said, told) == (130, "", "")


def test_a_count_of_five_thousand_digits(cage3d: Caller) -> None:
    said = cage3d("new", "x.yaml", "--silhouette", "bell", "--waist", "26", "--waist-height", "41", "--hip", "none",
                  "--hem", "90", "--clearance", "8 to 10", "--hoops", "9" * 5000)  # fmt: skip
    assert said.status == 2
    assert "a whole number belongs here" in said.err
    assert len(said.err) < 200


def test_a_waist_beyond_all_measure(cage3d: Caller) -> None:
    said = cage3d("new", "x.yaml", "--silhouette", "bell", "--waist", "1e300", "--waist-height", "41", "--hip", "none",
                  "--hem", "1e301", "--clearance", "8 to 10", "--hoops", "4", "--tapes", "8", "--skirt",
                  "0")  # fmt: skip
    assert said.status == 1
    assert "no cage has this size" in said.err


@pytest.mark.parametrize("left", [b"", b"PK\x03\x04 cut off", b"no archive at all"])
def test_pictures_that_cannot_be_read(left: bytes) -> None:
    with pytest.raises(DrawError, match="left nothing to read"):
        pictures_in(left, 1)


def test_drawing_needs_no_folder_for_temporary_files(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("tempfile.tempdir", "/nowhere/at/all")
    monkeypatch.setenv("TMPDIR", "/nowhere/at/all")
    code = "import sys; from cage3d.process import received; sys.stdout.buffer.write(received())"
    assert run_child([sys.executable, "-c", code], b"job", off_screen=True).stdout == b"job"

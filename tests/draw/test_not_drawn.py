"""Where nothing can be drawn: one clear line, whatever became of the child that draws."""

from __future__ import annotations

import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pytest
from made import hung_sample, sample

from cage3d.draw import render
from cage3d.draw.pictures import draw_picture, draw_pictures
from cage3d.draw.render import DrawError
from cage3d.errors import NotSettledError

pytestmark = pytest.mark.judge  # the graphics libraries are not ours


def test_a_crash_becomes_one_line_that_names_the_packages(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(render, "CHILD", ("-c", "import os, signal; os.kill(os.getpid(), signal.SIGSEGV)"))
    with pytest.raises(DrawError) as caught:
        draw_picture(*hung_sample(sample("a")))
    assert "crashed (signal 11)" in str(caught.value)
    assert "libegl1 libgl1-mesa-dri" in str(caught.value)
    assert "\n" not in str(caught.value)


def test_the_drawing_process_loads_only_what_draws() -> None:
    """All that VTK and pyvista have takes longer to load than the first pictures take to draw."""
    asked = "import sys, cage3d.draw.child; print(*{'vtk', 'pyvista', 'matplotlib'} & set(sys.modules))"
    done = subprocess.run([sys.executable, "-c", asked], capture_output=True, text=True, check=True)
    assert done.stdout == "\n"


@pytest.mark.skipif(sys.platform != "linux", reason="the way Debian finds its graphics drivers")
def test_without_graphics_drivers_vtk_dies_and_we_do_not(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setenv("__EGL_VENDOR_LIBRARY_DIRS", str(tmp_path))
    with pytest.raises(DrawError, match="libegl1 libgl1-mesa-dri"):
        draw_picture(*hung_sample(sample("a")))


@pytest.mark.parametrize(
    ("child", "said"),
    [
        ("raise SystemExit('no such thing')", "failed: no such thing"),
        ("pass", "the drawing process failed"),
        ("import sys; sys.stdout.buffer.write(b'half a')", "left nothing to read"),
        ("import sys; sys.stdout.buffer.write(b'PK' + bytes(40))", "left nothing to read"),
        (
            "import sys, numpy as np; np.savez(sys.stdout.buffer, pixels_0=np.full((2000, 2000, 3), 255, np.uint8))",
            "drew nothing",
        ),
    ],
)
def test_every_other_failure_is_told(monkeypatch: pytest.MonkeyPatch, child: str, said: str) -> None:
    monkeypatch.setattr(render, "CHILD", ("-c", child))
    with pytest.raises(DrawError, match=said):
        draw_picture(*hung_sample(sample("a")))


def test_a_child_that_hangs_is_ended(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(render, "CHILD", ("-c", "import time; time.sleep(60)"))
    monkeypatch.setattr(render, "LONGEST_WAIT", 0.5)
    with pytest.raises(DrawError, match="did not finish"):
        draw_picture(*hung_sample(sample("a")))


def test_an_unsettled_cage_has_no_pictures() -> None:
    settled, report = hung_sample(sample("a"))
    with pytest.raises(NotSettledError, match="not settled"):
        draw_pictures(settled, replace(report, settled=False))

"""A whole `make`, killed at any moment: no file that no record knows, none of hers changed, then one generation."""

from __future__ import annotations

import os
import random
import signal
import subprocess
import sys
from pathlib import Path
from time import monotonic, sleep

import pytest
from calling import SMALL

from cage3d.write.folder import MADE, OLD
from cage3d.write.past import past_of

KILLS = 40
TO_THE_END = 8  # after every so many kills one run may end
HERS = {"notes.txt": "hem up 1/4 in\n", "tables/hers.csv": "1;2\n"}

pytestmark = pytest.mark.skipif(os.name != "posix", reason="kills by signal")


def start(folder: Path, number: int) -> subprocess.Popen[bytes]:
    """`make` of a cage that is another one each time, into the same folder."""
    design = folder / "small.yaml"
    design.write_text(SMALL.replace("{length: 62}", f"{{length: {60 + number / 8}}}"), encoding="utf-8")
    return subprocess.Popen(
        [sys.executable, "-m", "cage3d_cli.main", "make", str(design), "-o", str(folder / "out")],
        stdout=subprocess.PIPE, stderr=subprocess.PIPE,
    )  # fmt: skip


def made_whole(folder: Path, number: int) -> float:
    """s that a run takes now which nobody kills."""
    began = monotonic()
    ending = start(folder, number)
    _, said = ending.communicate()
    assert ending.returncode == 0, said.decode()
    return monotonic() - began


def listed(folder: Path) -> set[str]:
    """What lies in the folder, without what is hers, old, or hidden."""
    names = {str(path.relative_to(folder)) for path in folder.rglob("*") if path.is_file()}
    return {name for name in names if not name.startswith((OLD, ".")) and "/." not in name} - set(HERS)


@pytest.mark.slow
def test_a_make_killed_at_forty_moments(tmp_path: Path) -> None:
    out = tmp_path / "out"
    for name, text in HERS.items():
        (out / name).parent.mkdir(parents=True, exist_ok=True)
        (out / name).write_text(text, encoding="utf-8")
    lasts = made_whole(tmp_path, 0)
    chance, killed = random.Random(4), 0
    for number in range(1, KILLS + 1):
        child = start(tmp_path, number)
        # Half of them in the last third, where files are written.
        waited = lasts * (chance.uniform(0.0, 1.0) if number % 2 else chance.uniform(0.67, 1.0))
        sleep(waited)
        child.send_signal(signal.SIGKILL)
        child.communicate()
        killed += child.returncode == -signal.SIGKILL
        lasts = lasts if child.returncode else min(lasts, waited)  # the machine has less to do than before
        past, _ = past_of(out, False)
        known = set(past.names) | {MADE}
        assert listed(out) <= known, "a file that no record knows"
        if number % TO_THE_END == 0:
            lasts = made_whole(tmp_path, number)
            past, _ = past_of(out, False)
            assert len(past.generations) == 1
            assert listed(out) == set(past.generations[0].sha256) | {MADE}
        assert all((out / name).read_text(encoding="utf-8") == text for name, text in HERS.items())
    assert killed >= KILLS // 2  # else the runs had mostly ended before they could be killed

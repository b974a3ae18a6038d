"""cage3d vary, as a maker uses it."""

from __future__ import annotations

import csv
import io
import json
import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest
from calling import ON_THE_FLOOR, SMALL, Caller

INCH = 0.0254
WORDS = ("hoop 2 length", "62..66", "by", "2")


def test_a_table_on_the_screen(cage3d: Caller):
    cage3d.write()
    said = cage3d("vary", "small.yaml", *WORDS)
    assert (said.status, said.err) == (0, "")
    assert "Hoop 2 length from 62 in to 66 in by 2 in." in said.out
    assert "3 variants, all of them hang." in said.out
    rows = [line.split() for line in said.out.splitlines() if line.strip().startswith(("62 ", "64 ", "66 "))]
    assert [row[0] for row in rows] == ["62", "64", "66"]
    assert list(cage3d.folder.iterdir()) == [cage3d.folder / "small.yaml"]


def test_what_is_told_is_what_check_tells_of_that_design(cage3d: Caller):
    cage3d.write()
    cage3d.write(SMALL.replace("length: 62", "length: 64"), "middle.yaml")
    told = json.loads(cage3d("vary", "small.yaml", *WORDS, "--json").out)
    checked = json.loads(cage3d("check", "middle.yaml", "--json").out)
    figures = told["variants"][1]["figures"]
    assert told["variants"][1]["written"] == ["64 in"]
    assert told["variants"][1]["values"] == [pytest.approx(64 * INCH)]
    assert figures["hem_lowest_m"] == pytest.approx(checked["hem"]["lowest_m"], abs=1e-6)
    assert figures["weight_kg"] == pytest.approx(checked["weight_kg"], abs=1e-6)
    for number, hoop in enumerate(checked["hoops"], start=1):
        for name in ("height_left_m", "width_front_back_m", "tilt_deg", "strain_used"):
            assert figures[f"hoop_{number}_{name}"] == pytest.approx(hoop[name], abs=2e-6)
    assert told["sure"]["variant"] == 1
    assert told["sure"]["hem_lowest_m"] == pytest.approx(checked["certainty"]["hem_lowest_m"], rel=1e-3)


def test_a_folder_of_what_came_of_it(cage3d: Caller):
    cage3d.write()
    said = cage3d("vary", "small.yaml", *WORDS, "-o", "out")
    assert said.status == 0
    written = [line for line in said.out.splitlines() if line.startswith("out")]
    assert sorted(path.name for path in (cage3d.folder / "out").iterdir()) == sorted(
        ["cage3d-made.json", *(Path(line).name for line in written)]
    )
    text = (cage3d.folder / "out" / "small-cage-varied.csv").read_text("utf-8")
    rows = list(csv.DictReader(io.StringIO(text)))
    assert [row["hoop 2 length (in)"] for row in rows] == ["62", "64", "66"]
    told = json.loads(cage3d("vary", "small.yaml", *WORDS, "--json").out)
    for row, variant in zip(rows, told["variants"], strict=True):
        assert float(row["hem lowest (in)"]) * INCH == pytest.approx(
            variant["figures"]["hem_lowest_m"], abs=2e-5
        )


def test_one_that_cannot_be_stands_in_its_place(cage3d: Caller):
    cage3d.write()
    said = cage3d("vary", "small.yaml", "hoop 2 length", "10..62", "by", "26", "-o", "out")
    assert said.status == 0
    assert "3 variants, " in said.out
    assert "No answer at 10 in: hoops[1].length: hoop 2 is shorter" in " ".join(said.out.split())
    text = (cage3d.folder / "out" / "small-cage-varied.csv").read_text("utf-8")
    first, *_, last = csv.DictReader(io.StringIO(text))
    assert first["hem lowest (in)"] == ""
    assert "hoops[1].length" in first["no answer because"]
    assert last["no answer because"] == ""


@pytest.mark.parametrize(
    ("text", "words", "status", "said"),
    [
        (SMALL, ["hop 2 length", "62..66", "by", "2"], 2, "Did you mean hoop 2 length?"),
        (SMALL, ["tie 1 length", "62..66", "by", "2"], 2, "the design has no ties"),
        (SMALL, ["hip", "38..40", "by", "1"], 2, "the design does not say this figure"),
        (SMALL, ["hoop 2 length", "66..62", "by", "2"], 2, "Write 62..66 by 2"),
        (SMALL, ["hoop 2 length", "62..66"], 2, "the step is missing"),
        (SMALL, ["hoop 2 length", "1..10000001", "by", "1"], 2, "10000001 variants, "),
        (SMALL, ["hoop 2 length", "62..66", "by", "2", "--elephants"], 2, "no such option"),
        (SMALL, ["hoop 2 length", "1..3", "by", "1"], 1, "none of the 3 variants hangs: hoops[1].length"),
        (SMALL.replace("62", "x"), [*WORDS], 1, "small.yaml:8:"),
        (ON_THE_FLOOR, [*WORDS], 3, "none of the 3 variants hangs"),
    ],
)
def test_what_cannot_be_asked(cage3d: Caller, text: str, words: list[str], status: int, said: str):
    cage3d.write(text)
    found = cage3d("vary", "small.yaml", *words, "-o", "out")
    assert found.status == status
    assert said in " ".join(found.err.split())
    assert not (cage3d.folder / "out").exists()


def test_so_many_are_settled_where_that_is_said(cage3d: Caller, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr("cage3d_cli.vary.MOST_UNASKED", 2)
    cage3d.write()
    assert cage3d("vary", "small.yaml", *WORDS).status == 2
    assert cage3d("vary", "small.yaml", *WORDS, "--yes").status == 0


# `vary` that tells when its first stretch is kept, and then waits to be stopped: how quick it is does not matter.
WAITS = """
import sys, time
from cage3d.results.varied import KeptOnDisk
keep = KeptOnDisk.put
def put(self, key, data):
    keep(self, key, data)
    print("kept", flush=True)
    time.sleep(100)
KeptOnDisk.put = put
from cage3d_cli.main import main
sys.argv[0] = "cage3d"
main()
"""


@pytest.mark.skipif(os.name != "posix", reason="ends a process by a signal")
@pytest.mark.parametrize("sign", [signal.SIGKILL, signal.SIGINT])
def test_a_sweep_that_was_stopped_goes_on(cage3d: Caller, sign: signal.Signals):
    """Stopped once the first of two stretches is kept: that file stays, and is gone when all is written."""
    cage3d.write()
    words = ["vary", "small.yaml", "hoop 2 length", "60..64", "by", "1/4", "-o", "out", "--jobs", "1"]
    child = subprocess.Popen(
        [sys.executable, "-c", WAITS, *words], stdout=subprocess.PIPE, stderr=subprocess.PIPE
    )
    kept = cage3d.folder / "out" / ".cage3d-kept"
    assert child.stdout is not None
    assert child.stdout.readline() == b"kept\n"
    child.send_signal(sign)
    _, err = child.communicate()
    assert list((cage3d.folder / "out").glob("*.csv")) == []
    assert len(list(kept.glob("*.npz"))) == 1
    if sign == signal.SIGINT:
        assert child.returncode == 130
        assert err.decode().splitlines() == [
            "cage3d: stopped. out keeps what is settled; the same command goes on from there"
        ]
    else:
        assert child.returncode == -signal.SIGKILL
        said = cage3d(*words)
        assert (said.status, "17 variants, all of them hang." in said.out) == (0, True)
        assert not kept.exists()

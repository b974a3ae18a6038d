"""cage3d true, as a maker uses it: a small cage with an error of which she knows nothing."""

from __future__ import annotations

import csv
import io
import json
from functools import cache
from pathlib import Path

import numpy as np
import pytest
from calling import SMALL, Caller

from cage3d.design.read import read_text
from cage3d.settle import SettledCage, settle
from cage3d.shape.lay_out import lay_out
from cage3d.units import show_inches

INCH = 0.0254
KEPT = ".small.cage3d-errors.npz"
SKIRT = SMALL + "skirt: {weight: 1 kg}\n"


@cache
def hung(*changes: tuple[int, int, float]) -> SettledCage:
    """The small cage with marks (tape, hoop, in too low) elsewhere: the drop above longer, that below shorter."""
    drops = [[9.0, 8.0] for _ in range(6)]
    for tape, hoop, low in changes:
        drops[tape - 1][hoop - 1] += low
        if hoop == 1:
            drops[tape - 1][1] -= low
    settled = settle(lay_out(read_text(SKIRT.replace("drops: [9, 8]", f"drops: {drops}"), "small.yaml")))
    assert settled.trusted
    return settled


def filled(settled: SettledCage, skip: int = 0) -> str:
    """A record of all heights to 1/8 in, but for the first few."""
    heights = settled.positions[settled.cage.connectivity.crossing, 2]
    rows = [
        [hoop + 1, tape + 1, show_inches(heights[hoop, tape], 1 / 8)]
        for hoop in range(2)
        for tape in range(6)
    ]
    text = io.StringIO()
    csv.writer(text).writerows([["hoop", "tape", "measured_height_in"], *rows[skip:]])
    return text.getvalue()


SIGNATURES: dict[str, bytes] = {}


@pytest.fixture
def true(cage3d: Caller) -> Caller:
    """With the design in the folder, and beside it what an earlier test settled of its errors."""
    cage3d.write(SKIRT)
    if SIGNATURES:
        (cage3d.folder / KEPT).write_bytes(SIGNATURES["small"])
    return cage3d


def told(caller: Caller, record: str, *options: str, status: int = 0) -> dict:  # type: ignore[type-arg]
    caller.write(record, "filled.csv")
    said = caller("true", "small.yaml", "filled.csv", "--json", *options)
    assert said.status == status, said.err
    SIGNATURES.setdefault("small", (caller.folder / KEPT).read_bytes())
    return json.loads(said.out)  # type: ignore[no-any-return]


def test_a_mark_that_sits_too_low_is_found_and_mended(true: Caller) -> None:
    """The correction is done on a cage of its own, and its hem hangs level then."""
    answer = told(true, filled(hung((5, 2, -0.75))))
    first = answer["causes"][0]
    assert (first["what"], first["tape"], first["hoop"]) == ("mark", 5, 2)
    assert first["change_m"] == pytest.approx(-0.75 * INCH, abs=INCH / 8)
    assert first["text"].startswith("the mark of hoop 2 on tape 5 is 3/4 in too high")
    assert sum(cause["probability"] for cause in answer["causes"]) > 0.9
    (move,) = answer["mending"]["corrections"]
    assert (move["tape"], move["hoop"]) == (5, 2)
    mended = hung((5, 2, round((move["move_m"] / INCH - 0.75) * 8) / 8))
    hem = mended.cage.connectivity.hoop_nodes[-1]
    assert np.ptp(mended.positions[hem, 2] - hung().positions[hem, 2]) < INCH / 4
    assert answer["mending"]["hem_off_m"] > INCH / 4 > answer["mending"]["mended_off_m"]


def test_a_cage_as_written_wants_no_mending(true: Caller) -> None:
    answer = told(true, filled(hung()))
    assert answer["nothing_wrong"] > 0.5
    assert answer["mending"]["corrections"] == []
    said = true("true", "small.yaml", "filled.csv")
    assert "nothing needs mending" in " ".join(said.out.split())


def test_what_cannot_be_moved_is_left(true: Caller) -> None:
    answer = told(true, filled(hung((5, 2, -0.75))), "--keep", "tape 5")
    assert answer["causes"][0]["tape"] == 5
    assert all(move["tape"] != 5 for move in answer["mending"]["corrections"])
    assert true("true", "small.yaml", "filled.csv", "--keep", "tape 9").status == 2


def test_half_a_record_serves_and_what_lacks_is_told(true: Caller) -> None:
    answer = told(true, filled(hung((5, 2, -0.75)), skip=6))
    assert answer["causes"][0]["tape"] == 5
    assert answer["heights_not_read"] == [{"hoop": 1, "tape": tape} for tape in range(1, 7)]
    assert answer["ask"] is not None
    said = true("true", "small.yaml", "filled.csv")
    assert "Lacking: heights of hoop 1." in said.out
    assert answer["ask"]["text"] in " ".join(said.out.split())


def test_readings_in_centimetres_are_noticed(true: Caller) -> None:
    heights = hung((5, 2, -0.75)).positions[hung().cage.connectivity.crossing, 2]
    rows = [
        f"{hoop + 1},{tape + 1},{heights[hoop, tape] * 100:.1f}\n" for hoop in range(2) for tape in range(6)
    ]
    answer = told(true, "hoop,tape,measured_height_in\n" + "".join(rows))
    assert answer["noticed"][0]["kind"] == "unit"
    assert (answer["causes"][0]["tape"], answer["causes"][0]["hoop"]) == (5, 2)


def test_what_nothing_explains_has_a_status_of_its_own(true: Caller) -> None:
    rows = [f"{1 + place // 6},{1 + place % 6},{24 + place * 37 % 19}\n" for place in range(12)]
    answer = told(true, "hoop,tape,measured_height_in\n" + "".join(rows), status=4)
    assert answer["explained"] is False
    assert answer["mending"] is None
    assert "Nothing explains these readings" in true("true", "small.yaml", "filled.csv").out


def test_what_is_kept_is_the_same_answer_and_hangs_on_the_design(true: Caller, tmp_path: Path) -> None:
    """A file that is broken, or of another design, is worked out anew; one that is whole is not touched."""
    first = told(true, filled(hung((5, 2, -0.75))))
    kept = tmp_path / KEPT
    whole = kept.read_bytes()
    assert told(true, filled(hung((5, 2, -0.75)))) == first
    true.write(SKIRT.replace("# none", "") + "notes: hers\n")
    told(true, filled(hung((5, 2, -0.75))))
    assert kept.read_bytes() == whole


def test_faults_are_told_as_json_too(true: Caller) -> None:
    true.write("hoop,tape,measured_height_in\n1,1,abc\n", "filled.csv")
    said = true("true", "small.yaml", "filled.csv", "--json")
    assert said.status == 1
    assert json.loads(said.out)["problems"][0]["line"] == 2
    assert true("true", "small.yaml", "none.csv").status == 1
    assert true("true", "small.yaml", "filled.csv", "--level", "3 kg").status == 2


def mended(true: Caller) -> float:
    """Tape 5 cannot be moved, so other marks are; the design as mended and a record of it lie in the folder then.

    m, how far its hem is out of its line, as told.
    """
    true.write(filled(hung((5, 2, -0.75))), "filled.csv")
    options = ("--keep", "tape 5", "-o", "mended.yaml", "--json")
    told = json.loads(true("true", "small.yaml", "filled.csv", *options).out)
    assert told["written"] == ["mended.yaml", "mended-fitting-record.csv"]
    return float(told["written_hem_off_m"])


def fill_record(true: Caller) -> None:
    """The record of the mended cage with what it should show, as second.csv."""
    settled = settle(lay_out(read_text((true.folder / "mended.yaml").read_text("utf-8"), "mended.yaml")))
    heights = settled.positions[settled.cage.connectivity.crossing, 2]
    rows = list(csv.DictReader(io.StringIO((true.folder / "mended-fitting-record.csv").read_text("utf-8"))))
    for row in rows:
        row["measured_height_in"] = show_inches(heights[int(row["hoop"]) - 1, int(row["tape"]) - 1], 1 / 8)
    text = io.StringIO()
    table = csv.DictWriter(text, rows[0])
    table.writeheader()
    table.writerows(rows)
    true.write(text.getvalue(), "second.csv")


def test_what_is_mended_is_a_design_with_a_record_of_its_own(true: Caller) -> None:
    told = mended(true)
    design = read_text((true.folder / "mended.yaml").read_text("utf-8"), "mended.yaml")
    marks = np.array(design.tapes.drops) / INCH * 8
    assert marks == pytest.approx(np.round(marks), abs=1e-9)
    hem = hung().cage.connectivity.hoop_nodes[-1]
    hangs = settle(lay_out(design)).positions[hem, 2] - hung().positions[hem, 2]
    assert told == pytest.approx(np.ptp(hangs), abs=2e-5)
    assert round(design.tapes.drops[4][1] / INCH, 3) == 7.25  # the error is in it: 8 in less 3/4
    fill_record(true)
    wrong = true("true", "small.yaml", "second.csv")
    assert wrong.status == 1
    assert "second.csv:2:" in wrong.err
    assert "this record is of another cage" in wrong.err
    assert (
        true("true", "small.yaml", "filled.csv", "-o", "mended.yaml").status == 1
    )  # nothing is written over


@pytest.mark.slow
def test_measure_and_mend_and_measure_again(true: Caller) -> None:
    """The second hanging is held against the design as mended, and nothing is wrong any more."""
    assert mended(true) < INCH / 4
    fill_record(true)
    assert json.loads(true("true", "mended.yaml", "second.csv", "--json").out)["nothing_wrong"] > 0.4


def test_measured_without_its_skirt(true: Caller) -> None:
    """Bare, the cage hangs as the bare cage does: nothing is wrong with it."""
    bare = settle(lay_out(read_text(SMALL, "small.yaml")))
    true.write(filled(bare), "filled.csv")
    answer = json.loads(true("true", "small.yaml", "filled.csv", "--bare", "--json").out)
    assert answer["nothing_wrong"] > 0.4

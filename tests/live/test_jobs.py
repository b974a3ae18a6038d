"""What is made, fetched and sought from the page, each as its process does it."""

from __future__ import annotations

import io
import zipfile
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from calling import foretold_in_part

from cage3d import flow
from cage3d.errors import CageError, OutputError
from cage3d.live import curve, job
from cage3d.live.curve import curve_of, steps_round
from cage3d.live.fitting import Opened, open_file
from cage3d.live.joined import joined
from cage3d.live.seeking import sought_values
from cage3d.report import measure
from cage3d.results import RESULTS
from cage3d.settle import settle
from cage3d.shape.lay_out import lay_out
from cage3d.study.sweeping.vary import vary
from cage3d.units import INCH
from cage3d.write.folder import Folder

SAMPLE = Path(__file__).parents[2] / "samples" / "a-short-petticoat.yaml"
HOOP = "hoops[3].length"


@pytest.fixture(scope="module")
def opened() -> Opened:
    return open_file(SAMPLE)


@pytest.fixture
def told() -> list[str]:
    return []


def test_the_way_back_changes_what_is_free_alone(opened: Opened, told: list[str]):
    """Drop 1 of all tapes made 2 in longer hangs the hem too low by that; set free, it comes back to 17 1/2 in."""
    rows = [f"tapes.drops[{tape}][0]" for tape in range(8)]
    values, said = sought_values(opened, dict.fromkeys(rows, "10 1/4"), rows, told.append)
    assert set(values) <= set(rows)
    assert said.startswith("Reached: every figure within 3.2 mm")
    hem = measure(settle(lay_out(opened.design_with(values)))).hoops[3]
    heights = [hem.height_front_m, hem.height_left_m, hem.height_back_m, hem.height_right_m]
    assert heights == pytest.approx([17.5 * INCH] * 4, abs=INCH / 8)
    assert told[-1] == "rounding"


@pytest.mark.parametrize("free", [None, [], "hoops", [7], ["skirt.weight"], ["hoops[9].length"]])
def test_nothing_free_is_told(opened: Opened, told: list[str], free: Any):
    with pytest.raises(CageError, match="nothing is set free"):
        sought_values(opened, {}, free, told.append)


def test_nothing_wanted_is_told(tmp_path: Path, told: list[str]):
    path = tmp_path / "petticoat.yaml"
    lines = SAMPLE.read_text("utf-8").splitlines()
    path.write_text("\n".join(line for line in lines if not line.startswith("wanted")), "utf-8")
    with pytest.raises(CageError, match="does not say what is wanted"):
        sought_values(open_file(path), {}, [HOOP], told.append)


def test_a_curve_lies_about_where_the_slider_stands(opened: Opened):
    """Its way is 59 1/4 to 88 3/4 in, two fifths of the half 5.9 in, a third of that 2 in by whole eighths."""
    steps = steps_round([opened.controls[HOOP]], [74 * INCH])
    assert [steps.number(place) for place in range(steps.count)] == pytest.approx(
        [68, 70, 72, 74, 76, 78, 80]
    )
    assert not steps.change


def test_a_curve_of_several_is_of_changes(opened: Opened):
    places = [f"tapes.drops[{tape}][0]" for tape in range(8)]
    steps = steps_round([opened.controls[place] for place in places], [8.25 * INCH] * 8)
    assert steps.change
    assert steps.number(3) == 0.0
    assert steps.written(6)[places[7]] == f"{8.25 + steps.number(6):g} in"


def test_a_curve_of_little_never_goes_below_nothing(opened: Opened):
    steps = steps_round([opened.controls["steel.thickness"]], [0.05e-3])
    assert steps.number(0) > 0.0


def test_a_curve_is_drawn(opened: Opened, told: list[str], monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr(curve, "EITHER_WAY", 1)
    svg, said = curve_of(opened, {"hoops[2].length": "70"}, [HOOP], told.append)
    assert said == "Hoop 4 length from 68 1/8 in to 79 7/8 in by 5 7/8 in: 3 of 3 hang."
    assert svg.startswith("<svg ")
    assert "Hem above the floor" in svg


def test_a_curve_of_a_wave_moves_each_by_its_share(
    opened: Opened, told: list[str], monkeypatch: pytest.MonkeyPatch
):
    """Eight even tapes, the first half a step from centre front: cos 22.5 deg of the way at the two in front and the
    two behind, which is the whole, and cos 67.5 deg at the others, which is tan 22.5 deg of that."""
    some = np.tan(np.pi / 8.0)
    shares = dict(enumerate([-1.0, -some, some, 1.0, 1.0, some, -some, -1.0]))
    joint = next(
        one
        for one in joined(opened.design, list(opened.controls.values()))
        if one["name"] == "Drop 4 back against front"
    )
    sweeps: list[Any] = []
    monkeypatch.setattr(curve, "vary", lambda sweep: sweeps.append(sweep) or vary(sweep))
    monkeypatch.setattr(curve, "EITHER_WAY", 1)
    svg, said = curve_of(opened, {}, joint["places"], told.append, joint["shares"])
    assert said.startswith("Drop 4 back against front from -")
    assert said.endswith("3 of 3 hang.")
    assert "Drop 4 back against front, in" in svg
    (steps,) = sweeps[0].steps
    for tape, share in shares.items():
        place = f"tapes.drops[{tape}][3]"
        inches = float(steps.written(2)[place].split()[0]) - opened.controls[place].value / INCH
        assert inches == pytest.approx(share * steps.number(2), abs=1e-5)


@pytest.mark.parametrize("shares", [[1.0], [0.5] * 8, "1", [None] * 8, {}])
def test_a_curve_of_shares_that_no_slider_has_is_told(opened: Opened, told: list[str], shares: Any):
    places = [f"tapes.drops[{tape}][0]" for tape in range(8)]
    with pytest.raises(CageError, match="nothing here that can be moved"):
        curve_of(opened, {}, places, told.append, shares)


@pytest.mark.parametrize("places", [[None], [], "hoops", ["name"], [[]], [7]])
def test_a_curve_of_no_slider_is_told(opened: Opened, told: list[str], places: Any):
    with pytest.raises(CageError, match="nothing here that can be moved"):
        curve_of(opened, {}, places, told.append)


def test_what_is_made_is_of_what_the_page_shows(
    opened: Opened, told: list[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    monkeypatch.setattr(job, "RESULTS", RESULTS[:1])
    monkeypatch.setattr(flow, "foretold", foretold_in_part)
    monkeypatch.setattr(flow, "with_capacity", lambda report, _settled: report)
    head, data = job.make(opened, {HOOP: "80"}, {}, Folder(tmp_path / "petticoat"), told.append)
    assert data is None
    assert head["text"].startswith(
        "2 files written into petticoat. They are of values that are not saved yet."
    )
    assert " 80 " in (tmp_path / "petticoat" / "report.txt").read_text("utf-8")
    assert told == ["settling the cage", "report"]


def test_nothing_of_hers_is_written_over(
    opened: Opened, told: list[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    monkeypatch.setattr(job, "RESULTS", RESULTS[:1])
    (tmp_path / "report.txt").write_text("hers", "utf-8")
    with pytest.raises(OutputError):
        job.make(opened, {}, {}, Folder(tmp_path), told.append)
    assert (tmp_path / "report.txt").read_text("utf-8") == "hers"


def test_everything_comes_as_one(
    opened: Opened, told: list[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    monkeypatch.setattr(job, "RESULTS", RESULTS[1:2])
    head, data = job.download(opened, {}, {"what": "everything"}, Folder(tmp_path), told.append)
    assert head["name"] == "short-petticoat-on-four-hoops.zip"
    assert data is not None
    with zipfile.ZipFile(io.BytesIO(data)) as packed:
        names = packed.namelist()
        assert packed.read(names[0])[:4] == b"glTF"
    assert names == ["short-petticoat-on-four-hoops.glb", "short-petticoat-on-four-hoops.stl"]
    assert not list(tmp_path.iterdir())


def test_the_same_files_are_the_same_zip():
    assert job.zipped({"b": b"2", "a": b"1"}) == job.zipped({"a": b"1", "b": b"2"})

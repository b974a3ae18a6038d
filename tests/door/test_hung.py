"""A hung cage: its figures have the right signs, sides and units, and a cage that is no answer gives none."""

from __future__ import annotations

import math
from pathlib import Path
from typing import Any

import pytest
from calling import ON_THE_FLOOR, SMALL
from kept import keep_answers

import cage3d
from cage3d import CageError, HungCage, NotSettledError, OutputError, WrittenCage, flow
from cage3d.design.read import text_as_written
from cage3d.results import RESULTS
from cage3d.write.folder import Folder

NODES = 32
INCH = 0.0254
NAME = "A <i> & 'cage'"


def written(text: str) -> WrittenCage:
    return WrittenCage(*text_as_written(text, "small.yaml"))


@pytest.fixture(autouse=True)
def _kept(monkeypatch: pytest.MonkeyPatch) -> None:
    keep_answers(monkeypatch)


@pytest.fixture(scope="module")
def small() -> HungCage:
    return written(SMALL).settle(NODES)


@pytest.fixture(scope="module")
def askew() -> HungCage:
    """Tape 2 of six stands at her left, 90 degrees from the front: there the cage hangs 2 in higher."""
    cage = written(SMALL.replace("Small cage", NAME)).with_drop(1, 7, tape=2)
    return cage.with_values({"stage": {"door": 15}, "skirt": {"weight": "1 kg"}}).settle(NODES)


@pytest.fixture(scope="module")
def fallen() -> HungCage:
    return written(ON_THE_FLOOR).settle(NODES)


def test_heights_and_widths_of_a_round_cage(small: HungCage) -> None:
    """By hand: the band's lower edge is at 41 in, a 26 in circle; a 9 in tape goes out to a 52 in circle."""
    out, drop = (52 - 26) / (2 * math.pi), 9.0
    height = 41.0 - math.sqrt(drop**2 - out**2)
    assert small.trusted
    assert small.heights("in").shape == (2, 4)
    assert small.heights("in")[0] == pytest.approx([height] * 4, abs=0.1)
    assert small.widths("in").mean(axis=1) == pytest.approx([52 / math.pi, 62 / math.pi], abs=0.1)
    assert small.tilt == pytest.approx([0.0, 0.0], abs=0.5)
    assert small.crossings.shape == (2, 6, 3)
    assert small.crossings[0, :, 2] == pytest.approx([height * INCH] * 6, abs=2.5e-3)


@pytest.mark.parametrize(
    ("unit", "one"), [("m", 1), ("cm", 100), ("mm", 1000), ("inches", 1 / INCH), ("ft", 1 / 12 / INCH)]
)
def test_heights_in_every_unit(small: HungCage, unit: str, one: float) -> None:
    assert small.heights(unit) == pytest.approx(small.heights() * one, abs=2e-6 * one)


def test_sides_are_hers(askew: HungCage) -> None:
    front, left, back, right = askew.heights("in")[0]
    assert left > front + 0.3
    assert front > right + 0.3
    assert front == pytest.approx(back, abs=0.05)
    assert askew.tilt[0] > 1.0
    x, y, _ = askew.crossings[0].T
    assert x[1] > 0.1
    assert x[4] < -0.1
    assert y[0] < 0.0 < y[2]


def test_what_is_given_away_can_be_changed_without_harm(small: HungCage) -> None:
    before = small.crossings
    before[:] = 0.0
    small.heights()[:] = 0.0
    assert small.crossings[:, :, 2].min() > 0.3
    assert small.heights().min() > 0.3


def test_it_prints_in_five_lines(small: HungCage, askew: HungCage) -> None:
    lines = str(small).splitlines()
    assert len(lines) == 5
    assert lines[0] == "Small cage: 2 hoops on 6 tapes, settled and stable."
    assert [line.split()[0] for line in lines[1:4]] == ["Hem", "Whole", "Hangs"]
    assert lines[4] == "No warnings."
    lines = str(askew).splitlines()
    assert len(lines) == 5
    assert lines[4].startswith("Warning 1: ")
    assert max(map(len, lines)) <= 100
    assert lines[4].endswith(f" And {len(askew.warnings) - 1} more.") == (len(askew.warnings) > 1)


def test_warnings_are_those_of_check(askew: HungCage) -> None:
    assert any("the door" in warning for warning in askew.warnings)
    assert askew.warnings == tuple(warning.text for warning in flow.foretold(askew.settled).warnings)
    assert all(
        f"Warning {n}: {warning[:30]}" in askew.text for n, warning in enumerate(askew.warnings, start=1)
    )
    assert len(askew.data["warnings"]) == len(askew.warnings)
    assert askew.data["version"] == 1


def test_in_a_notebook_it_is_drawn_with_its_table(askew: HungCage) -> None:
    page = askew._repr_html_()
    assert page.count("<svg") == 1
    assert page.count("<tr>") == 1 + 2
    assert "A &lt;i&gt; &amp; &#x27;cage&#x27;" in page
    assert "<i>" not in page
    assert "<script" not in page
    assert "Mind this" in page


def test_a_cage_that_is_no_answer_gives_no_figures(fallen: HungCage, tmp_path: Path) -> None:
    assert not fallen.trusted
    asked: list[Any] = [
        fallen.heights, fallen.widths, lambda: fallen.tilt, lambda: fallen.crossings, lambda: fallen.text,
        lambda: fallen.data, lambda: fallen.write(tmp_path / "out"),
    ]  # fmt: skip
    for ask in asked:
        with pytest.raises(NotSettledError, match="hoop 2 lies on the floor"):
            ask()
    assert not (tmp_path / "out").exists()
    assert "NOT STABLE" in repr(fallen)
    assert "hoop 2 lies on the floor" in repr(fallen)
    assert "Hem" not in repr(fallen)
    assert "hoop 2 lies on the floor" in fallen._repr_html_()
    assert "<svg" not in fallen._repr_html_()
    assert "<table" not in fallen._repr_html_()


def test_finer_is_more_nodes_and_nearly_the_same(small: HungCage) -> None:
    fine = small.cage.settle(nodes=64)
    assert [len(hoop.settled.positions) for hoop in (small, fine)] == [2 * 36 + 6, 2 * 66 + 6]
    assert fine.crossings == pytest.approx(small.crossings, abs=1e-3)


def test_written_as_make_writes_it(tmp_path: Path) -> None:
    file = tmp_path / "small.yaml"
    file.write_text(SMALL, encoding="utf-8")
    made = cage3d.read(file).settle().write(tmp_path / "one", ["report"])
    cage3d.make(file, tmp_path / "two", ["report"])
    flow.make(file, Folder(tmp_path / "three"), RESULTS[:1])
    texts = {(tmp_path / folder / "report.txt").read_bytes() for folder in ("one", "two", "three")}
    assert len(texts) == 1
    assert repr(made) == "2 files written"
    (tmp_path / "one" / "report.txt").write_text("mine", encoding="utf-8")
    with pytest.raises(OutputError, match="changed since"):
        cage3d.read(file).with_hoop(1, length=53).settle(NODES).write(tmp_path / "one", "report")


def test_a_part_that_there_is_not(small: HungCage, tmp_path: Path) -> None:
    with pytest.raises(CageError, match=r"pge: there is no such part.*page"):
        small.write(tmp_path / "out", ["report", "pge"])
    assert not (tmp_path / "out").exists()


@pytest.mark.parametrize("unit", ["elephants", "kg", "", "2 in", "/2 in", None])
def test_a_unit_that_there_is_not(small: HungCage, unit: Any) -> None:
    with pytest.raises(CageError, match="no unit of length"):
        small.heights(unit)


def test_nothing_shows_itself_in_pages(small: HungCage) -> None:
    settled = small.settled
    things = (
        settled, settled.state, settled.cage, settled.cage.parameters, settled.cage.connectivity,
        settled.cage.design, small.report, small, small.cage,
    )  # fmt: skip
    assert [thing for thing in things if len(repr(thing)) > 600] == []
    assert "positions=(78, 3)" in repr(settled.state)

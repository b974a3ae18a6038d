"""Joins that slide: both ends are the cages with those lengths written, and are told everywhere."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path
from types import SimpleNamespace

import numpy as np
import pytest
from petticoat import GOOD, problems_of

from cage3d.design.read import read_text
from cage3d.flow import report_for
from cage3d.foresee.slid import slid
from cage3d.live import foreteller
from cage3d.mesh.dressing import dressing_steps
from cage3d.page.page import page_html
from cage3d.report import measure, with_stiffness
from cage3d.report.foreseen import GiveReport, SlidReport
from cage3d.report.slides import slide_lines, under_a_hand, with_slides
from cage3d.settle import SettledCage, settle
from cage3d.shape.lay_out import lay_out
from cage3d.sheets.assembly.steps import assembly_steps
from cage3d.sheets.making import prepared
from cage3d.sheets.steel import cutting_list

NODES = 48
SLIDING = "{length: 74, join: {overlap: 2, least: 66, most: 80}}"
SKIRT = "skirt: {weight: 0.8 kg}\nhem: {clearance: [17, 18 3/4]}\n"


@cache
def hung(hem: str = SLIDING) -> SettledCage:
    text = GOOD.replace("{length: 74}", hem) + SKIRT
    return settle(lay_out(read_text(text, "petticoat.yaml"), NODES))


@pytest.mark.parametrize(("place", "written"), [
    (0, "{length: 66, join: {overlap: 16}}"),
    (1, "{length: 80, join: {overlap: 2}}"),
])  # fmt: skip
def test_an_end_is_the_cage_with_that_length_written(place: int, written: str) -> None:
    """14 in shorter than its most, 14 in more lie double."""
    end = slid(hung())[place].settled
    assert end.positions == pytest.approx(hung(written).positions, abs=1e-6)


def test_as_written_it_is_the_cage_with_a_longer_lap() -> None:
    assert hung().positions == pytest.approx(hung("{length: 74, join: {overlap: 8}}").positions, abs=1e-9)
    assert slid(hung("{length: 74, join: {overlap: 8}}")) == ()


def test_the_report_tells_both_ends() -> None:
    report = with_slides(measure(hung()), hung())
    first, shortest, longest = slide_lines(report)
    assert first == "Hoop 4 slides from 66 in to 80 in; all other figures are of the lengths written."
    told = measure(slid(hung())[0].settled)
    assert report.slid[0].hem_lowest_m == pytest.approx(told.hem.lowest_m)
    assert shortest.startswith("At its shortest: the hem ")
    assert longest.startswith("At its longest: the hem ")
    assert report_for((), hung()).slid == report.slid
    moves = report.slid[1].moves
    assert moves is not None
    hem = slid(hung())[1].settled.positions[hung().cage.connectivity.hoop_nodes[3]]
    before = hung().positions[hung().cage.connectivity.hoop_nodes[3]]
    assert moves[3].width_side_side_m == pytest.approx(np.ptp(hem[:, 0]) - np.ptp(before[:, 0]), abs=1e-3)


def test_both_ends_are_pushed_too() -> None:
    """As the cages with those lengths written are; a longer hem hoop of the same steel gives more."""
    report = with_slides(measure(hung()), hung())
    for end, written in zip(
        report.slid, ("{length: 66, join: {overlap: 16}}", "{length: 80, join: {overlap: 2}}"), strict=True
    ):
        told = with_stiffness(measure(hung(written)), hung(written)).gives
        assert [one.side for one in end.gives] == [one.side for one in told]
        for one, other in zip(end.gives, told, strict=True):
            assert one.dent_m == pytest.approx(other.dent_m, abs=2e-3)
    for shorter, longer in zip(report.slid[0].gives, report.slid[1].gives, strict=True):
        assert (shorter.dent_m or 0.0) < (longer.dent_m or 1.0)


def test_what_a_hand_does_at_an_end_in_words() -> None:
    """The most of all sides; where one goes further than can be told, the sides at which it does."""

    def end(*dents: float | None) -> SlidReport:
        gives = tuple(
            GiveReport(side, 2.0, 0.1, dent, 0.1) for side, dent in zip(("front", "left"), dents, strict=True)
        )
        return replace(with_slides(measure(hung()), hung()).slid[0], gives=gives)

    report = measure(hung())
    assert under_a_hand(report, end(0.0254, 0.0508)).endswith("gives up to 2 in, at the left")
    assert under_a_hand(report, end(0.0254, None)).endswith("gives over 6 in, at the left")


def test_a_fitting_tells_both_ends_too(monkeypatch: pytest.MonkeyPatch) -> None:
    for name in ("with_marks", "with_certainty", "with_stiffness", "with_second_way", "with_finer"):
        monkeypatch.setattr(foreteller, name, lambda report, _settled: report)
    line = SimpleNamespace(waiting=lambda: False)
    assert len(foreteller.foretold(hung(), line).slid) == 2  # type: ignore[arg-type]


def test_what_is_to_be_minded_at_one_end_alone_is_told_of_it() -> None:
    wide = hung("{length: 74, join: {overlap: 2, least: 66, most: 90}}")
    codes = {warning.code: warning.text for warning in with_slides(measure(wide), wide).warnings}
    new = set(codes) - {warning.code for warning in measure(wide).warnings}
    assert new, "a hem of 90 in on drops of 5 in hangs otherwise than wanted"
    assert all(codes[code].startswith("With the hoops that slide at their ") for code in new)


def test_what_is_to_be_minded_of_the_cage_as_written_is_told_once() -> None:
    text = (GOOD.replace("{length: 74}", SLIDING) + SKIRT).replace("[17, 18 3/4]", "[8, 10]")
    settled = settle(lay_out(read_text(text, "petticoat.yaml"), NODES))
    codes = [warning.code for warning in with_slides(measure(settled), settled).warnings]
    assert codes.count("hem_clearance") == 1


def test_page_and_model_have_a_stage_for_each_end() -> None:
    steps = dressing_steps(hung())
    assert [step.name for step in steps] == ["bare", "hoops at their shortest", "hoops at their longest"]
    page = page_html(hung(), measure(hung()), steps=steps).decode()
    for name in ("bare", "hoops at their shortest", "hoops at their longest", "as worn"):
        assert f'data-stage="{name}"' in page


def test_the_steel_is_cut_for_the_most_and_marked_for_both_ends() -> None:
    """80 + 2 in; worn at 74 in 8 lie double, at 66 in 16."""
    cut = cutting_list(hung().cage)[3]
    assert cut.cut == pytest.approx(82 * 0.0254)
    marks = {}
    for mark in cut.marks:
        for name in mark.names:
            marks.setdefault(name, []).append(round(mark.at / 0.0254, 3))
    assert (marks["longest"], marks["shortest"], marks["other end"]) == ([2, 80], [16, 66], [8, 74])
    making = prepared(hung().cage, measure(hung()), None)
    words = " ".join(f"{step.title} {step.text}" for step in assembly_steps(making))
    assert "Hoop 4 slides Crimp a keeper on each end" in words
    assert "the 3 joins of hoops 1–3" in words
    assert "Stitch each of the 24 casings" in words


WRONG = {
    "least above most": (
        "{overlap: 2, least: 80, most: 66}",
        "more than the most, 66 in",
        "shorter length as least",
    ),
    "no most": ("{overlap: 2, least: 66}", "most is not written", "Write most too"),
    "no least": ("{overlap: 2, most: 80}", "least is not written", "Write least too"),
    "a tube": ("{tube: 1, least: 66, most: 80}", "only ends that overlap", "overlap: 2 in"),
    "no lap": ("{least: 66, most: 80}", "only ends that overlap", "overlap: 2 in"),
    "a hair": ("{overlap: 2, least: 74, most: 74 1/8}", "slide by less than", "Leave least and most out"),
    "not between": ("{overlap: 2, least: 60, most: 70}", "this is not between", "at which it is to be worn"),
    "mostly double": (
        "{overlap: 2, least: 50, most: 80}",
        "lie double, more than half of it",
        "longer least",
    ),
    "out of reach": ("{overlap: 2, least: 74, most: 104}", "with hoops slid to their longest", ""),
}


@pytest.mark.parametrize("name", WRONG)
def test_what_cannot_slide(name: str) -> None:
    join, why, try_this = WRONG[name]
    problems = problems_of(GOOD.replace("{length: 74}", f"{{length: 74, join: {join}}}"))
    told = [problem for problem in problems if why in problem.why]
    assert told, problems
    assert told[0].line == 14
    assert try_this in told[0].try_this


def test_what_cloth_carries_cannot_slide() -> None:
    text = (Path(__file__).parents[2] / "samples" / "i-gored-petticoat.yaml").read_text(encoding="utf-8")
    old = "{length: 90, join: {overlap: 2}}"
    assert old in text
    (problem,) = problems_of(text.replace(old, "{length: 90, join: {overlap: 2, least: 85, most: 94}}"))
    assert "hoop 5 slides, and the cloth round it has one girth" in problem.why

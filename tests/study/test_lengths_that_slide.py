"""A hoop whose join slides keeps between its ends where lengths are sought, rounded, graded and mended."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from pathlib import Path

import numpy as np
import pytest
from calling import SMALL

from cage3d.design.models import Design
from cage3d.design.read import read_text, text_as_written
from cage3d.settle import settle
from cage3d.shape.lay_out import lay_out
from cage3d.study.aiming.aim import Aimed, aim, ways_within
from cage3d.study.aiming.freedom import Freedom, freedom_of
from cage3d.study.aiming.rounding import by_fractions, ends_of, in_turn, rounded
from cage3d.study.aiming.unmet import reasons
from cage3d.study.aiming.wishes import Wish
from cage3d.study.aiming.writing import text_with
from cage3d.study.figures import Figure, figures_of
from cage3d.study.grading.grade import How, graded, pattern_of
from cage3d.study.grading.wearers import wearers_of
from cage3d.study.numbers import bounds_of, number_names
from cage3d.study.truing.again import as_mended
from cage3d.study.truing.causes import HOOP, Cause
from cage3d.study.truing.mending import Move
from cage3d.study.truing.words import move_in_words

INCH = 0.0254
NODES = 32
WAYS = ("side to side", "front to back")


def sliding(length: str = "62", least: str = "60", most: str = "63") -> str:
    """Hoop 2 slides."""
    join = f"{{overlap: 2, least: {least}, most: {most}}}"
    return SMALL.replace("{length: 62}", f"{{length: {length}, join: {join}}}")


def design_of(text: str) -> Design:
    return read_text(text, "small.yaml")


@cache
def as_wide_as(length: float) -> tuple[Wish, ...]:
    """The widths of hoop 2 where it is so long, in."""
    settled = settle(lay_out(design_of(SMALL.replace("{length: 62}", f"{{length: {length}}}")), NODES))
    figures = [Figure(1, way) for way in WAYS]
    return tuple(map(Wish, figures, figures_of(settled, figures)))


def length_alone(design: Design) -> Freedom:
    """That of hoop 2 and nothing else."""
    return freedom_of(design, keep=["drop", "hoop 1"])


def aimed_at(text: str, length: float, free: Callable[[Design], Freedom] = freedom_of) -> Aimed:
    design = design_of(text)
    return aim(design, as_wide_as(length), free(design), NODES)


def length_of(design: Design) -> float:
    """in, of hoop 2."""
    return design.hoops[1].length / INCH


def test_a_length_is_sought_no_farther_than_it_slides() -> None:
    """Widths as of 66 in want 3 in more than it can be slid out; it ends at 63, and that is why."""
    found = aimed_at(sliding(), 66.0)
    assert length_of(found.design) == pytest.approx(63.0, abs=0.02)
    assert found.design.hoops[1].slide == design_of(sliding()).hoops[1].slide
    (why,) = reasons(found, INCH / 8, NODES)
    assert why == "Hoop 2 slides no longer than 63 in: write another most in its join, or want less of it."


def test_it_can_be_slid_from_its_very_end() -> None:
    """Worn at its longest, and wanted an inch narrower; then at its shortest, and wanted wider."""
    assert length_of(aimed_at(sliding("63"), 61.5, length_alone).design) == pytest.approx(61.5, abs=0.25)
    assert length_of(aimed_at(sliding("60"), 61.5, length_alone).design) == pytest.approx(61.5, abs=0.25)


def test_the_way_to_either_end() -> None:
    """From 62 in: 2 in shorter, 1 in longer; of hoop 1, 52 in, half of it either way."""
    design = design_of(sliding())
    least, most = ways_within(design, freedom_of(design))
    assert np.array([least[:2], most[:2]]) / INCH == pytest.approx(np.array([[-26, -2], [26, 1]]))
    place = number_names(design).index("hoop 2 length")
    assert [bound[place] / INCH for bound in bounds_of(design)] == pytest.approx([60, 63])


def test_it_is_rounded_to_a_fraction_within() -> None:
    """Slid out as far as 63.07 in it is cut to 63, the last eighth before, and not to 63 1/8."""
    design = design_of(sliding(most="63.07"))
    found = aimed_at(sliding(most="63.07"), 66.0)
    assert length_of(found.design) == pytest.approx(63.07, abs=0.02)
    rule = rounded(found, design, freedom_of(design), NODES, INCH / 8, INCH / 8)
    assert length_of(rule.design) == pytest.approx(63.0, abs=1e-6)


def test_fractions_between_ends_by_hand() -> None:
    """Of 60 to 63.07 in the eighths 60 to 63; a slide in which no whole foot lies stays at 62."""
    design, groups = design_of(sliding(most="63.07")), [[0], [1]]
    eighths = ends_of(design, groups, np.full(2, INCH / 8))
    assert np.array(eighths) / INCH == pytest.approx(np.array([[-np.inf, 60], [np.inf, 63]]))
    feet = ends_of(design_of(sliding(least="61")), groups, np.full(2, 12 * INCH))
    assert [end[1] / INCH for end in feet] == pytest.approx([62, 62])


def test_rounding_in_turn_and_by_fractions_stay_between() -> None:
    """One number, a figure that goes with it, 10 off: without ends it would go all ten."""
    ends = (np.array([-2.0]), np.array([3.0]))
    at, slope, one = np.zeros(1), np.ones((1, 1)), np.ones(1)
    assert by_fractions(at, at, slope, np.array([-10.0]), one, ends) == pytest.approx([3.0])
    assert by_fractions(at, at, slope, np.array([10.0]), one, ends) == pytest.approx([-2.0])
    assert by_fractions(at, at, slope, np.array([-10.0]), one) == pytest.approx([10.0])
    assert in_turn(np.array([4.4]), slope, np.zeros(1), one, ends) == pytest.approx([3.0])
    assert in_turn(np.array([4.4]), slope, np.zeros(1), one) == pytest.approx([4.0])


def test_a_hoop_that_is_made_longer_takes_its_slide_along() -> None:
    """From 62 in (60 to 63): 63 is within; 65 is 3 in more, so that it then slides from 63 to 66."""
    hoop = design_of(sliding()).hoops[1]
    within, beyond = hoop.of_length(63 * INCH).slide, hoop.of_length(65 * INCH).slide
    assert within == hoop.slide
    assert beyond is not None
    assert np.array(beyond) / INCH == pytest.approx([63, 66])


def test_its_ends_are_written_where_they_moved() -> None:
    text = sliding()
    design, data = text_as_written(text, "small.yaml")
    longer = [design.hoops[0], design.hoops[1].of_length(65 * INCH)]
    after = design.model_copy(update={"hoops": tuple(longer)})
    assert "{length: 65, join: {overlap: 2, least: 63, most: 66}}" in text_with(
        text, data, design, after, INCH / 8, ""
    )


def test_a_larger_wearer_gets_it_slid_out_or_longer(tmp_path: Path) -> None:
    """The rules take both; of her whose hip needs more than it slides the ends went along by as much."""
    path = tmp_path / "small.yaml"
    path.write_text(
        sliding("58", "57", "61").replace("41 1/2,", "41 1/2, hip: 40, hip_drop: 8,"), encoding="utf-8"
    )
    pattern = pattern_of(path)
    table = "code,waist,hip\nsame,26,40\nlarger,40,62\n"
    found = [graded(pattern, row, How()).design.hoops[1] for row in wearers_of(table, "w.csv", "in")]
    assert found[0].length == pytest.approx(58 * INCH)
    longer = found[1].length - found[0].length
    assert longer > 3 * INCH
    assert found[0].slide is not None
    assert found[1].slide is not None
    assert np.array(found[1].slide) - np.array(found[0].slide) == pytest.approx([longer, longer])


def test_a_hung_cage_is_mended_by_sliding() -> None:
    """An inch too short is slid out; what is believed to be 3 in longer than written is written with its ends."""
    design = design_of(sliding())
    short, long = Move(Cause(HOOP, hoop=1), INCH), Move(Cause(HOOP, hoop=1), 3 * INCH)
    assert move_in_words(design, short) == "Slide hoop 2 longer by 1 in"
    assert move_in_words(design, Move(Cause(HOOP, hoop=1), -INCH)) == "Slide hoop 2 shorter by 1 in"
    slide = as_mended(design, [long]).hoops[1].slide
    assert slide is not None
    assert np.array(slide) / INCH == pytest.approx([63, 66])

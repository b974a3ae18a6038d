"""What is free to change, by name."""

from __future__ import annotations

import numpy as np
import pytest
from settled import sample_path

from cage3d.design.read import read
from cage3d.study.aiming.freedom import freedom_of
from cage3d.study.numbers import bounds_of, number_names, numbers_of, with_numbers

A, D = read(sample_path("a")), read(sample_path("d"))


def test_names_and_numbers_stand_in_one_order():
    """Four hoops on eight tapes: lengths, then each tape's drops, then ties."""
    names = number_names(A)
    assert len(names) == 4 + 8 * 4
    assert (names[2], names[4], names[-1]) == ("hoop 3 length", "tape 1 drop 1", "tape 8 drop 4")
    numbers = numbers_of(A)
    assert numbers[[2, 5]] == pytest.approx([69 * 0.0254, 6 * 0.0254])
    assert number_names(D)[-2] == f"tie {len(D.ties)} length"


def test_numbers_go_back_where_they_came_from():
    numbers = numbers_of(D) + np.arange(len(numbers_of(D))) * 1e-3
    changed = with_numbers(D, numbers)
    assert np.array_equal(numbers_of(changed), numbers)
    assert changed.hoops[1].length == pytest.approx(D.hoops[1].length + 1e-3)
    assert changed.tapes.drops[1][0] == pytest.approx(D.tapes.drops[1][0] + 1e-3 * (len(D.hoops) * 2))


def test_waves_round_her():
    """Eight tapes between the quarters: tape 1 stands at 22.5 degrees, tape 4 at 157.5."""
    freedom = freedom_of(A)
    assert len(freedom) == 4 + 3 * 4
    column = freedom.directions[:, freedom.names.index("drop 2 back against front")]
    by_tape = column[4:].reshape(8, 4)
    assert np.all(by_tape[:, [0, 2, 3]] == 0.0)
    assert by_tape[[0, 3], 1] == pytest.approx([-np.cos(np.pi / 8), np.cos(np.pi / 8)])
    sides = freedom.directions[:, freedom.names.index("drop 1 sides against front and back")][4:].reshape(
        8, 4
    )
    assert sides[1, 0] > 0.0 > sides[0, 0]


def test_on_two_tapes_no_wave_is_told_twice():
    """Two tapes stand at her sides: they know neither front nor back, and their sides are all there is of them."""
    two = A.model_copy(update={"tapes": A.tapes.model_copy(update={"count": 2, "drops": A.tapes.drops[:2]})})
    freedom = freedom_of(two)
    assert np.linalg.matrix_rank(freedom.directions) == len(freedom) == 4 + 1 * 4


def test_what_is_kept_stays():
    freedom = freedom_of(A, keep=["hoop 1", "tape 3", "drop 4"])
    kept = [
        place
        for place, name in enumerate(number_names(A))
        if name.startswith(("hoop 1", "tape 3")) or "drop 4" in name
    ]
    assert len(kept) == 1 + 4 + 7
    assert not freedom.directions[kept].any()
    assert "hoop 1 length" not in freedom.names


def test_ties_are_free_on_wish():
    assert not any(name.startswith("tie") for name in freedom_of(D).names)
    assert "tie 2 length" in freedom_of(D, free=["Tie  2"]).names
    with pytest.raises(ValueError, match="tie 9"):
        freedom_of(D, free=["tie 9"])


def test_numbers_of_panels_come_last_and_go_in_again():
    """Sample D: one panel laced by 5 %; written by widths it has one number a hoop."""
    design = D
    assert number_names(design)[-1] == "panel 1 tightness"
    assert numbers_of(design)[-1] == 0.05
    looser = with_numbers(design, np.append(numbers_of(design)[:-1], 0.03))
    assert looser.panels[0].tightness == 0.03
    panel = design.panels[0].model_copy(update={"tightness": None, "widths": (0.1, 0.11, 0.12)})
    wide = design.model_copy(update={"panels": (panel,)})
    assert number_names(wide)[-3:] == tuple(f"panel 1 width at hoop {hoop}" for hoop in panel.hoops)
    assert with_numbers(wide, 1.1 * numbers_of(wide)).panels[0].widths == pytest.approx((0.11, 0.121, 0.132))
    assert freedom_of(design, free=["panel"]).names[-1] == "panel 1 tightness"
    least, most = bounds_of(design)
    assert (least[-1], most[-1]) == (0.0, 0.6)

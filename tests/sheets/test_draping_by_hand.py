"""Girths, ways down and gores for the draper, on loops and lines by hand."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any, cast

import numpy as np
import pytest

from cage3d.report.record import Report
from cage3d.settle.state import SettledCage
from cage3d.sheets import draper
from cage3d.sheets.draper import (
    Gore,
    crossing,
    fall,
    girths,
    gore_names,
    gores,
    inside,
    length_of,
    spreads,
    taut,
)

SQUARE = np.array([[0.3, -0.2, 0.5], [0.3, 0.4, 0.5], [-0.1, 0.4, 0.7], [-0.1, -0.2, 0.7], [0.3, -0.2, 0.5]])


@pytest.mark.parametrize(
    ("ahead", "place"),
    [
        ((1.0, 0.0), (0.3, 0.0, 0.5)),
        ((-1.0, 0.0), (-0.1, 0.0, 0.7)),
        ((0.0, 1.0), (0.0, 0.4, 0.65)),  # three quarters of the way from 0.5 to 0.7 m
        ((0.0, -1.0), (0.0, -0.2, 0.65)),
        ((0.6, 0.8), (0.3, 0.4, 0.5)),  # through a corner
    ],
)
def test_where_a_loop_is_crossed(ahead, place) -> None:
    assert crossing(SQUARE, np.array(ahead)) == pytest.approx(place)


def test_a_loop_that_lies_all_on_one_side_is_crossed_there_at_its_outermost() -> None:
    """From 1 to 3 m before her: outermost 3; behind her nothing. One that begins on the line is crossed there too."""
    before = np.array(
        [[1.0, -3.0, 0.0], [1.0, -1.0, 0.2], [-1.0, -1.0, 0.2], [-1.0, -3.0, 0.0], [1.0, -3.0, 0.0]]
    )
    assert crossing(before, np.array([0.0, -1.0])) == pytest.approx([0.0, -3.0, 0.0])
    assert crossing(before, np.array([0.0, 1.0])) is None
    assert crossing(before, np.array([1.0, 0.0])) is None
    from_the_line = np.array([[0.0, -1.0, 0.0], [1.0, 1.0, 0.4], [-1.0, 1.0, 0.4], [0.0, -1.0, 0.0]])
    assert crossing(from_the_line, np.array([0.0, -1.0])) == pytest.approx([0.0, -1.0, 0.0])
    assert crossing(from_the_line, np.array([0.0, 1.0])) == pytest.approx([0.0, 1.0, 0.4])


def at(radius: float, height: float) -> np.ndarray:
    """A point at this distance from her axis, aslant."""
    return np.array([0.6 * radius, -0.8 * radius, height])


@pytest.mark.parametrize(("middle", "within"), [(0.19, True), (0.1999, True), (0.2001, False)])
def test_a_point_is_within_the_straight_line_over_it(middle: float, within: bool) -> None:
    """From 0.1 m out at 1 m to 0.4 at 0.4: at 0.8 m the line lies 0.2 out."""
    assert inside(at(0.1, 1.0), at(middle, 0.8), at(0.4, 0.4)) is within


def test_a_cloth_touches_only_what_stands_out() -> None:
    line = [at(0.1, 1.0), at(0.15, 0.8), at(0.2, 0.7), at(0.4, 0.4), at(0.35, 0.2)]
    assert taut(line)[:, 2].tolist() == [1.0, 0.4, 0.2]
    assert taut(line[:2])[:, 2].tolist() == [1.0, 0.8]


def test_the_way_down_ends_with_the_hem_or_with_the_floor_under_the_outermost_hoop() -> None:
    """From 0.1 m out at 1 m to 0.4 at 0.6 (0.5 m), on to 0.4 at 0.3 (0.3 m), 0.3 m to the floor."""
    start = at(0.1, 1.0)
    row = fall("tape 1 L", start, [at(0.4, 0.6), at(0.4, 0.3)])
    assert (row.place, row.to_hem, row.to_floor) == ("tape 1 L", pytest.approx(0.8), pytest.approx(1.1))
    # No steel at the hem: only the floor, straight down from the hoop above.
    open_hem = fall("front", start, [at(0.4, 0.6), None])
    assert (open_hem.to_hem, open_hem.to_floor) == (None, pytest.approx(0.5 + 0.6))
    # No steel at all: straight down from the waist.
    assert fall("front", start, [None, None]).to_floor == pytest.approx(1.0)
    assert length_of(np.array([[0.0, 0.0, 0.0], [3.0, 4.0, 0.0], [3.0, 4.0, 12.0]])) == pytest.approx(17.0)


def loop(half: float, height: float) -> np.ndarray:
    """A level square of this half width; its girth is eight times that."""
    corners = [(half, -half), (half, half), (-half, half), (-half, -half), (half, -half)]
    return np.array([(x, y, height) for x, y in corners])


@pytest.mark.parametrize(
    ("knee", "row"),
    [
        (None, None),
        (0.7, 2.4),  # halfway between hoops of 1.6 and 3.2 m at 0.9 and 0.5 m
        (0.3, 4.0),  # under the lowest hoop: as far round as what is outermost
        (1.2, None),  # above: between waist and hoop
    ],
)
def test_girths_from_the_waist_down(monkeypatch, knee, row) -> None:
    """Waist 0.8 m at 1.1 m; hoops of 1.6, 3.2 and, above that, 4.0 m: the floor meets the widest."""
    monkeypatch.setattr(draper, "waist_ring", lambda *_: np.full((4, 3), 1.1))
    wearer = SimpleNamespace(waist=0.8, knee_height=knee)
    settled = cast(SettledCage, SimpleNamespace(cage=SimpleNamespace(design=SimpleNamespace(wearer=wearer))))
    loops = (
        [loop(0.2, 0.9), loop(0.5, 0.95), loop(0.4, 0.5)] if knee == 0.3 else [loop(0.2, 0.9), loop(0.4, 0.5)]
    )
    rows = girths(settled, loops, draper.hoop_names(loops))
    told = {one.place: (one.height, one.girth) for one in rows}
    assert [one.height for one in rows] == sorted((one.height for one in rows), reverse=True)
    assert told["waist"] == (pytest.approx(1.1), 0.8)
    assert told["hoop 1"] == (pytest.approx(0.9), pytest.approx(1.6))
    assert told["floor"] == (0.0, pytest.approx(4.0 if knee == 0.3 else 3.2))
    if knee is None:
        assert "knee" not in told
    elif row is not None:
        assert told["knee"] == (knee, pytest.approx(row))
    else:
        assert told["knee"][1] == pytest.approx(0.8), "as far round as the waist"


def settled_of(closed: bool, finished: float) -> SettledCage:
    joined = SimpleNamespace(closed=[closed], anchors=np.arange(4), passed=np.ones((1, 4), dtype=bool))
    steel = SimpleNamespace(finished=finished)
    stations = np.array([0.1, 0.3, 0.6, 0.9])
    design = SimpleNamespace(
        line="tape",
        wearer=SimpleNamespace(waist=0.7),
        tapes=SimpleNamespace(count=4, stations=tuple(stations), routes=()),
        hoops=[SimpleNamespace(tapes=None, stations=None, beside=None)],
    )
    return cast(
        SettledCage,
        SimpleNamespace(
            cage=SimpleNamespace(connectivity=joined, steels=[steel], stations=stations, design=design)
        ),
    )


def test_a_closed_hoop_spreads_as_its_tapes_stand() -> None:
    """At 10, 30, 60 and 90 hundredths of 2 m: 0.4, 0.6, 0.6 and, over centre front, 0.4 m."""
    assert spreads(settled_of(True, 2.0), 0, range(4), 2.0) == pytest.approx([0.4, 0.6, 0.6, 0.4])


def test_the_gore_over_an_opening_has_what_is_left_of_the_girth(monkeypatch) -> None:
    """An open hoop marked at 0.02, 0.42, 1.02 and 1.58 m, and a cloth that bridges its opening: 2 m round. So the last
    gore, from tape 4 to tape 1, has 2 - 1.56 m.
    """
    places = {"tape 1": 0.02, "tape 2": 0.42, "tape 3": 1.02, "tape 4": 1.58, "CB": 0.8}
    marks = [SimpleNamespace(names=(name,), at=place) for name, place in places.items()]
    monkeypatch.setattr(draper, "steel_cut", lambda *_: SimpleNamespace(marks=marks))
    told = spreads(settled_of(False, 1.6), 0, range(4), 2.0)
    assert told == pytest.approx([0.40, 0.60, 0.56, 0.44])


def test_gores_alike_within_half_a_millimetre_are_told_once(monkeypatch) -> None:
    """Four tapes: gores 1-2 and 4-1 are a fifth of 0.7 m at the waist, the others three tenths."""
    rows = iter([np.array([0.4, 0.6, 0.6004, 0.4006])])
    monkeypatch.setattr(draper, "spreads", lambda *_: next(rows))
    told = gores(settled_of(True, 2.0), [np.zeros((2, 3))])
    assert [gore.names for gore in told] == [("1–2",), ("2–3", "3–4"), ("4–1",)]
    assert told[0].spreads == (pytest.approx(0.14), 0.4)
    assert told[1].spreads == (pytest.approx(0.21), 0.6)


def test_gores_are_named_or_all() -> None:
    assert gore_names(Gore(("1–2", "3–4"), ()), 4) == "1–2, 3–4"
    assert gore_names(Gore(("1–2", "2–1"), ()), 2) == "all"


def test_every_place_has_its_way_down(monkeypatch) -> None:
    """Front, left, back, right and then the tapes; a way begins at the waist's middle line in its direction."""
    report: Any = SimpleNamespace(
        hoops=[SimpleNamespace(at_tape=lambda _: SimpleNamespace(x_m=0.0, y_m=-0.5, z_m=0.4))]
    )
    asked: list[Any] = []

    def ring(_design, fractions, down):
        asked.append((np.asarray(fractions).tolist(), down))
        return np.tile([0.0, -0.1, 1.0], (len(fractions), 1))

    monkeypatch.setattr(draper, "waist_ring", ring)
    rows = draper.falls(settled_of(True, 2.0), cast(Report, report), [loop(0.5, 0.4)])
    assert [row.place for row in rows] == [
        "front", "her left", "back", "her right", "tape 1 L", "tape 2 L", "tape 3 R", "tape 4 R",
    ]  # fmt: skip
    assert asked == [([0.0], 0.0), ([0.25], 0.0), ([0.5], 0.0), ([0.75], 0.0), ([0.1, 0.3, 0.6, 0.9], 0.0)]
    # From 0.1 m out at 1 m to 0.5 at 0.4: sqrt(0.4^2 + 0.6^2); 0.4 m more to the floor.
    assert rows[0].to_hem == pytest.approx(np.hypot(0.4, 0.6))
    assert rows[4].to_floor == pytest.approx(np.hypot(0.4, 0.6) + 0.4)

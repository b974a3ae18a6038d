"""The cage as drawn from three sides on the first page, by hand in mm and pt."""

from __future__ import annotations

import numpy as np
import pytest
from on_paper import MM, Drawn, Told, assert_words, drawn_by
from reportlab.pdfgen.canvas import Canvas

from cage3d.sheets.outline import FRONT, LEFT, Outline
from cage3d.sheets.pages.cage import CageViews
from cage3d.sheets.paper.fonts import letters

INCH = 72.0  # pt
WIDTH, TALL = 186 * MM, 256 * MM - 1


def box(half_wide: float, half_deep: float, high: float) -> np.ndarray:
    """A closed line of four corners: right front, left front, left back, right back of her (x to her left)."""
    corners = [
        (-half_wide, -half_deep),
        (half_wide, -half_deep),
        (half_wide, half_deep),
        (-half_wide, half_deep),
    ]
    return np.array([(x, y, high) for x, y in [*corners, corners[0]]])


# A square cage: band 0.4 by 0.2 m at 1.0 m, one hoop 1.2 by 0.8 m at 0.5 m, one of 1.0 by 0.8 at 0.2 m.
CAGE = Outline(
    band=box(0.2, 0.1, 1.0),
    hoops=(box(0.6, 0.4, 0.5), box(0.5, 0.4, 0.2)),
    tapes=(
        np.array([(0.0, -0.1, 1.0), (0.0, -0.4, 0.5), (0.0, -0.4, 0.2)]),
        np.array([(0.2, 0.0, 1.0), (0.6, 0.0, 0.5), (0.5, 0.0, 0.2)]),
    ),
    ties=(np.array([(-0.5, -0.4, 0.2), (0.5, -0.4, 0.2)]),),
)
# Room: 10 pt between views and 15 round each, so 100 mm on 2 x 1.2 + 0.8 m: the width decides.
SCALE = 100 * MM / 3.2
VIEWS_WIDE = 100 * MM + 2 * 10 + 6 * 15
VIEWS_TALL = 1.0 * SCALE + 14 + 30
TOP = 400.0


def views_of(width: float = VIEWS_WIDE) -> Drawn:
    views = CageViews(CAGE, letters(), width)
    return drawn_by(lambda canvas: views.draw(canvas, TOP), 600, 500)


def test_three_views_share_one_scale_and_the_width() -> None:
    views = CageViews(CAGE, letters(), VIEWS_WIDE)
    assert (views.scale, views.height) == (pytest.approx(SCALE), pytest.approx(VIEWS_TALL))
    tall = CageViews(CAGE, letters(), 2000.0)
    # 235 pt at most, less 14 for the title and 15 above and under: 191 pt for 1 m.
    assert (tall.scale, tall.height) == (pytest.approx(191.0), pytest.approx(235.0))


def start_of(view: int) -> float:
    """pt, a view's left edge: each is as wide as its cage and 30 pt, with 10 pt between."""
    return [0.0, 1.2 * SCALE + 40, 2.0 * SCALE + 80][view]


def on_paper(view: int, across: float, up: float) -> tuple[float, float]:
    """pt; m from the cage's least across and up in that view."""
    tall = 0.8 if view == 2 else 1.0
    return (start_of(view) + 15 + across * SCALE, TOP - 14 - 15 - tall * SCALE + up * SCALE)


def has_path(page: Drawn, *places: tuple[float, float], wide: float, grey: float) -> bool:
    """Whether a line through these places is drawn, as one path or as one of two points."""
    straight = [((line.x, line.y), (line.to_x, line.to_y), line.wide, line.grey) for line in page.lines]
    if len(places) == 2:
        ends = sorted(places)
        return any(
            (a, b) == (pytest.approx(ends[0], abs=0.03), pytest.approx(ends[1], abs=0.03))
            and (w, round(g, 3)) == (pytest.approx(wide), grey)
            for a, b, w, g in straight
        )
    for curve in page.curves:
        points = [(x, 500 - down) for x, down in curve["pts"]]
        same = len(points) == len(places) and all(
            point == pytest.approx(place, abs=0.03) for point, place in zip(points, places, strict=True)
        )
        colour = curve["stroking_color"]
        shade = round(float(colour[0] if isinstance(colour, tuple) else colour), 3)
        if same and (curve["linewidth"], shade) == (pytest.approx(wide), grey):
            return True
    return False


def test_near_lines_are_black_and_far_ones_grey() -> None:
    """From the front her back is far: of the upper hoop the line at 0.5 m from side to side is drawn twice, grey and
    then black. Its sides, half before and half behind her middle, count as neither far.
    """
    page = views_of()
    left, right = on_paper(0, 0.0, 0.5), on_paper(0, 1.2, 0.5)
    # Near: her right side (from the back corner), the front and her left side in one go.
    assert has_path(page, left, right, right, wide=0.96, grey=0.0)
    assert has_path(page, right, left, wide=0.96, grey=0.68)
    # The waistband heavy, tapes as hairlines.
    band = [on_paper(0, 0.4, 1.0), on_paper(0, 0.8, 1.0)]
    assert has_path(page, band[0], band[1], band[1], wide=1.6, grey=0.0)
    front_tape = [on_paper(0, 0.6, 1.0), on_paper(0, 0.6, 0.5), on_paper(0, 0.6, 0.2)]
    assert has_path(page, *front_tape, wide=0.4, grey=0.0)
    side_tape = [on_paper(0, 0.8, 1.0), on_paper(0, 1.2, 0.5), on_paper(0, 1.1, 0.2)]
    assert has_path(page, *side_tape, wide=0.4, grey=0.0)
    # From her left what lies at her right is far; the plan hides nothing.
    behind = [on_paper(1, 0.0, 0.5), on_paper(1, 0.8, 0.5)]
    assert has_path(page, behind[1], behind[0], wide=0.96, grey=0.68)
    # A rectangle comes back from the PDF as one.
    plan = {(round(block.wide / SCALE, 3), round(block.tall / SCALE, 3)): block for block in page.blocks}
    assert plan[1.2, 0.8].line == pytest.approx(0.96)
    assert plan[0.4, 0.2].line == pytest.approx(1.6)
    assert (plan[1.2, 0.8].x, plan[1.2, 0.8].y) == pytest.approx(on_paper(2, 0, 0), abs=0.02)
    assert {block.edge for block in plan.values()} == {0.0}


def test_ties_are_dashed_and_the_floor_is_a_hairline() -> None:
    page = views_of()
    ties = [(line.x, line.y, line.to_x, line.to_y) for line in page.lines if line.dash == (2.5, 1.8)]
    wanted = [
        (*on_paper(0, 0.1, 0.2), *on_paper(0, 1.1, 0.2)),
        (*on_paper(1, 0.0, 0.2), *on_paper(1, 0.0, 0.2)),
        (*on_paper(2, 0.1, 0.0), *on_paper(2, 1.1, 0.0)),
    ]
    assert [tie for tie in ties if tie[0] != tie[2]] == [
        pytest.approx(want, abs=0.03) for want in (wanted[0], wanted[2])
    ]
    assert {line.wide for line in page.lines if line.dash == (2.5, 1.8)} == {0.8}
    floor = on_paper(0, 0, 0)[1]
    for view, wide in ((0, 1.2), (1, 0.8)):
        start, end = start_of(view) + 2, start_of(view) + wide * SCALE + 30 - 2
        assert has_path(page, (start, floor), (end, floor), wide=0.4, grey=0.0)


def test_hoops_are_numbered_at_their_right_and_tapes_round_the_plan() -> None:
    page = views_of()
    wanted: list[Told] = [
        ("From the front", "middle", start_of(0) + (1.2 * SCALE + 30) / 2, TOP - 8, 8, True, 0),
        ("From her left", "middle", start_of(1) + (0.8 * SCALE + 30) / 2, TOP - 8, 8, True, 0),
    ]
    for view, ends in ((0, (1.2, 1.1)), (1, (0.8, 0.8))):
        for hoop, (across, up) in enumerate(zip(ends, (0.5, 0.2), strict=True), start=1):
            x, y = on_paper(view, across, up)
            wanted.append((str(hoop), "left", x + 4, y - 2.4, 7, True, 0))
    # The plan's middle is that of the tapes' first places, (0.1, -0.05); a number stands 8.5 pt outside the place
    # furthest from it, along the ray.
    middle = np.array([0.1, -0.05])
    for tape, place in ((1, (0.0, -0.4)), (2, (0.6, 0.0))):
        ray = (np.array(place) - middle) / np.linalg.norm(np.array(place) - middle)
        x, y = on_paper(2, place[0] + 0.6, place[1] + 0.4) + 8.5 * ray
        wanted.append((str(tape), "middle", x, y - 2.4, 7, False, 0))
    key = "Heavy above: the waistband. Grey: what lies behind. Dashed: ties and laces. Below: the floor."
    wanted.append((key, "left", 0, TOP - VIEWS_TALL - 7, 6.5, False, 0.35))
    assert_words(page, wanted)
    title = letters().shortened("Above, front below", 8, 1.2 * SCALE + 30, True)
    assert_words(page, [(title, "middle", start_of(2) + (1.2 * SCALE + 30) / 2, TOP - 8, 8, True, 0)])


def test_numbers_of_hoops_at_one_height_stand_apart() -> None:
    twins = Outline(CAGE.band, (box(0.6, 0.4, 0.5), box(0.6, 0.4, 0.5)), CAGE.tapes, ())
    views = CageViews(twins, letters(), VIEWS_WIDE)
    page = drawn_by(lambda canvas: views.draw(canvas, TOP), 600, 500)
    feet = {
        words.said: words.foot
        for words in page.words
        if words.bold and words.size == 7 and words.left < start_of(1)
    }
    assert feet["1"] - feet["2"] == pytest.approx(7.5)


@pytest.mark.parametrize(("middle", "far"), [(1e-3, True), (-1e-3, False), (1e-7, False)])
def test_what_lies_in_her_middle_is_not_far(middle: float, far: bool) -> None:
    """A micrometre is noise; a stretch is far where its middle is."""
    line = np.array([[0.1, middle - 0.01, 1.0], [0.1, middle + 0.01, 1.0]])
    assert FRONT.behind(line).tolist() == [far]
    assert LEFT.behind(line[:, [1, 0, 2]] * [-1.0, 1.0, 1.0]).tolist() == [far]


def test_a_canvas_is_left_as_it_was() -> None:
    """Lines end round while the cage is drawn, and straight after it."""
    caps: list[int] = []

    class Watched(Canvas):  # type: ignore[misc]
        def setLineCap(self, mode: int) -> None:
            caps.append(mode)
            super().setLineCap(mode)

    canvas = Watched("unused.pdf", pagesize=(600, 500))
    letters()
    CageViews(CAGE, letters(), VIEWS_WIDE).draw(canvas, TOP)
    assert set(zip(caps[::2], caps[1::2], strict=True)) == {(1, 0)}

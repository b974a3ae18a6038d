"""Widths in level pictures: each beside its own hoop; the hem's and the widest one's always there."""

from __future__ import annotations

import numpy as np
import pytest
from made import LETTERS, Written, hung_sample, sample

from cage3d.draw.hung import Hung
from cage3d.draw.pictures import extent_of
from cage3d.draw.sheet import CELL, sheet_frames
from cage3d.draw.views import BACK, FRONT, SIDE, Margins, View, fitted
from cage3d.draw.widths import Width, hidden_behind, level_widths, placed_widths
from cage3d.mesh.part import CAGE_KINDS
from cage3d.scene.shown import scene_parts
from cage3d.shape.arrays import Floats

TEXT = 46.0  # px
RANDOM_CAGES = 24


def random_hoops(seed: int) -> tuple[list[Floats], list[float]]:
    """Up to 15 tilted hoops as they are seen, some very near to each other, some drawn in at the hem: px; widths."""
    lot = np.random.default_rng(seed)
    count = int(lot.integers(1, 16))
    steps = lot.uniform(12.0, 160.0, count)
    heights = 250.0 + np.cumsum(steps * min(1.0, 1300.0 / steps.sum()))
    widths = np.cumsum(lot.uniform(0.0, 100.0, count)) + 420.0
    if lot.random() < 0.4:
        widths[-1] *= 0.7
    turn = np.linspace(0.0, 2.0 * np.pi, 900, endpoint=False)
    tilts, slants = lot.uniform(0.0, 70.0) * lot.uniform(0.2, 1.0, count), lot.uniform(-0.06, 0.06, count)
    curves = [
        np.column_stack(
            [1000.0 + w / 2.0 * np.sin(turn), y + tilt * np.cos(turn) + slant * w / 2.0 * np.sin(turn)]
        )
        for y, w, tilt, slant in zip(heights, widths, tilts, slants, strict=True)
    ]
    return curves, [float(width) for width in widths]


def nearest_hoop(width: Width, curves: list[Floats]) -> int:
    return int(np.argmin([np.linalg.norm(curve - width.middle, axis=1).min() for curve in curves]))


@pytest.mark.parametrize("seed", range(RANDOM_CAGES))
def test_every_width_stands_nearest_to_its_own_hoop_and_hem_and_widest_always_stand(seed: int) -> None:
    curves, widths = random_hoops(seed)
    words = [f"Hoop {number}: 12 3/4 in" for number in range(1, len(curves) + 1)]
    placed = placed_widths(curves, words, widths, TEXT)
    assert [nearest_hoop(width, curves) for width in placed] == [width.hoop for width in placed]
    shown = {width.hoop for width in placed}
    assert {len(curves) - 1, int(np.argmax(widths))} <= shown
    boxes = [width.box(words[width.hoop], TEXT) for width in placed]
    for place, (left, top, right, bottom) in enumerate(boxes):
        for a, b, c, d in boxes[:place]:
            assert left >= c or a >= right or top >= d or b >= bottom
    # The line is as wide as its own hoop is seen.
    for width in placed:
        assert width.right[0] - width.left[0] == pytest.approx(widths[width.hoop], abs=0.2)


def test_hoops_with_room_are_all_there_under_their_middles() -> None:
    turn = np.linspace(0.0, 2.0 * np.pi, 900, endpoint=False)
    curves = [
        np.column_stack([1000.0 + half * np.sin(turn), np.full(900, y)])
        for half, y in ((300, 400), (500, 600))
    ]
    placed = placed_widths(curves, ["Hoop 1: 1 m", "Hoop 2: 2 m"], [600.0, 1000.0], TEXT)
    middles = [width.middle for width in placed]
    assert middles == [(pytest.approx(1000.0), pytest.approx(400.0 + 0.95 * TEXT)),
                       (pytest.approx(1000.0), pytest.approx(600.0 + 0.95 * TEXT))]  # fmt: skip


@pytest.mark.parametrize("view", [FRONT, SIDE, BACK], ids=lambda view: view.name)
@pytest.mark.parametrize("letter", LETTERS)
def test_samples_show_every_width_with_its_hoops_number(letter: str, view: View) -> None:
    settled, report = hung_sample(sample(letter))
    hung = Hung.of(settled, report)
    frame = fitted(
        view, extent_of(scene_parts(settled, CAGE_KINDS)), (2000, 2000), Margins(300, 300, 130, 190)
    )
    paper = Written(2000, 2000, TEXT)
    level_widths(paper, frame, hung)
    across = [hoop.width_front_back_m if view == SIDE else hoop.width_side_side_m for hoop in report.hoops]
    if letter == "h" and view == SIDE:  # her left basket hides the other
        pairs = {f"Hoops {n} and {n + 1}: {hung.show(across[n])}" for n in (1, 3, 5)}
        assert set(paper.said) == pairs
    else:
        assert set(paper.said) == {f"Hoop {n}: {hung.show(width)}" for n, width in enumerate(across, 1)}


def test_widths_beside_one_another_stand_at_one_height() -> None:
    """Of baskets alike: were the second moved off the first one's level, its words would cover its own steel."""
    settled, report = hung_sample(sample("h"))
    extent = extent_of(scene_parts(settled, CAGE_KINDS))
    paper, frame = Written(2000, 2000, TEXT), fitted(FRONT, extent, (2000, 2000), Margins(300, 300, 130, 190))
    level_widths(paper, frame, Hung.of(settled, report))
    at = {words.split(":")[0]: y for words, (_, y) in paper.said.items()}
    for left, right in ((1, 2), (3, 4), (5, 6)):
        assert at[f"Hoop {left}"] == pytest.approx(at[f"Hoop {right}"], abs=1.0)


def test_what_found_no_room_is_told() -> None:
    settled, report = hung_sample(sample("c"))
    frame = fitted(FRONT, extent_of(scene_parts(settled, CAGE_KINDS)), (400, 400), Margins(60, 60, 30, 40))
    paper = Written(400, 400, 40.0)
    level_widths(paper, frame, Hung.of(settled, report))
    shown = {int(words.split()[1][:-1]) for words in paper.said if words.startswith("Hoop")}
    (told,) = (words for words in paper.said if words.startswith("No room"))
    assert 7 in shown
    assert {int(number) for number in told.replace(",", "").split() if number.isdigit()} == set(
        range(1, 8)
    ) - shown


def test_the_sheet_has_one_scale() -> None:
    settled, report = hung_sample(sample("e"))
    extent = extent_of(scene_parts(settled, CAGE_KINDS))
    frames = sheet_frames(extent, Hung.of(settled, report))
    assert len({frame.scale for frame in frames}) == 1
    for frame in frames:
        flat = frame.on_paper(extent)
        assert flat.min() >= 0.0
        assert np.all(flat.max(axis=0) <= CELL)


def test_one_width_is_written_of_hoops_that_hide_each_other_and_measure_the_same() -> None:
    """Two that take up the same place but for two px; a third as wide, lower; a fourth that measures otherwise."""
    first = np.array([[100.0, 200.0], [500.0, 210.0]])
    curves = [first, first + np.array([[-2.0, 0.0], [1.0, 2.0]]), first + np.array([0.0, 40.0]), first]
    told = ["14 in", "14 in", "14 in", "14 1/8 in"]
    assert hidden_behind(curves, told, 3.0) == [[0, 1], [2], [3]]
    assert hidden_behind(curves, told, 1.5) == [[0], [1], [2], [3]]

"""The same measures read from a picture of the pages, as a printer would put them on paper."""

from __future__ import annotations

from itertools import pairwise
from pathlib import Path

import judges
import numpy as np
import pytest
from made import SAMPLES, hung_sample, pages_of, sheets_of
from numpy.typing import NDArray
from settled import ON_TAPES

from cage3d.shape.lay_out import lay_out
from cage3d.sheets.paper.sizes import MARGIN, paper_named
from cage3d.sheets.strips import pages_of_tiles, pitch, strip_width
from cage3d.sheets.tapes import tape_sets

pytestmark = pytest.mark.judge

DPI = 254  # ten dots to the millimetre
TRUE = 0.2  # mm
Bools = NDArray[np.bool_]


def pictures(pdf: bytes, folder: Path) -> list[Bools]:
    """Where each page is dark, (rows, columns) at ten dots to the millimetre."""
    (folder / "sheets.pdf").write_bytes(pdf)
    command = [judges.program("pdftoppm"), "-r", str(DPI), "-gray", "sheets.pdf", "page"]
    done = judges.run(["env", "-C", str(folder), *command])
    assert done.returncode == 0, done.stderr
    return [dark(path.read_bytes()) for path in sorted(folder.glob("page-*.pgm"))]


def dark(picture: bytes) -> Bools:
    """A binary PGM file as dark dots."""
    kind, width, height, most, dots = picture.split(maxsplit=4)
    assert (kind, most) == (b"P5", b"255")
    grey = np.frombuffer(picture[-int(width) * int(height) :], dtype=np.uint8)
    assert dots
    return np.asarray(grey.reshape(int(height), int(width)) < 128)


def runs(marked: Bools) -> list[tuple[float, int]]:
    """(middle, thickness) of each run of marked dots."""
    edges = np.flatnonzero(np.diff(np.concatenate([[0], marked.astype(int), [0]])))
    return [((start + end - 1) / 2.0, int(end - start)) for start, end in edges.reshape(-1, 2)]


def longest_run(line: Bools) -> int:
    return max((thick for _, thick in runs(line)), default=0)


def test_the_check_squares_measure_right(tmp_path: Path) -> None:
    page = pictures(sheets_of(SAMPLES[0]).pdf, tmp_path)[0]
    upright = [x for x, _ in runs(np.array([495 < longest_run(column) < 515 for column in page.T]))]
    left, right, next_left, next_right = upright
    assert [(right - left) / 10.0, (next_right - next_left) / 10.0] == pytest.approx([50.0, 50.8], abs=TRUE)
    for start, end, side in ((left, right, 50.0), (next_left, next_right, 50.8)):
        # Where the square's own left line runs: the cage drawn on the same page has long level lines too.
        middle, tall = max(runs(page[:, round(start)]), key=lambda run: run[1])
        rows = slice(int(middle - tall / 2.0) - 5, int(middle + tall / 2.0) + 6)
        square = page[rows, int(start) - 2 : int(end) + 4]
        level = [y for y, _ in runs(np.array([495 < longest_run(row) < 515 for row in square]))]
        assert (level[1] - level[0]) / 10.0 == pytest.approx(side, abs=TRUE)


def first_strip(path: Path, pages: list[Bools]) -> list[Bools]:
    """The parts of the first strip, each cut out of its page from its left edge to its right."""
    design = hung_sample(path)[0].cage.design
    texts = [page.text for page in pages_of(sheets_of(path).pdf)]
    first = next(place for place, text in enumerate(texts) if "Full size. Casings" in text)
    laid = pages_of_tiles(tape_sets(lay_out(design)), design.tapes.width, paper_named("a4"))
    parts = []
    for page, tiles in zip(pages[first:], laid, strict=False):
        for place, tile in enumerate(tiles):
            if tile.one.letter == "A":
                left = dots(MARGIN + place * pitch(design.tapes.width))
                parts.append(page[:, left + 2 : left + dots(strip_width(design.tapes.width)) - 2])
    return parts


def dots(points: float) -> int:
    return round(points / 72.0 * DPI)


def dashed_rows(part: Bools) -> list[float]:
    """Where a line of dashes 6 pt long runs across: dark in half of the row, and never for longer than one."""
    rows = [0.4 < row.mean() < 0.75 and 17 <= longest_run(row) <= 24 for row in part]
    return [y for y, _ in runs(np.array(rows))]


def marks_from_zero(parts: list[Bools]) -> list[float]:
    """mm from the zero of every line across the strip, the parts laid dashed line on dashed line."""
    places, thicknesses, shift, before = [], [], 0.0, None
    for part in parts:
        dashed = dashed_rows(part)
        if before is not None:
            shift += before - dashed[0]
        before = dashed[-1] if dashed else None
        for y, thick in runs(part.all(axis=1)):
            places.append(y + shift)
            thicknesses.append(thick)
    zero = sorted(place for place, thick in zip(places, thicknesses, strict=True) if thick >= 5)[1]
    return sorted((place - zero) / 10.0 for place in places)


@pytest.mark.parametrize("path", ON_TAPES, ids=lambda path: path.stem)
def test_three_casing_marks_measure_right(path: Path, tmp_path: Path) -> None:
    settled, _ = hung_sample(path)
    design = settled.cage.design
    all_pages = pictures(sheets_of(path).pdf, tmp_path)
    found = marks_from_zero(first_strip(path, all_pages))
    marks = lay_out(design).marks
    tape = tape_sets(lay_out(design))[0].tapes[0] - 1
    passed = np.flatnonzero(~np.isnan(marks.lower[tape]))
    middle, last = passed[(len(passed) - 1) // 2], passed[-1]
    wanted = [marks.upper[tape, passed[0]], marks.lower[tape, middle], marks.lower[tape, last]]
    wanted = list(dict.fromkeys(wanted))  # hoops that meet lie in one casing
    nearest = [min(found, key=lambda place: abs(place - mark * 1e3)) for mark in wanted]
    assert nearest == pytest.approx([mark * 1e3 for mark in wanted], abs=TRUE)
    assert all(a < b for a, b in pairwise(nearest))

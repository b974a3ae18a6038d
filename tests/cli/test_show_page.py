"""cage3d show --page: one cage, or two side by side, as one HTML file."""

from __future__ import annotations

from html import unescape
from pathlib import Path

import pytest
from calling import ON_THE_FLOOR, Caller

OTHER = """\
name: Wider, in metric
units: mm
wearer: {waist: 26 in, waist_height: 41 1/2 in, waist_breadth: 8.3 in, waist_depth: 8.3 in}
steel: {width: 12, thickness: 0.6}
tapes: {count: 6, drops: [9 in, 8 in]}
hoops:
  - {length: 1321}
  - {length: 1651}
"""


def test_one_design_makes_its_page(cage3d: Caller) -> None:
    said = cage3d("show", cage3d.write(), "--page", "-o", "out")
    assert (said.status, said.err) == (0, "")
    (page,) = map(Path, said.out.split())
    assert page == Path("out/small-cage.html")
    assert "<title>Small cage</title>" in page.read_text("utf-8")


def test_two_designs_stand_in_one_page_in_a_folder_of_their_own(cage3d: Caller) -> None:
    cage3d.measure_alone()
    said = cage3d("show", cage3d.write(), cage3d.write(OTHER, "other.yaml"), "--page")
    assert (said.status, said.err) == (0, "")
    (page,) = map(Path, said.out.split())
    assert page == Path("small-and-other/small-cage-and-wider-in-metric.html")
    text = unescape(page.read_text("utf-8"))
    assert "Wider, in metric is written in mm and shown here in in." in text
    # 1321 mm are 52.008 in and 1651 mm are 65 in.
    assert '<th scope="row">Hoop 1, length</th><td>52</td><td>52</td><td>0</td>' in text
    assert '<th scope="row">Hoop 2, length</th><td>62</td><td>65</td><td>+3</td>' in text


@pytest.mark.parametrize(
    ("files", "options", "status", "why"),
    [
        (["small.yaml", "small.yaml"], [], 2, "Add --page"),
        (["small.yaml"] * 3, ["--page"], 2, "Name one or two"),
        (["small.yaml", "missing.yaml"], ["--page"], 1, "there is no such file"),
        (["small.yaml", "floor.yaml"], ["--page"], 3, "floor.yaml"),
    ],
)
def test_what_cannot_be_compared_is_told_and_nothing_is_written(
    cage3d: Caller, files: list[str], options: list[str], status: int, why: str
) -> None:
    cage3d.write()
    cage3d.write(ON_THE_FLOOR, "floor.yaml")
    said = cage3d("show", *files, *options, "-o", "out")
    assert (said.status, said.out) == (status, "")
    assert why in said.err
    assert "Traceback" not in said.err
    assert not (cage3d.folder / "out").exists()

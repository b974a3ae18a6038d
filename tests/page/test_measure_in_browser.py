"""Measuring between two points of the page: clicked, and chosen by name; at every stage of hanging."""

from __future__ import annotations

import re
from collections.abc import Callable
from functools import cache

import numpy as np
import pytest
from browser import Opened
from made import hung_sample, sample

from cage3d.mesh.dressing import DressingStep, dressing_steps
from cage3d.page.page import PAGE_FILES, page_html
from cage3d.report import measure
from cage3d.units import show_inches

pytestmark = pytest.mark.judge
Show = Callable[..., Opened]
WITHIN = 0.001  # m


@cache
def steps_of(letter: str) -> tuple[DressingStep, ...]:
    return dressing_steps(hung_sample(sample(letter))[0])


@cache
def staged_page(letter: str) -> bytes:
    return page_html(*hung_sample(sample(letter)), steps=steps_of(letter))


def told(seen: Opened, what: str) -> float:
    """m, one of the figures of the measure: 'straight', 'side to side', 'front to back' or 'in height'."""
    found = re.search(rf"{what} [^;,]*?([\d.]+) mm", seen.words("#measured"))
    assert found is not None, seen.words("#measured")
    return float(found[1]) / 1000


def only_hoop(seen: Opened, number: int) -> None:
    """Every other part off."""
    seen.page.evaluate(
        """(name) => { for (const box of document.querySelectorAll("input[data-part]")) {
            if (box.checked !== (box.dataset.part === name)) box.click(); } }""",
        f"hoop {number}",
    )


@pytest.mark.parametrize(("letter", "hoop"), [("a", 4), ("c", 7), ("d", 3), ("e", 5)])
def test_a_hoops_width_between_two_clicks_is_the_reports(show: Show, letter: str, hoop: int) -> None:
    """The ends to click are found in the picture: where the hoop, alone, reaches furthest."""
    report = hung_sample(sample(letter))[1].hoops[hoop - 1]
    seen = show(staged_page(letter))
    only_hoop(seen, hoop)
    seen.page.uncheck("#marks-on")
    seen.page.click("#measure")
    box = seen.page.locator("#view").bounding_box()
    for view, what, width in (
        ("Front", "side to side", report.width_side_side_m),
        ("Her left", "front to back", report.width_front_back_m),
    ):
        seen.page.click(f'.views button:text-is("{view}")')
        rows, columns = np.nonzero(seen.drawn())
        for column in (columns.min(), columns.max()):
            row = rows[columns == column].mean()
            seen.page.mouse.click(box["x"] + float(column) + 0.5, box["y"] + float(row) + 0.5)
        assert told(seen, what) == pytest.approx(width, abs=WITHIN)
    assert seen.complaints == []


def test_points_chosen_by_name_follow_the_stage(show: Show) -> None:
    seen = show(staged_page("d"))
    seen.page.click("summary:text('Points by name')")
    seen.page.select_option('select[data-end="0"]', label="hoop 6, front")
    seen.page.select_option('select[data-end="1"]', label="hoop 6, back")
    worn = hung_sample(sample("d"))[1].hoops[5].width_front_back_m
    assert told(seen, "front to back") == pytest.approx(worn, abs=WITHIN)
    inches = f"{show_inches(worn)} in"
    assert f"front to back {inches}" in seen.words("#measured")
    for step, button in zip(steps_of("d"), ("Bare", "Ties fastened"), strict=True):
        seen.page.click(f'button:text-is("{button}")')
        seen.settled()
        width = measure(step.settled).hoops[5].width_front_back_m
        assert told(seen, "front to back") == pytest.approx(width, abs=WITHIN)
        assert abs(width - worn) > 5 * WITHIN  # else the stage could not be told


def test_a_place_on_the_wearers_form_and_one_beside_it(show: Show) -> None:
    """The form is round: two places on it are no further apart than it is wide, and beside it lies nothing."""
    seen = show(staged_page("a"))
    seen.page.click('.views button:text-is("Front")')
    only_hoop(seen, 0)
    seen.page.evaluate("""() => document.querySelector('input[data-part="wearer\\'s form"]').click()""")
    seen.page.click("#measure")
    rows, columns = np.nonzero(seen.drawn())
    box = seen.page.locator("#view").bounding_box()
    middle = float(rows.min() + 0.6 * np.ptp(rows))
    across = columns[np.abs(rows - middle) < 2]
    ends = across.min() + 3, across.max() - 3
    for column in ends:
        seen.page.mouse.click(box["x"] + float(column), box["y"] + middle)
    form = hung_sample(sample("a"))[0].cage.form
    assert form is not None
    widest = 2 * max(section.half_breadth for section in form.sections)
    assert 0.6 * widest < told(seen, "straight") < widest
    assert "a place on the wearer's form" in seen.words("#measured")
    seen.page.mouse.click(box["x"] + 5, box["y"] + 5)
    assert seen.words("#measured") == "No part of the cage lies there."


def test_inches_are_told_as_the_tables_tell_them(show: Show) -> None:
    script = (PAGE_FILES / "scripts" / "lengths.js").read_text(encoding="utf-8")
    seen = show(b"<title>lengths</title>")
    lengths = [0.0, 0.0016, 0.0127, 0.3048, 0.61277, 0.99999, 2.7939]
    told = seen.page.evaluate(f"(lengths) => {{ {script}; return lengths.map(inches); }}", lengths)
    assert told == [show_inches(metres) for metres in lengths]

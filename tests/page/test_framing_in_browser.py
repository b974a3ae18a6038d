"""What the frame holds: she is wholly seen when she is put on, and a view taken by hand stays as it was."""

from __future__ import annotations

from collections.abc import Callable
from io import BytesIO
from typing import Any

import numpy as np
import pdfplumber
import pytest
from browser import Opened
from made import hung_sample, sample

from cage3d.page.page import comparison_page, page_html

pytestmark = pytest.mark.judge
Show = Callable[..., Opened]
DEVICES: dict[str, dict[str, Any]] = {
    "laptop": {"width": 1280, "height": 720},
    "tablet": {"width": 820, "height": 1180, "has_touch": True, "is_mobile": True},
    "telephone": {"width": 390, "height": 844, "has_touch": True, "is_mobile": True},
}
HERSELF = "label:has(> input[data-group='wearer'])"


def page_of(letter: str) -> bytes:
    return page_html(*hung_sample(sample(letter)))


def alone(seen: Opened, group: str = "wearer") -> None:
    """The wearer, or another part, and nothing else."""
    seen.page.evaluate(
        """(group) => { for (const box of document.querySelectorAll("input[data-group]"))
        if (box.checked !== (box.dataset.group === group)) box.click(); }""",
        group,
    )
    seen.settled()


def margins(seen: Opened, view: str = "view") -> list[int]:
    """px that stay free above what is drawn, below, left and right of it."""
    drawn = seen.drawn(view)
    rows, columns = np.nonzero(drawn)
    high, wide = drawn.shape
    return [int(rows.min()), high - 1 - int(rows.max()), int(columns.min()), wide - 1 - int(columns.max())]


@pytest.mark.parametrize("device", DEVICES)
def test_she_is_wholly_seen_on_every_device(show: Show, device: str) -> None:
    seen = show(page_of("d"), **DEVICES[device])
    alone(seen)
    for side in ("Three-quarter", "Her left", "Above"):
        assert min(margins(seen)) >= 4
        seen.page.click(f'.views button:text-is("{side}")')
    assert min(margins(seen)) >= 4
    assert seen.complaints == []


@pytest.mark.parametrize("device", ["laptop", "telephone"])
def test_the_floor_is_wholly_seen_from_above_whichever_way_she_stands(show: Show, device: str) -> None:
    """Its edge that is nearest to the eye too, which lies lowest in the frame; and as wide as the cage it stays."""
    seen = show(page_of("d"), **DEVICES[device])
    alone(seen, "hoops")
    *_, left, right = margins(seen)
    alone(seen, "floor")
    seen.page.focus("#view")
    for _ in range(3):
        assert min(margins(seen)) >= 2
        assert sum(margins(seen)[2:]) <= left + right
        seen.page.keyboard.press("ArrowLeft")
        seen.page.keyboard.press("ArrowLeft")
    assert min(margins(seen)) >= 2


def test_she_is_wholly_seen_where_two_cages_are_compared_and_both_are_as_tall(show: Show) -> None:
    seen = show(
        comparison_page((*hung_sample(sample("d")), ()), (*hung_sample(sample("a")), ())), **DEVICES["tablet"]
    )
    seen.page.click('.views button:text-is("Front")')
    alone(seen)
    tall = []
    for view in ("view", "view-2"):
        above, below, *_ = room = margins(seen, view)
        assert min(room) >= 4
        tall.append(seen.drawn(view).shape[0] - above - below)
    assert tall[0] == pytest.approx(tall[1], rel=0.02)  # one wearer, one scale


def test_a_page_that_opens_with_her_holds_her(show: Show) -> None:
    """By its address, and on paper."""
    first = show(page_of("d"))
    alone(first)
    again = show(page_of("d"), after=first.page.evaluate("() => location.hash"))
    again.settled()
    assert margins(again) == pytest.approx(margins(first), abs=2)
    with pdfplumber.open(BytesIO(again.page.pdf())) as paper:
        (picture,) = paper.pages[0].images
        box = (picture["x0"], picture["top"], picture["x1"], picture["bottom"])
        sheet = paper.pages[0].crop(box).to_image(resolution=72).original.convert("RGB")
    coloured = np.nonzero(np.ptp(np.asarray(sheet).astype(int), axis=2) > 12)  # she is lilac, words are not
    assert coloured[0].min() > 2
    assert coloured[0].max() < sheet.height - 3


def test_the_frame_does_not_jump_for_who_turned_or_came_near(show: Show) -> None:
    seen = show(page_of("d"))
    seen.page.uncheck("input[data-group='form']")
    seen.page.focus("#view")
    for key in ("ArrowLeft", "ArrowLeft", "ArrowUp"):
        seen.page.keyboard.press(key)
    turned = told(seen)
    seen.page.click(HERSELF)
    assert {key: told(seen)[key] for key in ("turn", "rise")} == {
        key: turned[key] for key in ("turn", "rise")
    }
    seen.page.click(HERSELF)
    seen.settled()
    seen.page.focus("#view")
    for key in ("+", "+", "Shift+ArrowUp"):
        seen.page.keyboard.press(key)
    near = seen.pixels()
    seen.page.click(HERSELF)
    on = seen.pixels()
    # Below her waist and beside her the cage stands where it stood, to the pixel's edge.
    left = slice(0, int(0.36 * near.shape[1]))
    assert (np.abs(on[:, left] - near[:, left]).max(axis=2) > 60).mean() < 0.001
    assert (near[:, left].min(axis=2) < 200).sum() > 500
    kept = told(seen)
    again = show(page_of("d"), after=seen.page.evaluate("() => location.hash"))
    again.settled()
    assert (np.abs(again.pixels() - on).max(axis=2) > 60).mean() < 0.002
    assert told(again) == kept
    seen.page.click(HERSELF)
    assert (np.abs(seen.pixels() - near).max(axis=2) > 60).mean() < 0.001


def told(seen: Opened) -> dict[str, str]:
    """What the address says of the view."""
    seen.settled()
    return dict(pair.split("=") for pair in seen.page.evaluate("() => location.hash.slice(1)").split("&"))

"""Fingers, keys, the address and what is switched: the page as it is used on a laptop, a tablet, a telephone."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np
import pytest
from browser import TWO_FRAMES, Opened
from hung import hung
from made import hung_sample, sample

from cage3d.mesh.dressing import dressing_steps
from cage3d.page.page import page_html

pytestmark = pytest.mark.judge
Show = Callable[..., Opened]
PHONE: dict[str, Any] = {"width": 390, "height": 844, "has_touch": True, "is_mobile": True}

# The page has scrolled as far as the finger took it: it stays for twenty frames where it is.
SCROLLED = """() => new Promise((done) => {
  let [at, frames] = [scrollY, 0];
  const look = () => {
    [at, frames] = [scrollY, scrollY === at ? frames + 1 : 0];
    if (frames > 20) done();
    else requestAnimationFrame(look);
  };
  look();
})"""


def page_of(letter: str) -> bytes:
    settled, report = hung_sample(sample(letter))
    return page_html(settled, report, steps=dressing_steps(settled))


def touch(seen: Opened, paths: list[list[tuple[float, float]]]) -> None:
    """Fingers put down, moved along their paths together, and lifted."""
    wire = seen.page.context.new_cdp_session(seen.page)
    for step, places in enumerate(zip(*paths, strict=True)):
        points = [{"x": x, "y": y, "id": finger} for finger, (x, y) in enumerate(places)]
        kind = "touchMove" if step else "touchStart"
        wire.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})
        seen.page.evaluate(TWO_FRAMES)
    wire.send("Input.dispatchTouchEvent", {"type": "touchEnd", "touchPoints": []})
    seen.page.evaluate(SCROLLED)


def test_one_finger_scrolls_and_two_turn(show: Show) -> None:
    seen = show(page_of("a"), **PHONE)
    box = seen.page.locator("#view").bounding_box()
    x, y = box["x"] + 150, box["y"] + 350
    before = seen.pixels()
    touch(seen, [[(x, y - 25.0 * step) for step in range(10)]])
    scrolled = seen.page.evaluate("() => scrollY")
    assert scrolled > 100
    assert (seen.pixels() == before).all()
    seen.page.evaluate("() => scrollTo(0, 0)")
    touch(
        seen,
        [[(x + 12.0 * step, y) for step in range(8)], [(x + 60 + 12.0 * step, y - 90) for step in range(8)]],
    )
    assert seen.page.evaluate("() => scrollY") == 0
    assert (seen.pixels() != before).any(axis=2).sum() > 2000
    assert seen.complaints == []


def test_two_fingers_apart_come_nearer(show: Show) -> None:
    seen = show(page_of("a"), **PHONE)
    box = seen.page.locator("#view").bounding_box()
    x, y = box["x"] + 150, box["y"] + 250
    for group in ("floor", "form"):
        seen.page.uncheck(f'input[data-group="{group}"]')
    seen.page.evaluate("() => scrollTo(0, 0)")
    first = seen.drawn().sum()
    touch(seen, [[(x - 4.0 * step, y) for step in range(8)], [(x + 60 + 4.0 * step, y) for step in range(8)]])
    assert seen.drawn().sum() > 1.3 * first


def test_the_address_brings_the_view_back(show: Show) -> None:
    seen = show(page_of("d"))
    seen.page.click('.views button:text-is("Back")')
    seen.page.click('button[aria-label="Nearer"]')
    seen.page.click('button:text-is("Bare")')
    seen.page.uncheck('input[data-group="form"]')
    seen.page.check("#skirt-opaque")
    seen.page.focus("#view")
    seen.page.keyboard.press("Shift+ArrowUp")
    seen.page.keyboard.press("p")
    seen.settled()
    address = seen.page.evaluate("() => location.hash")
    again = show(page_of("d"), after=address)
    again.settled()
    # The address rounds, to a tenth of a millimetre: a few pixels on edges may tell.
    assert (np.abs(again.pixels() - seen.pixels()).max(axis=2) > 40).mean() < 0.002
    assert (np.abs(again.pixels() - show(page_of("d")).pixels()).max(axis=2) > 40).mean() > 0.02
    assert again.words("#marks") == seen.words("#marks")
    assert not again.page.is_checked('input[data-group="form"]')
    assert again.page.get_attribute('button:text-is("Bare")', "aria-pressed") == "true"


def test_an_address_that_says_nothing_opens_the_page_as_ever(show: Show) -> None:
    plain = show(page_of("a"))
    spoilt = show(
        page_of("a"), after="#turn=abc&rise=&zoom=NaN&stage=<b>&switched=nothing&shift=1e999,x&%E0%A4%A"
    )
    plain.settled()
    spoilt.settled()
    assert (spoilt.pixels() == plain.pixels()).all()
    assert spoilt.complaints == []


def test_keys_do_what_the_buttons_do(show: Show) -> None:
    seen = show(page_of("d"))
    seen.page.click('.views button:text-is("Her left")')
    by_button = seen.pixels()
    seen.page.focus("#view")
    seen.page.keyboard.press("1")
    assert (seen.pixels() != by_button).any()
    seen.page.keyboard.press("2")
    assert (seen.pixels() == by_button).all()
    seen.page.keyboard.press("l")
    assert not seen.page.is_checked("#marks-on")
    seen.page.keyboard.press("o")
    assert seen.page.is_checked('input[data-group="skirt"]')
    seen.page.keyboard.press("s")
    assert seen.page.get_attribute('button:text-is("Bare")', "aria-pressed") == "true"
    seen.page.keyboard.press("m")
    assert seen.words("#measured") == "Click the first point."
    seen.page.keyboard.press("f")
    seen.page.wait_for_function("() => document.fullscreenElement !== null")


def test_an_opaque_skirt_hides_what_a_veil_shows(show: Show) -> None:
    seen = show(page_of("a"))
    seen.page.uncheck("#marks-on")
    seen.page.check('input[data-group="skirt"]')
    veil = seen.pixels()
    seen.page.uncheck('input[data-group="tapes"]')
    assert (seen.pixels() != veil).any(axis=2).sum() > 3000
    seen.page.check("#skirt-opaque")
    covered = seen.pixels()
    seen.page.check('input[data-group="tapes"]')
    through = (seen.pixels() != covered).any(axis=2).sum()
    seen.page.uncheck("#skirt-opaque")
    assert through < 0.4 * (seen.pixels() != covered).any(axis=2).sum()


def test_pull_is_weight_and_slack_is_dashes_and_words(show: Show) -> None:
    """Broad hips in a narrow top hoop, and a tie that draws the second aside: one touches, some tapes hang slack."""
    wearer = {"waist": 24, "waist_height": 41.5, "hip": 44, "hip_drop": 8}
    hoops = [{"length": 46}, {"length": 62}, {"length": 70}]
    tie = {"from": "hoop 2 tape 2", "to": "hoop 2 tape 6", "length": 17}
    report, settled = hung(wearer=wearer, hoops=hoops, hem={}, ties=[tie])
    pulls = [segment for tape in report.tapes for segment in tape.segments]
    lines = [
        *((one.tension_N, one.slack_m) for one in pulls),
        *((tie.tension_N, tie.slack_m) for tie in report.ties),
    ]
    slack = [one for one in lines if one[0] < 0.0049 and one[1] > 0]  # half a gram
    seen = show(page_html(settled, report), after="#pulls=on")
    assert seen.page.locator("#marks polyline.slack").count() == len(slack) > 0
    assert seen.page.locator("#marks polyline.pull").count() == len(lines) - len(slack)
    assert "5px" in seen.page.locator("#marks polyline.slack").first.evaluate(
        "(it) => getComputedStyle(it).strokeDasharray"
    )
    widths = seen.page.eval_on_selector_all(
        "#marks polyline.pull", "(all) => all.map((it) => +it.getAttribute('stroke-width'))"
    )
    assert max(widths) == 7  # the strongest pull of all
    assert sum(width > 4 for width in widths) == sum(
        pull > max(one[0] for one in lines) / 2 for pull, _ in lines
    )
    assert "slack 1/8 in" in seen.words("#marks")
    assert "hoop 1 lies on the wearer, front right" in seen.words("#marks")


def test_an_opaque_skirt_covers_slack_tapes_and_what_is_said_of_what_lies_under_it(show: Show) -> None:
    """Sample f has slack tapes in front, which bulge; sample d a panel and ties, and tapes on the far side."""
    seen = show(page_of("f"))
    seen.page.uncheck("#marks-on")
    seen.page.check("#skirt-opaque")
    for group in ("floor", "form", "waistband"):
        seen.page.uncheck(f'input[data-group="{group}"]')
    red, _, blue = (seen.pixels()[..., colour] for colour in range(3))
    assert (blue > red + 40).sum() > 20_000  # the skirt
    below = slice(int(0.3 * len(red)), int(0.75 * len(red)))  # off the waist and the hem
    assert (red > blue + 20)[below].sum() < 200  # linen; without the cover 1100, at the silhouette 60 stay
    seen = show(page_of("d"))
    named = seen.words("#marks")
    assert "Panel 1" in named
    assert "Lower tie" in named
    rings = seen.page.locator("#marks .badge").count()
    seen.page.check("#skirt-opaque")
    seen.settled()
    said = seen.words("#marks")
    assert "Panel" not in said
    assert "tie" not in said
    assert "Hoop 6" in said
    assert 4 <= seen.page.locator("#marks .badge").count() < rings


def test_numbers_of_tapes_keep_off_the_words_of_pulls(show: Show) -> None:
    seen = show(page_of("f"))
    seen.page.check("#pulls-on")
    seen.settled()
    words, rings = seen.page.evaluate("""() => [".pull-words", ".badge"].map((kind) =>
        [...document.querySelectorAll("#marks " + kind)].map((it) => { const {x, y, width, height} = it.getBBox();
            return [x, y, x + width, y + height]; }))""")
    assert len(words) > 5
    assert len(rings) > 4
    for left, top, right, low in rings:
        for a, b, c, d in words:
            assert min(right, c) - max(left, a) < 2 or min(low, d) - max(top, b) < 4

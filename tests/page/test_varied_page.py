"""The page of a sweep: what a slider shows is the variant it names, and nothing where there is no answer."""

from __future__ import annotations

import json
from collections.abc import Callable
from functools import cache
from typing import Any

import numpy as np
import pytest
from browser import Opened
from calling import SMALL

from cage3d.design.read import text_as_written
from cage3d.page.varied_page import places_shown, variants_on_page, varied_page
from cage3d.study.sweeping.ranges import steps_of
from cage3d.study.sweeping.sweep import Sweep
from cage3d.study.sweeping.vary import Varied, vary

Show = Callable[..., Opened]


def swept(*words: str) -> Varied:
    design, data = text_as_written(SMALL, "small.yaml")
    return vary(Sweep(design, data, steps_of(design, words)), nodes=24)


@cache
def lengths() -> Varied:
    """Hoop 2 of 22 in (refused), 42, 62 (as written) and 82 in."""
    return swept("hoop 2 length", "22..82", "by", "20")


@cache
def page() -> bytes:
    return varied_page(lengths(), None, range(4))


def data_of(html: bytes) -> dict[str, Any]:
    text = html.decode().partition('id="cage-data">')[2].partition("</script>")[0]
    return dict(json.loads(text))


def test_every_variant_that_hangs_is_a_stage():
    data = data_of(page())
    assert data["stages"] == ["42 in", "62 in", "82 in"]
    assert data["opening"] == "62 in"
    values = ["22 in", "42 in", "62 in", "82 in"]
    assert data["steps"] == {"values": [values], "names": values}
    hoop = next(part for part in data["cages"][0]["parts"] if part["name"] == "hoop 2")
    shapes = hoop["stages"] | {"82 in": hoop}
    for name in data["stages"]:
        # A ring on six tapes is round to a few parts in a hundred.
        assert shapes[name]["size"][0] == pytest.approx(float(name.split()[0]) * 0.0254 / np.pi, rel=0.04)
    assert page() == varied_page(lengths(), None, range(4))


def test_a_grid_of_many_is_picked_evenly():
    assert places_shown(7, 5) == (list(range(7)), list(range(5)))
    first, second = places_shown(50, 30)
    assert (first[0], first[-1], second[0], second[-1]) == (0, 49, 0, 29)
    assert len(first) * len(second) <= 40
    assert variants_on_page(50, 30)[1] == first[1]
    assert len(places_shown(1000, 1)[0]) == 40


def test_other_tapes_are_no_stages_of_one_cage():
    with pytest.raises(ValueError, match="not made of the same parts"):
        varied_page(swept("tape count", "5..6", "by", "1"), None, range(2))


def arrived(seen: Opened, words: str) -> None:
    """Waits until the cage stands, its labels are drawn and the address is written."""
    labelled = "(words) => document.querySelector('#marks').textContent.includes(words)"
    seen.page.wait_for_function(labelled, arg=words)
    seen.settled()


@pytest.mark.judge
def test_the_slider_steps_through_the_variants(show: Show):
    seen = show(page())
    said = seen.page.locator(".steps output")
    words = seen.page.locator(".stage-words:visible")
    assert said.inner_text() == "62 in"
    seen.page.uncheck('input[data-group="floor"]')
    seen.page.focus("#view")
    seen.page.keyboard.press(".")
    arrived(seen, "Hoop 2: 82 in")
    assert said.inner_text() == "82 in"
    assert words.inner_text().startswith("82 in: lowest hoop ")
    assert "stage=82+in" in seen.page.url
    wide = np.ptp(np.nonzero(seen.drawn().any(axis=0))[0])
    slider = seen.page.locator("input[data-step]")
    slider.focus()
    seen.page.keyboard.press("ArrowLeft")
    seen.page.keyboard.press("ArrowLeft")
    arrived(seen, "Hoop 2: 42 in")
    assert (said.inner_text(), slider.get_attribute("aria-valuetext")) == ("42 in", "42 in")
    # From 82 in round to the upper hoop's 52, which is then the widest.
    assert np.ptp(np.nonzero(seen.drawn().any(axis=0))[0]) == pytest.approx(wide * 52 / 82, rel=0.1)
    seen.page.click('button[aria-label="Variant before"]')
    assert said.inner_text() == "22 in"
    assert words.inner_text().startswith("22 in: no answer. hoops[1].length")
    assert not seen.page.locator("#view").is_visible()
    seen.page.click('button[aria-label="Variant before"]')
    arrived(seen, "Hoop 2: 82 in")
    assert said.inner_text() == "82 in"
    assert seen.page.locator("#view").is_visible()
    assert seen.complaints == []
    assert len(seen.requests) == 1


@pytest.mark.judge
def test_an_address_brings_its_variant(show: Show):
    seen = show(page(), after="#stage=42+in", width=390, height=800)
    assert seen.page.locator(".steps output").inner_text() == "42 in"
    assert seen.page.locator("input[data-step]").input_value() == "1"
    assert seen.page.evaluate("() => document.documentElement.scrollWidth <= window.innerWidth")


@pytest.mark.judge
def test_two_sliders_of_a_grid(show: Show):
    grid = swept("hoop 2 length", "60..64", "by", "2", "drop 1", "-1..+1", "by", "1")
    seen = show(varied_page(grid, None, range(9)))
    said = seen.page.locator(".steps output")
    assert said.all_inner_texts() == ["62 in", "0 in"]
    second = seen.page.locator("input[data-step]").nth(1)
    second.focus()
    seen.page.keyboard.press("ArrowRight")
    seen.page.wait_for_function("() => location.hash.includes('stage')")
    assert said.all_inner_texts() == ["62 in", "+1 in"]
    assert "stage=62+in%2C+%2B1+in" in seen.page.url
    seen.page.focus("#view")
    seen.page.keyboard.press(".")
    seen.page.keyboard.press(".")
    assert said.all_inner_texts() == ["60 in", "-1 in"]
    assert seen.complaints == []

"""The page of a fitting by keys, for a screen reader, on a tablet, and when something goes wrong."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest
from contrast import contrast, luminance
from fitting_page import NAME, Between, Tab

pytestmark = pytest.mark.judge("chromium")

NAMELESS = """() => [...document.querySelectorAll("button, input, select, summary, canvas, [role=tab], dialog")]
  .filter((it) => it.checkVisibility() || it.closest("dialog, [hidden]"))
  .filter((it) => !["aria-label", "aria-labelledby"].some((name) => it.getAttribute(name)))
  .filter((it) => !it.labels?.length && !it.textContent.trim())
  .map((it) => it.outerHTML.slice(0, 90))"""
# Watches how often a region that is read out changes.
WATCH = """() => { window.heard = []; const region = document.getElementById("announced");
  new MutationObserver(() => window.heard.push(region.textContent)).observe(region, {childList: true}); }"""


@pytest.fixture
def tab(shared: Tab) -> Iterator[Tab]:
    if shared.page.locator("#tab-changed").inner_text() != "Changed":
        shared.page.evaluate("() => document.getElementById('all-back').click()")
        shared.rested()
    shared.page.click("#tab-change")
    yield shared
    assert shared.complaints == []


def test_everything_has_a_name_and_every_slider_says_its_value(tab: Tab) -> None:
    assert tab.page.evaluate(NAMELESS) == []
    names = tab.page.evaluate(
        "() => [...document.querySelectorAll('input[type=range]')].map((it) => it.getAttribute('aria-label'))"
    )
    assert len(names) == len(set(names)) >= 4 + 32  # hoops and the drops of eight tapes
    assert tab.slider("hoops[0].length").get_attribute("aria-valuetext") == "48 in"
    assert tab.slider("skirt.weight").get_attribute("aria-valuetext") == "0.8 kg"
    assert tab.page.locator("[aria-live], [role=status], [role=alert], output").count() < 30


LOOKS = """() => { const look = (it) => { const s = getComputedStyle(it); let behind = it;
    while (behind && getComputedStyle(behind).backgroundColor === "rgba(0, 0, 0, 0)") behind = behind.parentElement;
    const ground = getComputedStyle(behind || document.body).backgroundColor;
    return [it.textContent.trim().slice(0, 30), s.color, ground, s.fill]; };
  const all = (what) => [...document.querySelectorAll(what)].filter((it) => it.checkVisibility()).map(look);
  return {ground: getComputedStyle(document.body).backgroundColor, drawn: all("#marks text"),
    words: all("button:not(:disabled), p, label, summary, h1, h2, h3, th, td, li, .by, .unit, .differing, .box")}; }"""


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_words_can_be_read(tab: Tab, scheme: str) -> None:
    """4.5:1 (WCAG 2.2, 1.4.3), with a value changed and one refused."""
    tab.page.emulate_media(color_scheme=scheme)
    tab.type("tapes.drops[3][0]", "10")
    tab.type("hoops[1].length", "-1")
    looks = tab.page.evaluate(LOOKS)
    assert (luminance(looks["ground"]) < 0.1) == (scheme == "dark")
    assert len(looks["words"]) > 60
    for name, colour, behind, _ in looks["words"]:
        assert contrast(colour, behind) >= 4.5, name
    assert any("slack" in name for name, *_ in looks["drawn"])
    for name, *_, fill in looks["drawn"]:
        assert contrast(fill, looks["ground"]) >= 4.5, name
    tab.page.emulate_media(color_scheme="light")


def test_a_name_cannot_break_out_of_its_place(tab: Tab) -> None:
    assert tab.words("h1") == NAME
    assert NAME in tab.page.title()
    assert tab.page.locator("img").count() == 0


def test_a_drag_is_read_out_once_it_rests_and_not_before(tab: Tab) -> None:
    tab.page.evaluate(WATCH)
    tab.drag("hoops[3].length", 0.7)
    tab.until(lambda: tab.page.evaluate("() => window.heard.length"), "nothing was read out")
    tab.until(lambda: "±" in tab.words("#summary"), "nothing was foretold")
    heard = tab.page.evaluate("() => window.heard")
    assert len(heard) == 1  # what is foretold later adds nothing to mind
    assert "4 hoops on 8 tapes" in heard[0]


def test_keys_alone_do_all_of_it(tab: Tab) -> None:
    page = tab.page
    page.focus("#view")
    page.keyboard.press("F6")
    assert page.evaluate("() => document.activeElement.closest('.panel') !== null")
    tab.slider("hoops[3].length").focus()
    for _ in range(4):
        page.keyboard.press("ArrowUp")
    page.keyboard.press("PageUp")
    tab.rested()
    assert tab.box("hoops[3].length").input_value() == "75 1/2"  # twelve eighths
    page.keyboard.press("r")
    tab.rested()
    assert tab.box("hoops[3].length").input_value() == "74"
    page.focus("#tab-change")
    page.keyboard.press("ArrowRight")
    assert page.locator("#panel-changed").is_visible()
    page.keyboard.press("End")
    assert page.locator("#panel-show").is_visible()
    page.keyboard.press("Home")
    page.keyboard.press("?")
    assert page.locator("#keys").is_visible()
    page.keyboard.press("Escape")
    assert not page.locator("#keys").is_visible()
    tab.box("hoops[3].length").fill("9")
    page.keyboard.press("Escape")
    assert tab.box("hoops[3].length").input_value() == "74"


def test_slack_and_the_cage_as_opened_are_drawn(tab: Tab) -> None:
    tab.page.click("text=Front >> nth=0")
    before = tab.picture()
    tab.type("tapes.drops[3][0]", "10")
    assert "slack" in tab.labels()
    assert tab.page.locator("#marks polyline.slack").count() >= 1
    assert "tape 4" in tab.words("#minded")
    tab.page.locator("#outline-on").evaluate("(it) => it.click()")
    without = tab.picture()
    tab.page.locator("#outline-on").evaluate("(it) => it.click()")
    assert tab.picture() != without
    tab.page.click("#undo")
    tab.rested()
    tab.page.evaluate("() => document.activeElement.blur()")
    assert tab.picture() == before


@pytest.mark.parametrize(("width", "height"), [(1280, 720), (1024, 768), (768, 1024)])
def test_nothing_is_cut_off(tab: Tab, width: int, height: int) -> None:
    tab.page.set_viewport_size({"width": width, "height": height})
    tab.labels()
    wide = tab.page.evaluate("() => [document.documentElement.scrollWidth, window.innerWidth]")
    assert wide[0] <= wide[1]
    for place in ("#save", "#help", "#tab-show", "#view", "#summary", "button[data-turn='90']"):
        found = tab.page.locator(place).bounding_box()
        assert found is not None, place
        assert found["x"] >= 0, place
        assert found["x"] + found["width"] <= width, place
        assert found["y"] + found["height"] <= height, place
    over = tab.page.evaluate(
        """() => [...document.querySelectorAll("button, summary, .control label, .control .box")]
          .filter((it) => it.checkVisibility() && it.scrollWidth > it.clientWidth + 1).map((it) => it.outerHTML)"""
    )
    assert over == []
    assert tab.page.locator("#view").bounding_box()["height"] > 0.35 * height
    tab.page.set_viewport_size({"width": 1280, "height": 720})


def test_what_was_not_saved_outlives_a_page_that_is_loaded_again(running: Any, address: str) -> None:
    tab = Tab.opened(running, address)
    tab.page.on("dialog", lambda dialog: dialog.accept())  # "leave this page?"
    tab.type("hoops[1].length", "61")
    for button in ("Back", "+", "+"):  # how she looks at it, too
        tab.page.click(f".views button >> text='{button}'")
    tab.labels()
    places = """() => [...document.querySelectorAll("#marks circle")]
      .flatMap((it) => [it.cx.baseVal.value, it.cy.baseVal.value])"""
    before = tab.page.evaluate(places)
    # 1.25 twice; the look is kept a pause after the last change
    kept = "() => (sessionStorage.getItem('cage3d look') || '').includes('zoom=1.56')"
    tab.until(lambda: tab.page.evaluate(kept), "how she looks at it was not kept")
    tab.page.reload()
    tab.until(lambda: tab.page.locator("#notice-kept").count(), "what was kept is not offered")
    tab.page.click("text=Take them up again")
    tab.until(lambda: "Hoop 2: 61 in" in tab.labels(), "it was not taken up")
    tab.rested()
    tab.labels()
    assert tab.page.evaluate(places) == pytest.approx(before, abs=0.5)  # px
    tab.page.close()


def test_a_state_that_is_no_answer_greys_the_last_shape_and_a_lost_program_keeps_what_was_changed(
    running: Any, address: str
) -> None:
    between = Between()
    tab = Tab.opened(running, address, between.stand)
    tab.page.on("dialog", lambda dialog: dialog.accept())
    tab.type("hoops[1].length", "61")
    far = {"kind": "still settling", "usual": [20, 60], "most": 3000}
    between.say(**far, seq=between.seq - 1, steps=900)  # of a move that was left already
    between.say(**far, seq=between.seq, steps=430)
    tab.until(
        lambda: "no rest in 430 steps of at most 3000; 20 to 60 are usual" in tab.words("#state"),
        "nothing is said of it",
    )
    assert "grayscale" in tab.page.evaluate("() => getComputedStyle(document.getElementById('view')).filter")
    between.say(kind="no rest", seq=between.seq, why="The third hoop turns over.")
    tab.until(lambda: tab.page.locator("#no-rest").is_visible(), "nothing is said of it")
    assert "The third hoop turns over." in tab.words("#no-rest")
    assert "grayscale" in tab.page.evaluate("() => getComputedStyle(document.getElementById('view')).filter")
    assert "Hoop 2: 61 in" in tab.labels()  # the last shape that hung
    tab.type("hoops[1].length", "60 1/2")
    assert not tab.page.locator("#no-rest").is_visible()
    sent, between.deaf = between.seq, True  # as when the process that settles ends, and another begins
    tab.box("hoops[2].length").fill("70")
    tab.box("hoops[2].length").press("Enter")
    tab.until(lambda: between.seq > sent, "the move did not go up")
    between.deaf = False
    between.say(**between.opened | {"keep": True})
    tab.until(lambda: "Hoop 3: 70 in" in tab.labels(), "what was changed was not sent again")
    assert "Hoop 2: 60 1/2 in" in tab.labels()
    tab.page.click("#tab-changed")
    tab.page.click("role=button[name='Put back Hoop 3 length']")
    tab.rested()
    between.page_end.close()
    tab.until(
        lambda: "Not connected" in tab.words("#state") or tab.page.locator("#notice-lost").count(), "not said"
    )
    tab.until(lambda: not tab.page.locator("#notice-lost").count(), "it never came back")
    tab.until(lambda: "Hoop 2: 60 1/2 in" in tab.labels(), "what was changed was lost")
    assert tab.words("#tab-changed") == "Changed (1)"
    tab.page.close()

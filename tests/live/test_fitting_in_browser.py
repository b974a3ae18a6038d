"""What a maker does on the page of a fitting: drags, types, takes back, saves, breaks the file, mends it."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from fitted import ON_CLOTH
from fitting_page import DESIGN, Between, Tab, served

pytestmark = pytest.mark.judge("chromium")


@pytest.fixture
def tab(shared: Tab, path: Path) -> Iterator[Tab]:
    """As in the file, before every test; no test leaves a complaint or a request to elsewhere."""
    if shared.page.locator("#tab-changed").inner_text() != "Changed":
        shared.page.evaluate("() => document.getElementById('all-back').click()")
        shared.rested()
    assert path.read_text("utf-8") == DESIGN
    shared.page.click("#tab-change")
    yield shared
    assert shared.complaints == []
    here = re.match(r"http://127\.0\.0\.1:\d+/", shared.address)
    assert here is not None
    assert {one for one in shared.requests if not one.startswith((here[0], "data:"))} == set()


def test_a_slider_moves_the_cage_and_what_is_said_of_it(tab: Tab) -> None:
    assert "Hoop 4: 74 in" in tab.labels()
    before = tab.picture()
    tab.drag("hoops[3].length", 0.75)
    box = tab.box("hoops[3].length").input_value()
    # The slider goes a fifth either way: three quarters of its way are 74 + 7.4 in, in eighths.
    whole, _, part = box.partition(" ")
    assert 80 <= float(whole) <= 82
    assert part in ("", "1/8", "1/4", "3/8", "1/2", "5/8", "3/4", "7/8")
    assert f"Hoop 4: {box} in" in tab.labels()
    assert tab.picture() != before
    assert "26 " in tab.words("#summary").split(";")[1]  # 81 1/2 in round is 26 in across
    assert tab.words("#tab-changed") == "Changed (1)"
    tab.page.click("#undo")  # one press for the whole of a drag
    tab.rested()
    assert tab.box("hoops[3].length").input_value() == "74"
    assert "Hoop 4: 74 in" in tab.labels()


FIRST_TOLD = """(slider) => new Promise((done) => {
  const heard = [];
  for (const kind of ["cage-shown", "cage-said"]) {
    document.addEventListener(kind, ({detail}) => {
      heard.push([kind, detail.seq]);
      if (kind === "cage-said") done([heard, document.getElementById("marks").textContent]);
    });
  }
  slider.value = 8;
  slider.dispatchEvent(new Event("input"));
})"""


def test_words_follow_the_shape_while_the_hand_is_at_it(tab: Tab) -> None:
    """Eight eighths of an inch on: what is said belongs to the shape of that very move, before the hand rests."""
    heard, written = tab.slider("hoops[3].length").evaluate(FIRST_TOLD)
    (first, shape), (then, words) = heard
    assert (first, then) == ("cage-shown", "cage-said")
    assert words == shape
    assert "Hoop 4: 75 in" in written
    tab.slider("hoops[3].length").dispatch_event("change")
    tab.rested()


def test_typed_undone_redone_and_put_back(tab: Tab) -> None:
    tab.type("hoops[1].length", "61 1/2")
    tab.type("hoops[2].length", "1800 mm")
    assert "Hoop 2: 61 1/2 in" in tab.labels()
    assert "Hoop 3: 70 7/8 in" in tab.labels()  # 1800 mm are 70.87 in
    tab.page.keyboard.press("Control+z")
    tab.rested()
    assert "Hoop 3: 69 in" in tab.labels()
    tab.page.keyboard.press("Control+y")
    tab.rested()
    assert "Hoop 3: 70 7/8 in" in tab.labels()
    tab.page.click("#tab-changed")
    said = [tab.page.locator("#changed li").nth(at).inner_text().split("\n")[:2] for at in range(2)]
    assert said == [["Hoop 2 length", "60 in → 61 1/2 in"], ["Hoop 3 length", "69 in → 1800 mm"]]
    tab.page.click("role=button[name='Put back Hoop 2 length']")
    tab.rested()
    assert "Hoop 2: 60 in" in tab.labels()
    assert tab.words("#tab-changed") == "Changed (1)"


def test_a_joined_slider_moves_all_of_them_in_whole_steps(tab: Tab) -> None:
    slider = tab.page.locator("input[aria-label='All hoops']")
    slider.evaluate("(it) => { it.value = 8; it.dispatchEvent(new Event('input')); }")  # eight eighths
    slider.dispatch_event("change")
    tab.until(lambda: "Hoop 4: 75 in" in tab.labels(), "the last hoop did not follow")
    for hoop, length in enumerate((49, 61, 70, 75)):
        assert tab.box(f"hoops[{hoop}].length").input_value() == str(length)
    assert tab.words(".together .by >> nth=0") == "+1 in"
    tab.rested()


def test_a_refused_value_is_said_at_its_box_and_is_no_state_of_the_design(tab: Tab) -> None:
    tab.type("hoops[2].length", "70")
    tab.type("hoops[1].length", "-1")
    row = tab.row("hoops[1].length")
    assert "cannot be less than zero" in row.inner_text()
    box = tab.box("hoops[1].length")
    assert (box.input_value(), box.get_attribute("aria-invalid")) == ("-1", "true")
    assert box.get_attribute("aria-describedby") == row.locator(".why").get_attribute("id")
    assert "Hoop 2: 60 in" in tab.labels()
    assert tab.words("#tab-changed") == "Changed (1)"
    row.locator(".why button").click()  # the nearest that can be
    tab.rested()
    assert box.get_attribute("aria-invalid") is None
    assert 30 < float(box.input_value().split()[0]) < 60
    tab.page.click("#undo")
    tab.rested()
    tab.type("hoops[1].length", "nonsense")
    assert box.get_attribute("aria-invalid") == "true"
    tab.type("hoops[2].length", "71")  # going on elsewhere leaves what was refused behind
    assert (box.get_attribute("aria-invalid"), box.input_value()) == (None, "60")
    assert "Hoop 3: 71 in" in tab.labels()


def test_saving_changes_the_value_and_nothing_else(tab: Tab, path: Path) -> None:
    tab.type("hoops[2].length", "70 1/2")
    tab.page.keyboard.press("Control+s")
    tab.until(lambda: tab.words("#tab-changed") == "Changed", "it was not saved")
    assert path.read_text("utf-8") == DESIGN.replace("length: 69", "length: 70 1/2")
    tab.rested()
    again = Tab.opened(tab.page.context.browser, tab.address)  # another tab, as on another day
    assert again.box("hoops[2].length").input_value() == "70 1/2"
    assert "Hoop 3: 70 1/2 in" in again.labels()
    again.page.close()
    path.write_text(DESIGN, "utf-8")  # and taken back in an editor
    tab.until(lambda: tab.box("hoops[2].length").input_value() == "69", "the file was not read anew")
    tab.rested()


def test_a_file_that_breaks_says_so_and_comes_back_when_it_is_mended(tab: Tab, path: Path) -> None:
    path.write_text(DESIGN.replace("waist: 26", "wiast: 26"), "utf-8")
    tab.until(lambda: tab.page.locator("#notice-unreadable").count(), "nothing was said of the file")
    assert "Line 4" in tab.words("#notice-unreadable")
    assert "wiast" in tab.words("#notice-unreadable")
    assert tab.page.evaluate("() => document.body.classList.contains('unreadable')")
    path.write_text(DESIGN.replace("length: 74", "length: 75"), "utf-8")
    tab.until(lambda: "Hoop 4: 75 in" in tab.labels(), "the mended file was not taken up")
    assert tab.page.locator(".notice").count() == 0
    path.write_text(DESIGN, "utf-8")
    tab.until(lambda: "Hoop 4: 74 in" in tab.labels(), "the file was not read anew")
    tab.rested()


def test_a_file_that_changes_under_unsaved_work_is_asked_about(tab: Tab, path: Path) -> None:
    tab.type("hoops[1].length", "61")
    path.write_text(DESIGN.replace("length: 74", "length: 75"), "utf-8")
    tab.until(lambda: tab.page.locator("#notice-disk").count(), "nothing was said of the file")
    assert tab.box("hoops[1].length").input_value() == "61"
    tab.page.click("text=Read the file anew")
    tab.until(lambda: "Hoop 4: 75 in" in tab.labels(), "the file was not read anew")
    assert tab.box("hoops[1].length").input_value() == "60"
    path.write_text(DESIGN, "utf-8")
    tab.until(lambda: "Hoop 4: 74 in" in tab.labels(), "the file was not read anew")
    tab.rested()


CURVE = '<svg viewBox="0 0 9 9" width="90" height="90"><path d="M0 0L9 9" stroke="#000"/></svg>'
FAILED = {"kind": "failed", "text": "The disk is full."}


def test_what_is_asked_for_is_shown_taken_and_told(running: Any, address: str) -> None:
    """The way back, a slider's curve, a download and a save that fails, answered as the program answers."""
    lengths = {"hoops[0].length": "48 1/2", "hoops[3].length": "73"}
    between = Between(
        {
            "aim": {"kind": "done", "values": lengths, "text": "Reached."},
            "curve": {"kind": "done", "svg": CURVE, "text": "7 of 7 hang."},
            "download": FAILED,
            "save": FAILED,
        }
    )
    tab = Tab.opened(running, address, between.stand)
    tab.page.on("dialog", lambda dialog: dialog.accept())
    tab.row("hoops[1].length").locator(".ask").click()
    tab.until(lambda: tab.page.locator("#answers-curve svg").is_visible(), "no curve is shown")
    assert tab.words("#answers-title") == "How the figures answer Hoop 2 length"
    tab.page.keyboard.press("Escape")
    tab.page.click("#tab-aim")
    assert tab.words("#wanted") == "hoop 4 height 17 1/2 in"
    tab.page.locator("#free .free-group", has_text="Drops").locator("input").first.uncheck()
    tab.page.click("#aim")
    tab.until(lambda: tab.words("#aimed") == "Reached.", "the way back was not told")
    tab.rested()
    assert "Hoop 1: 48 1/2 in" in tab.labels()
    assert "Hoop 4: 73 in" in tab.labels()
    tab.page.keyboard.press("Control+s")
    tab.until(lambda: tab.page.locator("#notice-disk").count(), "that it was not saved is not said")
    assert "The disk is full." in tab.words("#notice-disk")
    assert tab.words("#tab-changed") == "Changed (2)"
    tab.page.click("#make-menu summary")
    tab.page.click("text=Download the model")
    tab.until(lambda: "The disk is full." in tab.words("#notice-made"), "that it failed is not said")
    tab.page.click("#undo")  # one press for all that the way back changed
    assert tab.words("#tab-changed") == "Changed"
    curve, aim, save, download = between.asked
    assert curve["place"] == "hoops[1].length"
    assert sorted(aim["free"]) == [f"hoops[{hoop}].length" for hoop in range(4)]
    assert save["values"] == download["values"] == lengths
    assert download["what"] == "model"
    tab.page.close()


def test_a_design_on_its_own_cloth(running: Any, tmp_path: Path) -> None:
    """Its levels hoop by hoop, one of them moved; a weight typed in the unit of its box moves the slider along."""
    path = tmp_path / "gores.yaml"
    text = ON_CLOTH[0].read_text("utf-8")
    path.write_text(text.replace("hem: {clearance: [8, 10]}", "wanted: [{hoop: 5, height: 9}]"), "utf-8")
    with served(path) as address:
        tab = Tab.opened(running, address)
        assert tab.page.locator("#panel-change .group h2").all_inner_texts() == [
            "Lengths", "Levels", "Cloth", "Panels", "Skirt", "Steel"]  # fmt: skip
        assert tab.page.locator(".drop h3 >> nth=2").inner_text() == "Band to hoop 3, down the cloth"
        assert tab.words(".drop details >> nth=2").startswith("Each of the 6 seams")
        tab.type("cloth.fabric", "160 g/m2")
        assert tab.slider("cloth.fabric").input_value() == "4"  # steps of 5 g/m2 from 140
        tab.type("cloth.levels[3][2]", "22 1/2")
        tab.page.click("#tab-changed")
        said = tab.page.locator("#changed li").all_inner_texts()
        assert [one.split("\n")[:2] for one in said] == [
            ["Cloth weight", "140 g/m2 → 160 g/m2"], ["Seam 4 level 3", "22 in → 22 1/2 in"]]  # fmt: skip
        tab.page.click("#tab-aim")
        groups = tab.page.locator(".free-group > label").all_inner_texts()
        assert [one.strip() for one in groups] == ["Lengths", "Levels", "Panels"]
        assert tab.page.locator("#aim").is_enabled()
        assert not tab.complaints
        tab.page.close()

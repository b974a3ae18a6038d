"""The page for those who see little, see it in the dark or on paper, or whose browser draws or runs nothing."""

from __future__ import annotations

from collections.abc import Callable
from io import BytesIO

import numpy as np
import pdfplumber
import pytest
from browser import Opened
from contrast import contrast, luminance
from made import hung_hard, hung_sample, sample

from cage3d.mesh.dressing import dressing_steps
from cage3d.page.page import page_html

pytestmark = pytest.mark.judge
Show = Callable[..., Opened]
POINT = 72 / 25.4  # of a millimetre


def page_of(letter: str) -> bytes:
    settled, report = hung_sample(sample(letter))
    return page_html(settled, report, steps=dressing_steps(settled))


def test_contrast_is_reckoned_as_the_guidelines_do() -> None:
    assert contrast("rgb(0, 0, 0)", "rgb(255, 255, 255)") == pytest.approx(21)
    assert contrast("rgb(118, 118, 118)", "rgb(255, 255, 255)") == pytest.approx(4.54, abs=0.01)


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_controls_stand_out_and_words_can_be_read(show: Show, scheme: str) -> None:
    """3:1 for the edges of controls (WCAG 2.2, 1.4.11), 4.5:1 for words (1.4.3)."""
    seen = show(page_of("d"), color_scheme=scheme)
    seen.page.check("#pulls-on")
    looks = seen.page.evaluate("""() => {
      const look = (it) => { const s = getComputedStyle(it); return [it.textContent.trim().slice(0, 20), s.color,
        s.backgroundColor, s.borderTopColor, s.fill]; };
      return {ground: getComputedStyle(document.body).backgroundColor,
        controls: [...document.querySelectorAll("button, select")].map(look),
        words: [...document.querySelectorAll("p, label, summary, th, td, caption, h2, dt, dd, figcaption")].map(look),
        minded: look(document.querySelector(".warnings li")), mind: look(document.querySelector(".warnings")),
        drawn: ["said", "more", "number", "pull-words"].flatMap(
          (kind) => [...document.querySelectorAll(`#marks .${kind}`)].map(look))};
    }""")
    ground = looks["ground"]
    assert (luminance(ground) < 0.1) == (scheme == "dark")
    assert len(looks["controls"]) >= 14
    for name, colour, behind, edge, _ in looks["controls"]:
        assert contrast(colour, behind) >= 4.5, name
        assert max(contrast(edge, ground), contrast(behind, ground)) >= 3, name
    outside = [word for word in looks["words"] if not word[0].startswith("The drawing")]
    for name, colour, *_ in outside:
        assert contrast(colour, ground) >= 4.5, name
    assert contrast(looks["minded"][1], looks["mind"][2]) >= 4.5
    assert len(looks["drawn"]) > 10
    for name, *_, fill in looks["drawn"]:
        assert contrast(fill, ground) >= 4.5, name


def test_the_model_stands_on_a_dark_ground_in_the_dark(show: Show) -> None:
    corner = show(page_of("a"), color_scheme="dark").pixels()[2, 2]
    assert corner.max() < 64


def test_every_control_has_a_name_of_its_own(show: Show) -> None:
    seen = show(page_of("d"))
    wire = seen.page.context.new_cdp_session(seen.page)
    nodes = wire.send("Accessibility.getFullAXTree")["nodes"]
    names: dict[str, list[str]] = {}
    for node in nodes:
        role = node.get("role", {}).get("value", "")
        if not node.get("ignored") and role in (
            "button",
            "checkbox",
            "combobox",
            "DisclosureTriangle",
            "image",
        ):
            names.setdefault(role, []).append(node.get("name", {}).get("value", "").strip())
    for role, least in (("button", 11), ("checkbox", 14), ("DisclosureTriangle", 9)):
        assert len(names[role]) >= least, role
        assert all(names[role]), role
        assert len(set(names[role])) == len(names[role]), names[role]
    assert all(names["image"])


def test_without_scripts_there_is_the_drawing_and_no_dead_control(show: Show) -> None:
    seen = show(page_of("d"), java_script_enabled=False)
    assert seen.page.locator("svg.drawing").is_visible()
    for control in seen.page.locator("button, input, select, summary, canvas").all():
        assert not control.is_visible()
    assert seen.page.locator("text=Hoops as they hang").is_visible()


def test_every_table_is_whole_on_paper(show: Show) -> None:
    """Twelve hoops on twenty-four tapes, the widest tables there are."""
    settled, report = hung_hard()
    seen = show(page_html(settled, report, {"hoops", "tapes"}))
    cells = seen.page.eval_on_selector_all("td, th", "(all) => all.map((it) => it.textContent)")
    with pdfplumber.open(BytesIO(seen.page.pdf())) as paper:
        pictures = list(paper.pages[0].images)
        words = [word for page in paper.pages for word in page.extract_words()]
        width = paper.pages[0].width
    assert pictures
    assert max(word["x1"] for word in words) <= width - 11 * POINT
    printed = [word["text"] for word in words]
    for text in {part for cell in cells for part in cell.split()}:
        wanted = sum(cell.split().count(text) for cell in cells)
        assert printed.count(text) >= wanted, text


def test_the_model_is_printed_on_white(show: Show) -> None:
    seen = show(page_of("a"), color_scheme="dark")
    with pdfplumber.open(BytesIO(seen.page.pdf())) as paper:
        picture = np.asarray(paper.pages[0].to_image(resolution=40).original.convert("RGB")).astype(int)
    assert (picture.min(axis=2) > 250).mean() > 0.6
    coloured = np.ptp(picture, axis=2) > 40  # tapes, floor, form
    assert coloured.sum() > 200

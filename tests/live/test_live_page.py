"""The page of a fitting as it is sent: one file that asks for nothing, and numbers as she writes them."""

from __future__ import annotations

import json
import re
from itertools import product

import judges
import pytest

from cage3d.live.page import live_file, live_page
from cage3d.units import INCH, length, share, show_inches

SOCKET = "ws://127.0.0.1:4711/secret/live"
CONTROL = {"scale": INCH, "suffix": "", "unit": "in", "fractions": 16}


def test_the_page_may_speak_to_its_own_socket_and_to_nothing_else() -> None:
    page = live_page(SOCKET).decode()
    policy = re.search(r'Content-Security-Policy" content="([^"]*)"', page)
    assert policy is not None
    rules = dict(rule.strip().split(" ", 1) for rule in policy[1].split(";"))
    assert rules["default-src"] == "'none'"
    assert rules["connect-src"] == SOCKET
    assert rules["script-src"].startswith("'sha256-")
    assert re.findall(r'(?:src|href)="(?!data:|#)', page) == []
    assert re.findall(r"https?://(?!www\.w3\.org/)", page) == []


def test_every_element_that_a_script_asks_for_is_in_the_page() -> None:
    page = live_page(SOCKET).decode()
    ids = set(re.findall(r' id="([^"]+)"', page))
    script = page[page.index("const makePicture") :]
    asked = set(re.findall(r'\bby\("([a-z-]+)"\)', script))
    assert len(asked) > 25
    assert asked - ids == set()
    labelled = re.findall(r'(?:aria-controls|aria-labelledby)="([^"]+)"', page[: page.index("<script")])
    assert len(labelled) > 8
    assert set(labelled) - ids == set()


def in_node(expression: str) -> object:
    """The value of an expression, with `written.js` at hand."""
    code = f"{live_file('scripts/written.js')}\nconsole.log(JSON.stringify({expression}))"
    done = judges.run([judges.program("node"), "-e", code])
    assert done.returncode == 0, done.stderr
    return json.loads(done.stdout)


@pytest.mark.judge("node")
def test_lengths_are_written_as_everywhere_else() -> None:
    sixteenths = [-24, -1, 0, 1, 2, 8, 12, 16, 17, 120, 1184, 1201]
    lengths = [count * INCH / 16 for count in sixteenths]
    said = in_node(f"{lengths}.map((value) => written({json.dumps(CONTROL)}, value))")
    # "7 1/2", as `show_inches` says it; below nothing it says no sign of its own.
    assert said == [("-" if value < 0 else "") + show_inches(abs(value), 1 / 16) for value in lengths]
    strip = CONTROL | {"scale": 1e-3, "suffix": " mm", "unit": "mm", "fractions": 0}
    assert in_node(f"written({json.dumps(strip)}, 0.00055)") == "0.55 mm"


@pytest.mark.judge("node")
def test_what_is_typed_is_read_as_the_design_reads_it() -> None:
    numbers = ["7", "7.5", "7.25", "7 1/2", "7-1/2", "7½", "1/2", "0"]
    units = ["", " in", '"', " mm", "mm", " cm", " m", " ft", " inches"]
    typed = [number + unit for number, unit in product(numbers, units)]
    read = in_node(f"{json.dumps(typed)}.map((text) => valueOf({json.dumps(CONTROL)}, text))")
    assert isinstance(read, list)
    for text, value in zip(typed, read, strict=True):
        assert value == pytest.approx(length(text, "in"), abs=1e-12), text
    eased = CONTROL | {"scale": 0.01, "suffix": " %", "unit": "%", "fractions": 0}
    assert in_node(f"valueOf({json.dumps(eased)}, '5 %')") == pytest.approx(share("5 %"))
    # What this page cannot tell is left to the program: the slider stays, the text goes up as it is.
    assert (
        in_node(
            f"['1 lb 2', 'long', '', '7 apples', '1/0'].map((text) => valueOf({json.dumps(CONTROL)}, text))"
        )
        == [None] * 5
    )


@pytest.mark.judge("node")
def test_a_bare_number_in_a_box_of_another_unit_means_that_unit() -> None:
    """'8' in a box that says '7 mm' is no 8 inches."""
    strip = CONTROL | {"scale": 1e-3, "suffix": " mm", "unit": "mm", "fractions": 0}
    assert in_node(f"['8', '0.5', '3/8 in', '8 mm'].map((text) => withUnit({json.dumps(strip)}, text))") == [
        "8 mm", "0.5 mm", "3/8 in", "8 mm",
    ]  # fmt: skip
    assert in_node(f"withUnit({json.dumps(CONTROL)}, '8')") == "8"

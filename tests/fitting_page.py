"""A fitting as a maker has it: the command run on a file of her own, its page opened in Chromium."""

from __future__ import annotations

import json
import os
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from browser import TWO_FRAMES
from petticoat import GOOD

NAME = "Hers <img src=x onerror=alert(1)> & 裙撑"  # what a page must bear
DESIGN = GOOD.replace("name: Short petticoat", f"name: '{NAME}'").replace("units: in", "units: in   # hers")
DESIGN = DESIGN.replace("- {length: 69}", "- {length: 69}  # third")
DESIGN += "skirt: {weight: 0.8 kg}\nwanted: [{hoop: 4, height: 17 1/2}]\n"
PATIENCE = 180.0  # s, on a machine that does much else: to foretell takes seconds of a whole core
RESTING = ("hangs", "minded", "bad", "unreadable")


@contextmanager
def served(path: Path) -> Iterator[str]:
    """The address of a fitting of this file; the program has ended afterwards."""
    command = [sys.executable, "-m", "cage3d", "fitting", str(path), "--no-browser"]
    given = os.environ | {"OPENBLAS_NUM_THREADS": "1"}
    with subprocess.Popen(
        command, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True, env=given
    ) as running:
        assert running.stdout is not None
        try:
            yield running.stdout.readline().strip()
        finally:
            running.terminate()
            running.wait(PATIENCE)


@dataclass
class Tab:
    """The page in a tab, with what it asked for and complained of."""

    page: Any
    address: str
    requests: list[str] = field(default_factory=list)
    complaints: list[str] = field(default_factory=list)

    @classmethod
    def opened(cls, running: Any, address: str, wire: Callable[[Any], None] | None = None) -> Tab:
        """wire: stands between the page and the program, as playwright's `route_web_socket` takes it."""
        tab = cls(running.new_page(), address)
        tab.page.set_default_timeout(1000.0 * PATIENCE)
        tab.page.set_viewport_size({"width": 1280, "height": 720})
        if wire:
            tab.page.route_web_socket("**/live", wire)
        tab.page.on("request", lambda request: tab.requests.append(request.url))
        tab.page.on("console", lambda message: tab.complaints.append(message.text))
        tab.page.on("pageerror", lambda fault: tab.complaints.append(str(fault)))
        tab.page.goto(address)
        tab.rested()
        if tab.page.locator("#begin").is_visible():
            tab.page.click("#begin")
        return tab

    def until(self, holds: Callable[[], object], what: str) -> None:
        end = time.monotonic() + PATIENCE
        while not holds():
            assert time.monotonic() < end, f"{what}; it says: {self.words('#state')} {self.words('#notices')}"
            self.page.wait_for_timeout(50)

    def rested(self) -> None:
        """Waits until what was changed, which the page says at once, is settled, or refused, and said."""
        kind = "() => document.getElementById('state').dataset.kind"
        self.until(lambda: self.page.evaluate(kind) in RESTING, "it never came to rest")

    def words(self, place: str) -> str:
        return " ".join(str(self.page.locator(place).evaluate("(it) => it.textContent")).split())

    def row(self, place: str) -> Any:
        """The row of a value, within sight."""
        row = self.page.locator(f'.control[data-place="{place}"]')
        row.evaluate(
            "(it) => { for (let up = it; up; up = up.parentElement) if (up.open === false) up.open = true; }"
        )
        return row

    def box(self, place: str) -> Any:
        return self.row(place).locator(".box")

    def slider(self, place: str) -> Any:
        return self.row(place).locator("input[type=range]")

    def type(self, place: str, text: str) -> None:
        self.box(place).fill(text)
        self.box(place).press("Enter")
        self.rested()

    def drag(self, place: str, share: float) -> None:
        """Takes a slider's thumb where it stands to a share of its way, and lets go."""
        slider = self.slider(place)
        slider.scroll_into_view_if_needed()
        found = slider.bounding_box()
        at = "(it) => (Number(it.value) - Number(it.min)) / (Number(it.max) - Number(it.min))"
        ends = [found["x"] + 8 + part * (found["width"] - 16) for part in (slider.evaluate(at), share)]
        height = found["y"] + found["height"] / 2
        self.page.mouse.move(ends[0], height)
        self.page.mouse.down()
        self.page.mouse.move(ends[1], height, steps=8)
        self.page.mouse.up()
        self.rested()

    def a_frame_later(self) -> None:
        """Waits until what was changed is drawn: the page draws before the next frame but one."""
        self.page.evaluate(TWO_FRAMES)

    def labels(self) -> str:
        """What is written over the picture."""
        self.a_frame_later()
        return self.words("#marks")

    def picture(self) -> str:
        """The canvas as it stands once it stands still."""
        taken: list[str] = []

        def is_still() -> bool:
            self.a_frame_later()
            taken.append(str(self.page.locator("#view").evaluate("(it) => it.toDataURL()")))
            return len(taken) > 1 and taken[-1] == taken[-2]

        self.until(is_still, "the picture never stood still")
        return taken[-1]


@dataclass
class Between:
    """The wire of a page, into which a test can speak.

    answers: to what is asked for by its name, in the program's place; asked: what was asked for so; opened: how the
    program last told the design; deaf: moves that go up are lost.
    """

    answers: dict[str, dict[str, Any]] = field(default_factory=dict)
    asked: list[dict[str, Any]] = field(default_factory=list)
    seq: int = 0
    opened: dict[str, Any] = field(default_factory=dict)
    deaf: bool = False
    page_end: Any = None

    def stand(self, route: Any) -> None:
        self.page_end = route
        program = route.connect_to_server()

        def down(message: str | bytes) -> None:
            if isinstance(message, str) and json.loads(message)["kind"] == "opened":
                self.opened = json.loads(message)
            route.send(message)

        def up(message: str) -> None:
            told = json.loads(message)
            self.seq = told.get("seq", self.seq)
            if told.get("do") in self.answers:
                self.asked.append(told)
                self.say(id=told["id"], **self.answers[told["do"]])
            elif not self.deaf:
                program.send(message)

        program.on_message(down)
        route.on_message(up)

    def say(self, **message: Any) -> None:
        self.page_end.send(json.dumps(message))

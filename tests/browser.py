"""Pages opened in Debian's Chromium, as a person would by a double click, and what was drawn in them."""

from __future__ import annotations

import base64
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from io import BytesIO
from pathlib import Path
from typing import Any

import judges
import numpy as np
from PIL import Image

# Drawing in software: a machine that tests need not have a graphics card.
DRAWS = ("--no-sandbox", "--use-angle=swiftshader", "--enable-unsafe-swiftshader", "--ignore-gpu-blocklist")
DRAWS_NOT = ("--no-sandbox", "--disable-gpu", "--disable-3d-apis")

LONGEST_WAIT = 60.0  # s, on a machine that does much else
TWO_FRAMES = "() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)))"
# Nothing changed for so many ms and frames: longer than a change of stage takes (700), during which no words stand, and
# than the pause before the address is written (250).
UNCHANGED = """() => new Promise((done) => {
  const seen = () => [...document.querySelectorAll("canvas")].map((it) => it.toDataURL())
    .concat([...document.querySelectorAll("svg.marks")].map((it) => it.innerHTML), location.hash).join();
  let [before, since, frames] = [null, 0, 0];
  const look = () => {
    const now = seen();
    if (now !== before) [before, since, frames] = [now, performance.now(), 0];
    frames += 1;
    if (frames > 8 && performance.now() - since > 800) done();
    else setTimeout(() => requestAnimationFrame(look), 50);
  };
  requestAnimationFrame(look);
})"""


@dataclass
class Opened:
    """A page in the browser, with what it asked for and complained of."""

    page: Any
    requests: list[str] = field(default_factory=list)
    complaints: list[str] = field(default_factory=list)

    def pixels(self, view: str = "view") -> np.ndarray[Any, Any]:
        """(height, width, 3) of the canvas alone, without what is written over it."""
        self.page.evaluate(TWO_FRAMES)
        address = self.page.evaluate("(view) => document.getElementById(view).toDataURL()", view)
        png = base64.b64decode(address.split(",", 1)[1])
        return np.asarray(Image.open(BytesIO(png)).convert("RGB")).astype(int)

    def drawn(self, view: str = "view") -> np.ndarray[Any, Any]:
        """(height, width) whether something is drawn there: anything but the white ground."""
        return np.asarray(self.pixels(view).min(axis=2) < 250)

    def words(self, place: str) -> str:
        """The text of the element that a selector names, once what was changed is drawn."""
        self.page.evaluate(TWO_FRAMES)
        return str(self.page.locator(place).evaluate("(it) => it.textContent"))

    def settled(self) -> None:
        """Waits until a change of stage is over and the address is written."""
        self.page.evaluate(UNCHANGED)


@contextmanager
def browsers() -> Iterator[Callable[..., Any]]:
    """Starts browsers, each with its switches; all are closed at the end."""
    path = judges.program("chromium")
    try:
        from playwright.sync_api import sync_playwright
    except ImportError:
        judges.missing("playwright")
    with sync_playwright() as driver:
        yield lambda switches=DRAWS: driver.chromium.launch(executable_path=path, args=list(switches))


def opened(
    running: Any, path: Path, width: int = 1200, height: int = 900, after: str = "", **context: Any
) -> Opened:
    """The page of a file, loaded. after: what follows in its address; context: as playwright's new_page takes it."""
    page = running.new_page(viewport={"width": width, "height": height}, **context)
    page.set_default_timeout(1000.0 * LONGEST_WAIT)
    found = Opened(page)
    page.on("request", lambda request: found.requests.append(request.url))
    page.on("console", lambda message: found.complaints.append(message.text))
    page.on("pageerror", lambda fault: found.complaints.append(str(fault)))
    page.goto(path.as_uri() + after)
    page.wait_for_load_state("networkidle")
    if context.get("java_script_enabled", True):
        page.evaluate(TWO_FRAMES)
    return found

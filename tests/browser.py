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


@dataclass
class Opened:
    """A page in the browser, with what it asked for and complained of."""

    page: Any
    requests: list[str] = field(default_factory=list)
    complaints: list[str] = field(default_factory=list)

    def pixels(self) -> np.ndarray[Any, Any]:
        """(height, width, 3) of the canvas alone, without what is written over it."""
        self.page.evaluate(
            "() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)))"
        )
        address = self.page.evaluate("() => document.getElementById('view').toDataURL()")
        png = base64.b64decode(address.split(",", 1)[1])
        return np.asarray(Image.open(BytesIO(png)).convert("RGB")).astype(int)

    def drawn(self) -> np.ndarray[Any, Any]:
        """(height, width) whether something is drawn there: anything but the white ground."""
        return np.asarray(self.pixels().min(axis=2) < 250)


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


def opened(running: Any, path: Path, width: int = 1200, height: int = 900) -> Opened:
    """The page of a file, loaded."""
    page = running.new_page(viewport={"width": width, "height": height})
    found = Opened(page)
    page.on("request", lambda request: found.requests.append(request.url))
    page.on("console", lambda message: found.complaints.append(message.text))
    page.on("pageerror", lambda fault: found.complaints.append(str(fault)))
    page.goto(path.as_uri())
    page.wait_for_load_state("networkidle")
    return found

"""One browser for all tests of a file."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from browser import Opened, browsers, opened


@pytest.fixture(scope="module")
def start() -> Iterator[Callable[..., Any]]:
    """Starts a browser with the switches that it is given."""
    with browsers() as found:
        yield found


@pytest.fixture(scope="module")
def running(start: Callable[..., Any]) -> Iterator[Any]:
    """A browser that draws."""
    found = start()
    yield found
    found.close()


Show = Callable[..., Opened]


@pytest.fixture
def show(running: Any, tmp_path: Path) -> Iterator[Show]:
    """Opens a page in that browser: show(bytes, width=..., height=..., after=..., ...)."""
    seen: list[Opened] = []

    def shown(page: bytes, **given: Any) -> Opened:
        path = tmp_path / "a page.html"
        path.write_bytes(page)
        seen.append(opened(running, path, **given))
        return seen[-1]

    yield shown
    for one in seen:
        one.page.close()

"""One browser, one file and one program for all tests of a file."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from browser import browsers
from fitting_page import DESIGN, Tab, served


@pytest.fixture(scope="module")
def running() -> Iterator[Any]:
    with browsers() as start:
        found = start()
        yield found
        found.close()


@pytest.fixture(scope="module")
def path(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("hers") / "petticoat.yaml"


@pytest.fixture(scope="module")
def address(path: Path) -> Iterator[str]:
    path.write_text(DESIGN, "utf-8")
    with served(path) as found:
        yield found


@pytest.fixture(scope="module")
def shared(running: Any, address: str) -> Iterator[Tab]:
    tab = Tab.opened(running, address)
    yield tab
    tab.page.close()

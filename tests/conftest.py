"""The option that lets the slow tests run, and a file's tests kept on one core, which share what they settle."""

from __future__ import annotations

import gc
import sys

import judges
import pytest


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption("--slow", action="store_true", help="run the tests marked slow as well")


def pytest_configure() -> None:
    """What is settled, made and read is kept to the end: to walk over it for garbage took a tenth of the time."""
    gc.set_threshold(50_000, 50, 50)


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    if config.getoption("--slow"):
        return
    for item in items:
        if "slow" in item.keywords:
            item.add_marker(pytest.mark.skip(reason="slow; run with --slow"))


@pytest.hookimpl(tryfirst=True)
def pytest_cmdline_main(config: pytest.Config) -> None:
    """With `-n`, a file's tests run in one process unless --dist says otherwise: another would settle all anew."""
    if getattr(config.option, "numprocesses", None) and config.option.dist == "no":
        config.option.dist = "loadfile"


@pytest.fixture(autouse=True)
def _one_core(monkeypatch: pytest.MonkeyPatch) -> None:
    """What is put in the place of something in this process is not in children's: `make` does without them, but where
    a test is about them (tests/test_beside.py)."""
    if "cage3d.flow" in sys.modules:
        monkeypatch.setattr(sys.modules["cage3d.flow"], "cores", lambda: 1)


@pytest.hookimpl(tryfirst=True)
def pytest_runtest_setup(item: pytest.Item) -> None:
    """`judge("admesh")`: where that program is missing nothing is made that only it would look at."""
    for marker in item.iter_markers("judge"):
        for name in marker.args:
            judges.need(name)

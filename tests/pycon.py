"""The Python sessions of our pages (```pycon blocks): runs them, and writes their output back.

    python tests/pycon.py

puts fresh output into README.md and docs/python.md; tests/test_pages_of_python.py compares.
"""

from __future__ import annotations

import doctest
import os
import re
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from readme import README, ROOT, with_samples

PAGES = (README, ROOT / "docs" / "python.md")
BLOCK = re.compile(r"(?<=```pycon\n).*?(?=```)", re.DOTALL)


def examples(text: str) -> list[doctest.Example]:
    """All statements of all blocks, in order, each with the output that the page gives."""
    parser = doctest.DocTestParser()
    return [example for block in BLOCK.findall(text) for example in parser.get_examples(block)]


class Session(doctest.DocTestRunner):
    """Keeps what every statement prints."""

    def __init__(self) -> None:
        super().__init__(verbose=False)
        self.printed: list[str] = []

    def report_success(self, _out: Any, _test: Any, _example: Any, got: str) -> None:
        self.printed.append(got)

    def report_failure(self, _out: Any, _test: Any, _example: Any, got: str) -> None:
        self.printed.append(got)

    def report_unexpected_exception(self, _out: Any, _test: Any, _example: Any, exc_info: Any) -> None:
        raise exc_info[1]


def printed(statements: list[doctest.Example], folder: Path) -> list[str]:
    """What every statement prints, run one after another in a folder. Raises what a statement raises."""
    session = Session()
    with inside(folder):
        session.run(doctest.DocTest(statements, {}, "page", None, 0, ""), out=lambda _text: None)
    return session.printed


@contextmanager
def inside(folder: Path) -> Iterator[None]:
    before = Path.cwd()
    os.chdir(folder)
    try:
        yield
    finally:
        os.chdir(before)


def rewritten(text: str, folder: Path) -> str:
    """The page with fresh output in every block."""
    fresh = iter(printed(examples(text), folder))

    def session(block: re.Match[str]) -> str:
        shown = []
        for example in doctest.DocTestParser().get_examples(block[0]):
            first, *more = example.source.splitlines()
            shown += [f">>> {first}", *(f"... {line}" for line in more), *next(fresh).splitlines()]
        return "\n".join(shown) + "\n"

    return BLOCK.sub(session, text)


if __name__ == "__main__":
    for page in PAGES:
        with tempfile.TemporaryDirectory() as place:
            page.write_text(rewritten(page.read_text("utf-8"), with_samples(Path(place))), encoding="utf-8")

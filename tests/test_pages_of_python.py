"""What README and docs/python.md say of Python is true, and every name of the front door is told of."""

from __future__ import annotations

from pathlib import Path

import pytest
from kept import keep_answers
from pycon import PAGES, ROOT, examples, printed, rewritten
from readme import with_samples

import cage3d


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.name)
def test_every_statement_prints_what_the_page_says(
    page: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    keep_answers(monkeypatch)
    statements = examples(page.read_text(encoding="utf-8"))
    assert len(statements) > 3
    said = [(example.source, example.want) for example in statements]
    sources = [example.source for example in statements]
    assert list(zip(sources, printed(statements, with_samples(tmp_path)), strict=True)) == said


def test_fresh_output_takes_the_place_of_the_old(tmp_path: Path) -> None:
    page = "before\n```pycon\n>>> for n in (1, 2):\n...     print(n)\n5\n>>> x = 3\n```\nmiddle\n```pycon\n>>> x\n```\n"
    assert rewritten(page, tmp_path) == page.replace("5\n", "1\n2\n").replace(">>> x\n", ">>> x\n3\n")


def public(thing: type) -> set[str]:
    return {name for name in [*vars(thing), *thing.__annotations__] if not name.startswith("_")}


def test_every_name_is_on_the_page() -> None:
    page = (ROOT / "docs" / "python.md").read_text(encoding="utf-8").partition("## All names")[2]
    words = {
        word for code in page.split("`")[1::2] for word in code.replace("(", " ").replace(".", " ").split()
    }
    told = set(cage3d.__all__)
    for thing in (cage3d.WrittenCage, cage3d.HungCage, cage3d.VariedCages, cage3d.VariantCage):
        told |= public(thing)
    assert told - {"varied", "told"} <= words  # both hold what the other names give

"""Words that went from the tree: abbreviations of printing, papers outside the project, named typefaces."""

from __future__ import annotations

import re
import subprocess
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
# A fitting is where she is fitted: minutes of it are planned, priced and tried.
FITS_HER = {
    "design.schema.json",
    "key_words.py",
    "quote.py",
    "making.py",
    "test_order.py",
    "examples.py",
    "fitting_page.py",
    "fitting.py",
    "test_command.py",
    "test_tabs.py",
}
# What went, and the files that may still say it: earlier designs are read, and a test writes one.
WENT = {
    "ways of printing by abbreviation": (r"fdm|\bsla\b|\bsls\b", {"texts.py", "test_earlier_words.py"}),
    "papers outside the project": (r"trade notes|worked designs|as printed there|service bureau", set()),
    "demonstrations": (r"\bdemo\b|demonstrat", set()),
    "somebody else's sentence": (r"fashion journal|must meet in front|quarter of a yard\"", set()),
    "the material that is not a fitting": (r"[\"']fitting[\"']", FITS_HER),
    "named typefaces of a screen": (r"segoe|noto sans|verdana|roboto", set()),
}
NO_TEXT = {".png", ".ttf", ".npz"}
# Licences are kept word by word.
AS_THEY_ARE = {"DejaVuSans-LICENSE.txt"}


def tracked() -> list[Path]:
    """Every text file of the tree, this one aside."""
    if not (ROOT / ".git").exists():
        pytest.skip("not a checkout: what belongs to the tree cannot be told")
    listed = subprocess.run(["git", "ls-files", "-z"], cwd=ROOT, capture_output=True, check=True).stdout
    paths = [ROOT / name for name in listed.decode().split("\0") if name]
    here = Path(__file__).resolve()
    return [
        path
        for path in paths
        if path.is_file()
        and path.suffix not in NO_TEXT
        and path.name not in AS_THEY_ARE
        and path.resolve() != here
    ]


def found(pattern: str, allowed: set[str]) -> list[str]:
    said = re.compile(pattern, re.IGNORECASE)
    return [
        f"{path.relative_to(ROOT)}:{number}: {line.strip()}"
        for path in tracked()
        if path.name not in allowed
        for number, line in enumerate([path.name, *path.read_text("utf-8").splitlines()])
        if said.search(line)
    ]


@pytest.mark.parametrize("what", WENT, ids=[what.replace(" ", "-") for what in WENT])
def test_words_that_went_stay_away(what: str) -> None:
    assert found(*WENT[what]) == []


def test_the_guard_itself_can_fail() -> None:
    assert any(
        line.startswith("tests/test_house.py") for line in found("comparisons that assert nothing", set())
    )


def test_the_page_names_no_typeface() -> None:
    (style,) = [path for path in tracked() if path.name == "page.css"]
    fonts = re.findall(r"font(?:-family)?:\s*([^;]*[a-z-]*serif[^;]*);", style.read_text("utf-8"))
    assert [re.sub(r"^[^a-z]*[\d.]+\S*\s+", "", font) for font in fonts] == ["system-ui, sans-serif"]

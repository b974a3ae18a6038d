"""README tells the truth: its commands run, and print what it says."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from readme import README, ROOT, examples, run, with_samples
from ruamel.yaml import YAML

from cage3d.design.read import read_data
from cage3d.design.rules import remarks

TEXT = README.read_text(encoding="utf-8")
EXAMPLES = examples(TEXT)


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return with_samples(tmp_path_factory.mktemp("readme"))


def test_every_command_prints_what_the_readme_says(folder: Path) -> None:
    """In order and in one folder, since later commands use what earlier ones wrote."""
    said = {example.command: run(example.command, folder) for example in EXAMPLES}
    assert said == {example.command: example.output for example in EXAMPLES}


def test_every_command_of_the_tool_is_shown() -> None:
    shown = {example.command.split()[1] for example in EXAMPLES if example.command.startswith("cage3d ")}
    listed = re.findall(r"^  ([a-z]+)  ", run("cage3d --help", ROOT).partition("Commands:")[2], re.MULTILINE)
    assert len(listed) >= 6
    assert shown >= set(listed)


def test_the_test_command_is_the_one_that_ci_runs() -> None:
    line = 'python3 -m venv .venv && .venv/bin/pip install -q -e ".[test]" && .venv/bin/pytest -q -n auto'
    assert f"\n{line}\n" in TEXT
    assert f"\n{line}\n" in (ROOT / ".ci" / "run").read_text(encoding="utf-8")


def test_pictures_and_links_lead_somewhere() -> None:
    places = [place for place in re.findall(r"\]\(([^)#]+)\)", TEXT) if not place.startswith("http")]
    assert places
    assert [place for place in places if not (ROOT / place).exists()] == []


def test_designs_shown_are_designs() -> None:
    """The first block is one whole; each after it holds lines to put into that one instead."""
    blocks = [
        YAML(typ="safe", pure=True).load(text) for text in re.findall(r"```yaml\n(.*?)```", TEXT, re.DOTALL)
    ]
    assert len(blocks) >= 2
    for more in blocks[1:]:
        design = read_data(blocks[0] | more)
        assert list(remarks(design)) == []
        assert set(more) <= set(design.model_fields_set)
    assert [skirt.weight for skirt in design.skirts] == [0.3, 0.8]

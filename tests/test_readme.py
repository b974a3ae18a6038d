"""README tells the truth: its commands run, and print what it says."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from calling import Caller, foretold_in_part
from half_size import draw_half_size
from readme import README, ROOT, TUTORIAL, examples, run, split_off, with_samples
from ruamel.yaml import YAML
from settled import SAMPLES

from cage3d import flow
from cage3d.design.read import read, read_data
from cage3d.design.rules import remarks
from cage3d.design.rules.openings import is_half
from cage3d.units import INCH

TEXT = README.read_text(encoding="utf-8")
EXAMPLES = examples(TEXT)


@pytest.fixture
def cage3d(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Caller:
    for name in ("DISPLAY", "WAYLAND_DISPLAY"):
        monkeypatch.delenv(name, raising=False)
    draw_half_size(monkeypatch)  # of pictures the pages print the names
    return Caller(tmp_path, monkeypatch, capsys)


def answered(command: str, cage3d: Caller) -> str:
    """What a command prints: the tool called in this process, what stands beside and behind it by the shell."""
    own = split_off(command)
    if own is None:
        return run(command, cage3d.folder)
    with cage3d.monkeypatch.context() as patch:
        if own[1].startswith(
            "grep"
        ):  # for heights, widths and weights; what marks and a hand do is not looked for
            patch.setattr(flow, "foretold", foretold_in_part)
        said = cage3d(*own[0])
    return run(own[1], cage3d.folder, said.out) + said.err


def test_every_command_prints_what_the_readme_says(cage3d: Caller) -> None:
    """In order and in one folder, since later commands use what earlier ones wrote."""
    with_samples(cage3d.folder)
    said = {example.command: answered(example.command, cage3d) for example in EXAMPLES}
    assert said == {example.command: example.output for example in EXAMPLES}


def test_the_tutorial_goes_as_it_says(cage3d: Caller) -> None:
    steps = examples(TUTORIAL.read_text(encoding="utf-8"))
    assert len(steps) > 8
    for step in steps:
        assert answered(step.command, cage3d) == step.output, step.command


def test_a_command_as_the_shell_runs_it(tmp_path: Path) -> None:
    """The same from the shell, in a process of its own, as a reader types it."""
    (own,) = (
        example for example in EXAMPLES if "wrong.yaml" in example.command and "> wrong" in example.command
    )
    with_samples(tmp_path)
    assert run(own.command, tmp_path) == own.output
    (check,) = (example for example in EXAMPLES if example.command == "cage3d check wrong.yaml")
    assert run(check.command, tmp_path) == check.output


def test_what_is_split_off_for_this_process() -> None:
    assert split_off("cage3d check a.yaml --carry 3 | grep 'a | b'") == (
        ["check", "a.yaml", "--carry", "3"],
        "grep 'a | b'",
    )
    assert split_off('cage3d new a.yaml --clearance "8 to 10" --skirt "a > b"') == (
        ["new", "a.yaml", "--clearance", "8 to 10", "--skirt", "a > b"], "cat"
    )  # fmt: skip
    assert split_off("cage3d check a.yaml --json > a.json") == (["check", "a.yaml", "--json"], "cat > a.json")
    assert split_off("sed 's/cage3d check/x/' a > b") is None


def test_every_command_of_the_tool_is_shown() -> None:
    shown = {example.command.split()[1] for example in EXAMPLES if example.command.startswith("cage3d ")}
    # What opens a page prints nothing and ends when it is told to: its picture stands below it.
    shown |= set(re.findall(r"^```sh\ncage3d ([a-z]+) \S+\n```\n\n!\[", TEXT, re.MULTILINE))
    listed = re.findall(r"^  ([a-z]+)  ", run("cage3d --help", ROOT).partition("Commands:")[2], re.MULTILINE)
    assert len(listed) >= 6
    assert shown >= set(listed)


def test_setting_up_stands_near_the_top() -> None:
    """A picture, one paragraph, what must be installed before, and the line that does the main job."""
    top = TEXT.partition("\n## ")[0]
    line = "python3 -m venv .venv && .venv/bin/pip install -q . && .venv/bin/cage3d make samples/c-long-dome.yaml -o"
    assert top.index("![") < top.index("apt install libegl1") < top.index(line)


def test_the_test_command_is_the_one_that_ci_runs() -> None:
    line = 'python3 -m venv .venv && .venv/bin/pip install -q -e ".[test]" && .venv/bin/pytest -q -n auto'
    assert f"\n{line}\n" in TEXT
    assert f"\n{line}\n" in (ROOT / ".ci" / "run").read_text(encoding="utf-8")


def test_designs_shown_are_designs() -> None:
    """The first block is one whole; each after it holds lines to put into that one instead."""
    blocks = [
        YAML(typ="safe", pure=True).load(text) for text in re.findall(r"```yaml\n(.*?)```", TEXT, re.DOTALL)
    ]
    assert len(blocks) >= 2
    designs = [read_data(blocks[0] | more) for more in blocks[1:]]
    for design, more in zip(designs, blocks[1:], strict=True):
        assert list(remarks(design)) == []
        assert set(more) <= set(design.model_fields_set)
    assert [skirt.weight for skirt in designs[0].skirts] == [0.3, 0.8]


PAGES = [README, ROOT / "CHANGELOG.md", *sorted((ROOT / "docs").glob("*.md")), ROOT / "samples" / "README.md"]


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.name)
def test_pictures_and_links_lead_somewhere(page: Path) -> None:
    links = re.findall(r"\]\(([^)#]+)", page.read_text(encoding="utf-8"))
    assert [link for link in links if not link.startswith("http") and not (page.parent / link).exists()] == []


def test_every_page_can_be_reached_from_the_readme() -> None:
    assert {f"docs/{page.name}" for page in (ROOT / "docs").glob("*.md")} <= set(
        re.findall(r"\]\(([^)#]+)", TEXT)
    )


def test_the_gallery_shows_every_sample_as_it_is() -> None:
    gallery = (ROOT / "docs" / "gallery.md").read_text(encoding="utf-8").split("\n## ")[1:]
    assert len(gallery) == len(SAMPLES)
    for path, section in zip(SAMPLES, gallery, strict=True):
        design = read(path)
        inches = f"{design.hoops[-1].length / INCH:.2f}".rstrip("0").rstrip(".")
        hem = f"{inches[:-2]} 1/2" if inches.endswith(".5") else inches
        carriers = "tapes" if design.cloth is None else "gores"
        beside = design.hoops[-1].beside is not None
        way = "end to end" if beside or is_half(design, len(design.hoops) - 1) else "round"
        told = f"{len(design.hoops)} hoops on {design.tapes.count} {carriers}, hem hoop {hem} in {way}."
        assert told in " ".join(section.split())
        assert f"](../samples/{path.name})" in section
        assert f"](../samples/{path.stem}.png)" in section

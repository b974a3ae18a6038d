"""The console blocks of README.md and docs/tutorial.md: reads them, runs their commands, writes their output back.

    python tests/readme.py

puts fresh output into both; tests/test_readme.py compares. What a maker changes in an editor stands in a remark that
no reader sees, <!-- by hand: s/old/new/ FILE -->, and is done with sed.
"""

from __future__ import annotations

import os
import re
import shlex
import shutil
import subprocess
import sys
import tempfile
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).parents[1]
README, TUTORIAL = ROOT / "README.md", ROOT / "docs" / "tutorial.md"
BLOCK = re.compile(
    r"```console\n(?P<block>.*?)```|<!-- by hand: (?P<change>\S.*?) (?P<file>\S+) -->", re.DOTALL
)

OWN = re.compile(
    r"""cage3d[ ](?P<arguments>([^|>'"]|'[^']*'|"[^"]*")+) (\|[ ]*(?P<reader>.*)|(?P<into>>.*))?""",
    re.VERBOSE,
)


@dataclass(frozen=True)
class Example:
    """One command as typed after "$ ", and what README says it prints."""

    command: str
    output: str

    def __str__(self) -> str:
        return f"$ {self.command}\n{self.output}"


def examples(text: str) -> list[Example]:
    """All commands of all console blocks and all changes by hand, in order."""
    found = []
    for place in BLOCK.finditer(text):
        if place["change"]:
            file = place["file"]
            found.append(Example(f"sed '{place['change']}' {file} > changed && mv changed {file}", ""))
            continue
        block = place["block"]
        for part in re.split(r"^\$ ", block, flags=re.MULTILINE)[1:]:
            command, _, output = part.partition("\n")
            found.append(Example(command, output))
    return found


def split_off(command: str) -> tuple[list[str], str] | None:
    """(arguments, rest) of `cage3d ARGUMENTS` alone or with `| REST` or `> FILE` behind it; None for any other.

    The rest is a command of the shell that reads what cage3d prints.
    """
    own = OWN.fullmatch(command)
    if own is None:
        return None
    return shlex.split(own["arguments"]), own["reader"] or f"cat {own['into'] or ''}".strip()


def run(command: str, folder: Path, given: str | None = None) -> str:
    """What a command prints, both streams in turn; `cage3d` is the one beside this Python, without a display.

    given: what it reads.
    """
    environment = {
        name: value for name, value in os.environ.items() if name not in ("DISPLAY", "WAYLAND_DISPLAY")
    }
    environment["PATH"] = os.pathsep.join([str(Path(sys.executable).parent), environment.get("PATH", "")])
    done = subprocess.run(
        command,
        shell=True,
        cwd=folder,
        env=environment,
        input=given,
        capture_output=True,
        text=True,
        check=False,
        timeout=600,
    )
    return done.stdout + done.stderr


def with_samples(folder: Path) -> Path:
    """The folder in which the README's commands make sense."""
    shutil.copytree(ROOT / "samples", folder / "samples", ignore=shutil.ignore_patterns("*.png"))
    return folder


def rewrite() -> None:
    for page in (README, TUTORIAL):
        with tempfile.TemporaryDirectory() as folder:
            page.write_text(
                fresh(page.read_text(encoding="utf-8"), with_samples(Path(folder))), encoding="utf-8"
            )


def fresh(text: str, place: Path) -> str:
    """The page with what its commands print today; a command that stands there twice is met in turn."""
    done = 0
    for example in examples(text):
        at = text.find(str(example), done)
        if at >= 0:
            new = str(Example(example.command, run(example.command, place)))
            text = text[:at] + new + text[at + len(str(example)) :]
            done = at + len(new)
        else:
            run(example.command, place)
    return text


if __name__ == "__main__":
    rewrite()

"""The console blocks of README.md: reads them, runs their commands, and writes their output back.

    python tests/readme.py

puts fresh output into README.md; tests/test_readme.py compares.
"""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
import tempfile
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).parents[1]
README = ROOT / "README.md"
BLOCK = re.compile(r"```console\n(.*?)```", re.DOTALL)


@dataclass(frozen=True)
class Example:
    """One command as typed after "$ ", and what README says it prints."""

    command: str
    output: str

    def __str__(self) -> str:
        return f"$ {self.command}\n{self.output}"


def examples(text: str) -> list[Example]:
    """All commands of all console blocks, in order."""
    found = []
    for block in BLOCK.findall(text):
        for part in re.split(r"^\$ ", block, flags=re.MULTILINE)[1:]:
            command, _, output = part.partition("\n")
            found.append(Example(command, output))
    return found


def run(command: str, folder: Path) -> str:
    """What a command prints, both streams in turn; `cage3d` is the one beside this Python, without a display."""
    environment = {
        name: value for name, value in os.environ.items() if name not in ("DISPLAY", "WAYLAND_DISPLAY")
    }
    environment["PATH"] = os.pathsep.join([str(Path(sys.executable).parent), environment.get("PATH", "")])
    done = subprocess.run(
        command,
        shell=True,
        cwd=folder,
        env=environment,
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
    text = README.read_text(encoding="utf-8")
    with tempfile.TemporaryDirectory() as folder:
        place = with_samples(Path(folder))
        for example in examples(text):
            text = text.replace(str(example), str(Example(example.command, run(example.command, place))), 1)
    README.write_text(text, encoding="utf-8")


if __name__ == "__main__":
    rewrite()

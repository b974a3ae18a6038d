"""A folder of results: nothing in it is overwritten but what this tool wrote and nobody changed since.

What was written stands in `cage3d-made.json` beside it, each file with its SHA-256.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path

from cage3d.errors import OutputError, Problem
from cage3d.write.files import write_whole

MADE = "cage3d-made.json"


@dataclass(frozen=True)
class Folder:
    """A place for results. force: overwrite what is in the way."""

    path: Path
    force: bool = False

    def put(self, files: Mapping[str, bytes]) -> tuple[Path, ...]:
        """Writes all files, by name, or none of them where one is in the way.

        Raises OutputError naming every file that is somebody else's or was changed by hand.
        """
        made = self.made()
        faults = (
            []
            if self.force
            else [self.in_the_way(name) for name in files if not self.ours(name, files[name], made)]
        )
        if faults:
            raise OutputError(faults)
        written = []
        for name, data in files.items():
            written.append(write_whole(self.path / name, data))
            made[name] = fingerprint(data)
        listed = json.dumps(
            {"made by": "cage3d", "sha256": dict(sorted(made.items()))}, indent=1, ensure_ascii=False
        )
        write_whole(self.path / MADE, (listed + "\n").encode())
        return tuple(written)

    def made(self) -> dict[str, str]:
        """Fingerprints of what earlier runs wrote here. Raises OutputError where the list cannot be read."""
        try:
            listed = json.loads((self.path / MADE).read_text(encoding="utf-8"))["sha256"]
            return {str(name): str(print_) for name, print_ in listed.items()}
        except (FileNotFoundError, NotADirectoryError):
            return {}
        except (OSError, ValueError, TypeError, KeyError, AttributeError) as fault:
            if self.force:
                return {}
            why = "the list of what was made here cannot be read"
            raise OutputError(
                Problem(
                    str(self.path / MADE), "", why, "Choose another folder, or write over it with --force"
                )
            ) from fault

    def ours(self, name: str, data: bytes, made: Mapping[str, str]) -> bool:
        """Whether a file may be written: it is not there, is as we left it, or already holds the same."""
        try:
            present = fingerprint((self.path / name).read_bytes())
        except (FileNotFoundError, NotADirectoryError):
            return True
        except OSError:
            return False
        return present in (made.get(name), fingerprint(data))

    def in_the_way(self, name: str) -> Problem:
        return Problem(
            str(self.path / name),
            "",
            "this file is there already, and was not made by this tool or was changed since",
            "Choose another folder, move the file away, or write over it with --force",
        )


def fingerprint(data: bytes) -> str:
    return sha256(data).hexdigest()


def file_stem(name: str) -> str:
    """A design's name as the start of file names: letters of any script and digits, joined by '-'."""
    words = "".join(sign if sign.isalnum() else " " for sign in name.lower()).split()
    return "-".join(words)[:60].strip("-") or "cage"

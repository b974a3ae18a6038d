"""Files that a page may fetch: from memory, under numbers that were given out, until its tab is closed."""

from __future__ import annotations

import mimetypes
import re
from collections.abc import Hashable
from dataclasses import dataclass
from itertools import count
from urllib.parse import quote

MOST_KEPT = 4  # of a tab; one of everything may take 50 MB
READY = re.compile(r"ready/([0-9]{1,9})")
KINDS = {".glb": "model/gltf-binary", ".html": "text/html; charset=utf-8"}


@dataclass(frozen=True)
class Kept:
    """One file. owner: the tab that asked for it."""

    owner: Hashable
    name: str
    data: bytes

    @property
    def kind(self) -> str:
        end = self.name[self.name.rfind(".") :]
        return KINDS.get(end) or mimetypes.guess_type(self.name)[0] or "application/octet-stream"

    @property
    def disposition(self) -> str:
        """It is saved and never shown here, where it would share the address of the page."""
        return f"attachment; filename*=UTF-8''{quote(self.name, safe='')}"


class Shelf:
    """All of them."""

    def __init__(self, before: str) -> None:
        """before: what stands before `/ready/7` in a path."""
        self.before, self.kept, self.numbers = before, dict[int, Kept](), count(1)

    def put(self, owner: Hashable, name: str, data: bytes) -> str:
        """The path under which it can be fetched; of a tab's files the oldest make room."""
        number = next(self.numbers)
        self.kept[number] = Kept(owner, name, data)
        own = [one for one, kept in self.kept.items() if kept.owner is owner]
        for old in own[:-MOST_KEPT]:
            del self.kept[old]
        return f"{self.before}/ready/{number}"

    def at(self, path: str) -> Kept | None:
        """What lies under a path, behind the secret; None where nothing does."""
        found = READY.fullmatch(path)
        return None if found is None else self.kept.get(int(found[1]))

    def clear(self, owner: Hashable) -> None:
        self.kept = {number: kept for number, kept in self.kept.items() if kept.owner is not owner}

"""Whether the design's file was touched, by an editor beside the page."""

from __future__ import annotations

import asyncio
from collections.abc import Callable
from pathlib import Path

LOOKS_EVERY = 0.3  # s
Mark = tuple[int, int, int] | None


def mark_of(path: Path) -> Mark:
    """Changes when the file is written or replaced; None where there is none."""
    try:
        told = path.stat()
    except OSError:
        return None
    return told.st_mtime_ns, told.st_size, told.st_ino


async def watch(path: Path, touched: Callable[[], object], every: float = LOOKS_EVERY) -> None:
    """Says so whenever the file has been touched and then left alone for a look: editors write in several steps."""
    told = before = mark_of(path)
    while True:
        await asyncio.sleep(every)
        now = mark_of(path)
        if now == before and now != told:
            told = now
            touched()
        before = now

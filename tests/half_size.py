"""Pictures half as large with letters half as large: the same papers, a quarter of the work."""

from __future__ import annotations

from typing import Any

import pytest

from cage3d.draw import pictures, sheet


def half_of(size: Any) -> Any:
    """Of a figure in px or of several."""
    if isinstance(size, tuple):
        return tuple(map(half_of, size))
    return size // 2 if isinstance(size, int) else size / 2


def draw_half_size(monkeypatch: pytest.MonkeyPatch) -> None:
    """From here to the end of the test."""
    for name in ("TALL", "WIDE", "TEXT"):
        monkeypatch.setattr(pictures, name, half_of(getattr(pictures, name)))
    for name in ("WIDTH", "HEIGHT", "HEAD", "EDGE", "CELL", "TEXT", "LINE", "FIRST_COLUMN"):
        monkeypatch.setattr(sheet, name, half_of(getattr(sheet, name)))

from __future__ import annotations

from pathlib import Path

import pytest
from calling import Caller


@pytest.fixture
def cage3d(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Caller:
    return Caller(tmp_path, monkeypatch, capsys)

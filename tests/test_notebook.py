"""The notebook in samples/ is a valid one, and its cells print and show what stands in it."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import nbformat
import pytest
from kept import keep_answers
from notebook import NOTEBOOK, run
from readme import with_samples


def of_cells(*sources: str) -> dict[str, Any]:
    return {"cells": [{"cell_type": "code", "source": [source], "outputs": []} for source in sources]}


def test_every_cell_gives_what_stands_in_the_notebook(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    keep_answers(monkeypatch)
    notebook = json.loads(NOTEBOOK.read_text(encoding="utf-8"))
    assert run(notebook, with_samples(tmp_path) / "samples") == notebook
    shown = [
        data for cell in notebook["cells"] for out in cell.get("outputs", ()) for data in out.get("data", ())
    ]
    assert "text/html" in shown


def test_it_is_a_notebook() -> None:
    text = NOTEBOOK.read_text(encoding="utf-8")
    nbformat.validate(nbformat.reads(text, as_version=4))
    assert len(text) < 150_000


def test_a_cell_shows_what_it_prints_and_its_last_value(tmp_path: Path) -> None:
    said, _, none = run(of_cells("print(1)\n2", "x = 3", "x\nNone"), tmp_path)["cells"]
    assert said["outputs"][0]["text"] == ["1\n"]
    assert said["outputs"][1]["data"] == {"text/plain": ["2"]}
    assert none["outputs"] == []
    with pytest.raises(ZeroDivisionError):
        run(of_cells("1 / 0"), tmp_path)

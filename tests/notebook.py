"""The notebook in samples/: runs its cells without a notebook server, and writes their outputs back.

    python tests/notebook.py

puts fresh outputs into it; tests/test_notebook.py compares.
"""

from __future__ import annotations

import ast
import json
from collections.abc import Iterator
from contextlib import redirect_stdout
from io import StringIO
from pathlib import Path
from typing import Any

from pycon import inside
from readme import ROOT

NOTEBOOK = ROOT / "samples" / "longer-and-shorter.ipynb"


def run(notebook: dict[str, Any], folder: Path) -> dict[str, Any]:
    """The notebook with the outputs of its cells, run in order in a folder. Raises what a cell raises."""
    known: dict[str, Any] = {}
    count = 0
    cells = []
    with inside(folder):
        for cell in notebook["cells"]:
            if cell["cell_type"] == "code":
                count += 1
                cell = {**cell, "execution_count": count, "outputs": list(outputs(cell, count, known))}
            cells.append(cell)
    return {**notebook, "cells": cells}


def outputs(cell: dict[str, Any], count: int, known: dict[str, Any]) -> Iterator[dict[str, Any]]:
    """What a cell prints, and what its last line is worth."""
    body = ast.parse("".join(cell["source"])).body
    last = body.pop() if body and isinstance(body[-1], ast.Expr) else None
    printed, value = StringIO(), None
    with redirect_stdout(printed):
        exec(compile(ast.Module(body, []), "cell", "exec"), known)
        if isinstance(last, ast.Expr):
            value = eval(compile(ast.Expression(last.value), "cell", "eval"), known)
    if printed.getvalue():
        yield {"name": "stdout", "output_type": "stream", "text": lines(printed.getvalue())}
    if value is not None:
        shown = {"text/html": lines(value._repr_html_())} if hasattr(value, "_repr_html_") else {}
        data = {**shown, "text/plain": lines(repr(value))}
        yield {"data": data, "execution_count": count, "metadata": {}, "output_type": "execute_result"}


def lines(text: str) -> list[str]:
    return text.splitlines(keepends=True)


def written(notebook: dict[str, Any]) -> str:
    return json.dumps(notebook, indent=1, ensure_ascii=False) + "\n"


if __name__ == "__main__":
    fresh = run(json.loads(NOTEBOOK.read_text(encoding="utf-8")), NOTEBOOK.parent)
    NOTEBOOK.write_text(written(fresh), encoding="utf-8")

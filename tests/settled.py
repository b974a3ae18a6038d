"""The samples, settled once each in a run at each resolution that tests ask for: the one cache that all tests share."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from cage3d.design.read import read
from cage3d.settle import SettledCage, settle
from cage3d.shape.lay_out import lay_out

SAMPLES = tuple(sorted((Path(__file__).parents[1] / "samples").glob("*.yaml")))
ON_TAPES = tuple(path for path in SAMPLES if read(path).cloth is None)
LETTERS = tuple(path.name[0] for path in SAMPLES)


def sample_path(letter: str) -> Path:
    """The sample whose file begins with this letter."""
    (path,) = (path for path in SAMPLES if path.name.startswith(f"{letter}-"))
    return path


@cache
def settled_sample(path: Path, nodes: int | None = None) -> SettledCage:
    """nodes: of a hoop; None for as many as the tool takes itself."""
    design = read(path)
    return settle(lay_out(design) if nodes is None else lay_out(design, nodes))

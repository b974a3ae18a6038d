"""A cage of round numbers for figures worked out by hand, and the questions that may be asked of it.

One hoop of 1 m (radius 1/2pi) on four tapes, at centre front, left, back and right, on a round
waist of 600 mm; strip of 10 x 0.5 mm at 200 GPa and 8000 kg/m3, 40 g a metre; tapes without weight.
"""

from __future__ import annotations

import csv
import re
from collections.abc import Callable
from dataclasses import dataclass
from io import StringIO
from typing import Any

import numpy as np
from made import pages_of

from cage3d import results
from cage3d.design.read import read_data
from cage3d.report import Report, measure
from cage3d.settle import settle
from cage3d.shape.cage import Cage
from cage3d.shape.lay_out import lay_out
from cage3d.sheets import make_sheets
from cage3d.sheets.quote import Quote, quote_of

NODES = 16  # four edges between two tapes
GRAVITY = 9.81
RADIUS = 1.0 / (2.0 * np.pi)  # m, of the hoop
RING = {"length": 1000, "join": "none"}
PLAIN: dict[str, Any] = {
    "name": "by hand",
    "units": "mm",
    "wearer": {"waist": 600, "waist_height": 1000, "waist_breadth": 191, "waist_depth": 191},
    "waistband": {"depth": 20},
    "steel": {"width": 10, "thickness": 0.5, "modulus": "200 GPa", "poisson": 0.25, "density": 8000},
    "tapes": {"count": 4, "stations": "on", "weight": "0 g/m", "width": 20, "drops": [200]},
    "hoops": [RING],
}

Ask = Callable[[Cage], Any]


@dataclass(frozen=True)
class Figure:
    """What one key changes: `ask` of the plain cage with these changes is `answer`."""

    key: str  # "steel.width"
    changes: dict[str, Any]
    ask: Ask
    answer: Any
    near: float = 1e-6  # share; settled cages and sampled ovals come less near


def changed(plain: dict[str, Any], changes: dict[str, Any]) -> dict[str, Any]:
    """A design with some keys written otherwise; lists are replaced whole, None leaves a key out."""
    merged = dict(plain)
    for key, value in changes.items():
        inner = isinstance(value, dict) and isinstance(plain.get(key), dict)
        merged[key] = changed(plain[key], value) if inner else value
    return {key: value for key, value in merged.items() if value is not None}


def laid_out(changes: dict[str, Any]) -> Cage:
    return lay_out(read_data(changed(PLAIN, changes)), NODES)


def hoop(**more: Any) -> dict[str, Any]:
    return {"hoops": [RING | more]}


def two_hoops(**more: Any) -> dict[str, Any]:
    """A second hoop of 1.2 m, 100 mm below the first; the keys are its own."""
    return {"tapes": {"drops": [200, 100]}, "hoops": [RING, RING | {"length": 1200} | more]}


# What is asked of a cage as laid out.


def stiffness(cage: Cage) -> tuple[float, float, float]:
    """N m2 at the first node of the last hoop: easy, stiff, twist."""
    told = cage.parameters
    bend = int(np.flatnonzero(cage.connectivity.bend_hoop == cage.connectivity.hoop_count - 1)[0])
    return float(told.easy[bend]), float(told.stiff[bend]), float(told.torsion[bend])


def easy_round(cage: Cage) -> list[float]:
    """Easy bending at each node of the first hoop, as a share of the plain strip's."""
    return [float(value) for value in cage.parameters.easy[:NODES] / (200e9 * 0.010 * 0.0005**3 / 12)]


def mass(cage: Cage) -> float:
    """kg that hangs, without the skirt."""
    return float(cage.parameters.own_weight.sum()) / GRAVITY


def masses(cage: Cage) -> list[float]:
    """kg on each hoop, without the skirt."""
    return [
        float(cage.parameters.own_weight[nodes].sum()) / GRAVITY for nodes in cage.connectivity.hoop_nodes
    ]


def skirt(cage: Cage) -> list[float]:
    """kg of skirt on each hoop."""
    return [
        float(cage.parameters.skirt_weight[nodes].sum()) / GRAVITY for nodes in cage.connectivity.hoop_nodes
    ]


def sliding(cage: Cage) -> list[Any]:
    """kg of skirt on lines of cloth, and the friction of each skirt that slides."""
    return [float(cage.parameters.cloth_weight.sum()) / GRAVITY, [cloth.friction for cloth in cage.cloths]]


def give(cage: Cage) -> float:
    """Share by which the first tape grows longer, a newton."""
    return float(cage.parameters.pull_give[0])


def skirt_at(node: int) -> Ask:
    """kg of skirt on one node of the first hoop, counted from centre front by her left."""
    return lambda cage: float(cage.parameters.skirt_weight[node]) / GRAVITY


def anchors(cage: Cage) -> Any:
    """(T, 3) m, where the tapes begin."""
    return cage.positions[cage.connectivity.anchors]


def levels(cage: Cage) -> list[float]:
    return [float(z) for z in anchors(cage)[:, 2]]


def crossings(cage: Cage) -> Any:
    """(T, 2) m, to her left and to her back, of the tapes at the first hoop's first circle."""
    return cage.positions[cage.connectivity.crossing[0]][:, :2]


def steel(cage: Cage) -> float:
    return float(cage.parameters.arc_length.sum())


def pulls(cage: Cage) -> list[tuple[str, float]]:
    """Name and length of every tie and lace."""
    told = cage.connectivity
    return [(told.pull_names[row], float(cage.parameters.pull_length[row])) for row in told.tie_rows]


def ends(cage: Cage) -> Any:
    """(2, 2) m, to her left and to her back, of the first tie's or lace's two ends."""
    return cage.positions[cage.connectivity.pulls[cage.connectivity.segment_count]][:, :2]


def drops(cage: Cage) -> list[float]:
    return [float(m) for m in cage.parameters.pull_length[: cage.connectivity.segment_count]]


def body_at(height: float) -> Ask:
    """Half breadth and half depth of the wearer's form, m."""

    def ask(cage: Cage) -> tuple[float, float] | None:
        if cage.form is None:
            return None
        across, along, _ = cage.form.at(np.array(height))
        return float(across), float(along)

    return ask


def out_at(height: float, share: float) -> Ask:
    """m from the axis to the wearer's form with its padding, at a share of a turn from centre front by her left."""
    ray = np.array([[np.sin(2 * np.pi * share), -np.cos(2 * np.pi * share), height]])
    return lambda cage: None if cage.form is None else float(1.0 / cage.form.fullness(ray)[0])


# What is asked of the settled cage, and of its tables.


def reported(cage: Cage) -> Report:
    return measure(settle(cage))


def warning(code: str) -> Ask:
    """The first sentence of a warning, to its colon; empty without."""

    def ask(cage: Cage) -> str:
        told = [one.text for one in reported(cage).warnings if one.code == code]
        return re.split(r"[.:] ", told[0])[0] if told else ""

    return ask


def rows(cage: Cage, table: str) -> list[dict[str, str]]:
    settled = settle(cage)
    made = make_sheets(settled, measure(settled)).tables[f"{table}.csv"]
    return list(csv.DictReader(StringIO(made.decode())))


def cells(table: str, *columns: str, **where: str) -> Ask:
    """The cells of the first row in which each named column begins as given; numbers as such."""

    def ask(cage: Cage) -> list[float | str]:
        for row in rows(cage, table):
            if all(row[name].startswith(text) for name, text in where.items()):
                return [as_number(row[column]) for column in columns]
        return []

    return ask


def on_the_first_page(words: str) -> Ask:
    """Whether the making sheets say it on their first page."""

    def ask(cage: Cage) -> bool:
        settled = settle(cage)
        return words in pages_of(make_sheets(settled, measure(settled)).pdf)[0].text

    return ask


def miniature(cage: Cage) -> str:
    """What is told of the first hoop's bars."""
    settled = settle(cage)
    files = results.miniature(settled, measure(settled))
    (told,) = [held.decode() for name, held in files.items() if name.endswith(".txt")]
    return told.splitlines()[1]


def quoted(cage: Cage) -> Quote:
    """The quote for this one cage, its materials left out."""
    return quote_of([cage.design], cage.design.buying, ())


def hours(cage: Cage) -> float | None:
    return quoted(cage).hours


def as_number(text: str) -> float | str:
    try:
        return float(text)
    except ValueError:
        return text


def agrees(found: Any, answer: Any, near: float) -> bool:
    """Whether words are the same, and numbers as near as `near` (share; below 1 nm zero is zero)."""
    if isinstance(answer, (list, tuple)):
        told = found.tolist() if isinstance(found, np.ndarray) else found
        return (
            isinstance(told, (list, tuple))
            and len(told) == len(answer)
            and all(agrees(one, other, near) for one, other in zip(told, answer, strict=True))
        )
    if isinstance(answer, str) or isinstance(found, str) or found is None:
        return bool(found == answer)
    return bool(np.isclose(found, answer, rtol=near, atol=1e-9))

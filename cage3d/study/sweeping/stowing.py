"""A stretch of settled variants as bytes, and back: for other processes, and for a sweep that is taken up again.

Arrays and plain text alone, nothing that could run when it is read.
"""

from __future__ import annotations

import io
import json
import zipfile
from collections.abc import Sequence
from dataclasses import asdict, dataclass, replace
from typing import Any

import numpy as np

from cage3d.design.models import Design
from cage3d.settle import SettledCage
from cage3d.settle.state import Snap, State
from cage3d.shape.lay_out import lay_out
from cage3d.study.sweeping.told import Told

PLAIN = ("residual", "distance", "lowest_eigenvalue", "settled", "stable", "steps", "notes", "worst_node")
ARRAYS = ("positions", "angles", "normals", "twists", "between", "spans", "cloth", "cloth_on_band")


@dataclass(frozen=True)
class Outcome:
    """What came of one variant. settled: None where the rules refuse it."""

    told: Told
    settled: SettledCage | None


def stowed(outcomes: Sequence[Outcome]) -> bytes:
    arrays: dict[str, Any] = {"told": np.array(json.dumps([record(one) for one in outcomes]))}
    for place, one in enumerate(outcomes):
        if one.settled is not None:
            arrays |= {f"{place}/{name}": array for name, array in arrays_of(one.settled).items()}
    out = io.BytesIO()
    np.savez(out, **arrays)
    return out.getvalue()


def record(one: Outcome) -> dict[str, Any]:
    settled = one.settled
    known = None if settled is None else {name: getattr(settled, name) for name in PLAIN}
    snaps = [] if settled is None else [asdict(snap) for snap in settled.snaps]
    return {"told": asdict(one.told), "settled": known, "snaps": snaps}


def arrays_of(settled: SettledCage) -> dict[str, Any]:
    state = settled.state
    return (
        {name: getattr(state, name) for name in ARRAYS}
        | {f"forces/{name}": force for name, force in state.forces.items()}
        | {f"ways/{row}": way for row, way in state.ways.items()}
        | {f"over/{row}": cloth.over for row, cloth in enumerate(settled.cage.cloths)}
    )


@dataclass(frozen=True)
class Stowed:
    """The bytes of a stretch, read."""

    records: list[dict[str, Any]]
    arrays: dict[str, Any]

    def told(self, place: int) -> Told:
        known = self.records[place]["told"]
        return Told(**known | {"warnings": tuple((code, text) for code, text in known["warnings"])})

    def settled(self, place: int, design: Design, nodes: int | None = None) -> SettledCage | None:
        """The variant as it was settled; None where there was no design."""
        known = self.records[place]["settled"]
        if known is None:
            return None
        own = {
            name.partition("/")[2]: array
            for name, array in self.arrays.items()
            if name.startswith(f"{place}/")
        }
        cage = lay_out(design, nodes)
        cloths = tuple(replace(one, over=own[f"over/{row}"]) for row, one in enumerate(cage.cloths))
        state = State(
            **{name: own[name] for name in ARRAYS},
            forces=under("forces/", own),
            ways={int(row): way for row, way in under("ways/", own).items()},
        )
        return SettledCage(
            replace(cage, cloths=cloths),
            state,
            snaps=tuple(Snap(**snap) for snap in self.records[place]["snaps"]),
            **known | {"notes": tuple(known["notes"])},
        )


def under(start: str, arrays: dict[str, Any]) -> dict[str, Any]:
    return {name.removeprefix(start): array for name, array in arrays.items() if name.startswith(start)}


def read_stowed(data: bytes, count: int) -> Stowed | None:
    """A stretch of `count` variants; None for bytes that are none, so that it is settled anew."""
    try:
        with np.load(io.BytesIO(data), allow_pickle=False) as file:
            arrays = {name: file[name] for name in file.files}
        records = json.loads(str(arrays.pop("told")))
    except (OSError, ValueError, KeyError, EOFError, zipfile.BadZipFile):
        return None
    return Stowed(records, arrays) if isinstance(records, list) and len(records) == count else None

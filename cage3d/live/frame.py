"""A settled cage as it goes down to the page: a head in JSON, then the places of what moved, packed as in the page.

While she drags, what is said of it follows by itself: to measure it takes as long as half of the drawing.
"""

from __future__ import annotations

import json
from collections.abc import Sequence, Set
from typing import Any

from cage3d.live.words import warnings_told
from cage3d.page.packing import packed_places, short, stage_data
from cage3d.page.shown_cage import ShownStage
from cage3d.page.text import summary
from cage3d.scene.shown import ScenePart

SIZE_BYTES = 4  # of the head, lowest byte first
MULTIPLE = (
    4  # bytes, to which the head is filled up with blanks, so that what follows stands where arrays may
)


def frame(
    parts: Sequence[ScenePart], moved: Set[str], seq: int, said: ShownStage | None = None, rest: bool = False
) -> bytes:
    """One cage for the page.

    moved: names of the parts that are told anew; seq: the move that it answers; said: with what is said of it, None
    where `words_told` follows; rest: settled as `check` does.
    Arrays are told by [bytes from the end of the head, how many numbers]: places as four whole numbers of 16 bits
    a vertex, normals as four of 8 bits with a sign, the last of each four being padding.
    """
    told: list[dict[str, Any]] = []
    arrays: list[bytes] = []
    at = 0
    for part in parts:
        if part.name not in moved:
            told.append({"moved": False})
            continue
        low, size, places, normals = packed_places(part)
        shape: dict[str, Any] = {"moved": True, "low": short(low), "size": short(size)}
        for name, array in (("positions", places), ("normals", normals)):
            arrays.append(array.tobytes())
            shape[name] = [at, int(array.size)]
            at += len(arrays[-1])
        told.append(shape)
    head = {"kind": "shape", "seq": seq, "rest": rest, "parts": told, **(words_of(said) if said else {})}
    text = json.dumps(head, ensure_ascii=False, separators=(",", ":"), allow_nan=False).encode()
    text += b" " * (-len(text) % MULTIPLE)
    return b"".join([len(text).to_bytes(SIZE_BYTES, "little"), text, *arrays])


def words_told(seq: int, stage: ShownStage) -> dict[str, Any]:
    """What is said of a cage whose shape went down before, in answer to the same move."""
    return {"kind": "words", "seq": seq, **words_of(stage)}


def words_of(stage: ShownStage) -> dict[str, Any]:
    """What is written over the picture, under it, and what to mind."""
    return {
        "stage": stage_data(stage), "summary": summary(stage.report), "warnings": warnings_told(stage.report)
    }  # fmt: skip

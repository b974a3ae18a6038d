"""A settled cage as it goes down to the page: a head in JSON, then the places of what moved, packed as in the page."""

from __future__ import annotations

import json
from collections.abc import Set
from typing import Any

from cage3d.live.words import warnings_told
from cage3d.page.packing import packed_places, short, stage_data
from cage3d.page.shown_cage import ShownStage
from cage3d.page.text import summary

SIZE_BYTES = 4  # of the head, lowest byte first
MULTIPLE = (
    4  # bytes, to which the head is filled up with blanks, so that what follows stands where arrays may
)


def frame(stage: ShownStage, moved: Set[str], seq: int, rest: bool) -> bytes:
    """One stage for the page.

    moved: names of the parts that are told anew; seq: the move that it answers; rest: settled as `check` does.
    Arrays are told by [bytes from the end of the head, how many numbers]: places as four whole numbers of 16 bits
    a vertex, normals as four of 8 bits with a sign, the last of each four being padding.
    """
    told: list[dict[str, Any]] = []
    arrays: list[bytes] = []
    at = 0
    for part in stage.parts:
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
    head = {
        "kind": "shape", "seq": seq, "rest": rest, "parts": told, "stage": stage_data(stage),
        "summary": summary(stage.report), "warnings": warnings_told(stage.report),
    }  # fmt: skip
    text = json.dumps(head, ensure_ascii=False, separators=(",", ":"), allow_nan=False).encode()
    text += b" " * (-len(text) % MULTIPLE)
    return b"".join([len(text).to_bytes(SIZE_BYTES, "little"), text, *arrays])

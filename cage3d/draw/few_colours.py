"""A picture in 256 colours chosen for it: a third of the size, and no difference that an eye finds.

Colours are chosen by median cut from every few pixels of it, and each pixel takes the nearest: all of that on the
whole picture takes three times as long and is no nearer to it (`tests/draw/test_few_colours.py` measures both).
Paper stays white.
"""

from __future__ import annotations

from typing import Any

import numpy as np
from PIL import Image
from scipy.spatial import cKDTree

COLOURS = 256
EVERY = 5  # pixels across and down, of which one is looked at
BITS = 7  # of each of red, green and blue by which colours are told apart when their nearest is looked for
WHITE = 0xFFFFFF
Codes = np.ndarray[Any, np.dtype[np.uint32]]


def few_colours(image: Image.Image) -> Image.Image:
    """A picture of mode RGB as one of mode P."""
    codes = np.asarray(image.convert("RGBX")).view("<u4")[..., 0] & WHITE
    inked = codes != WHITE
    few = codes[::EVERY, ::EVERY]
    palette = chosen(few[few != WHITE])
    numbers = np.full(codes.shape, len(palette), dtype=np.uint8)
    numbers[inked] = nearest(palette, codes[inked])
    made = Image.fromarray(numbers)
    made.putpalette([*palette.ravel().tolist(), 255, 255, 255])
    return made


def chosen(codes: Codes) -> np.ndarray[Any, np.dtype[np.uint8]]:
    """(k, 3) red, green, blue: the colours that serve these (n,) best, one less than COLOURS at most."""
    if not len(codes):
        return np.zeros((1, 3), dtype=np.uint8)
    row = Image.fromarray(channels(codes).astype(np.uint8)[None])
    cut = row.quantize(COLOURS - 1, method=Image.Quantize.MEDIANCUT, dither=Image.Dither.NONE)
    return np.array(cut.getpalette(), dtype=np.uint8).reshape(-1, 3)[: COLOURS - 1]


def nearest(
    palette: np.ndarray[Any, np.dtype[np.uint8]], codes: Codes
) -> np.ndarray[Any, np.dtype[np.uint8]]:
    """(n,) of each colour the number of the nearest one in the palette."""
    left_out = 8 - BITS
    red, green, blue = (channels(codes).T >> left_out).astype(np.int64)
    cell = (red << 2 * BITS) | (green << BITS) | blue
    used = np.flatnonzero(np.bincount(cell, minlength=1 << 3 * BITS))
    steps = np.stack([used >> 2 * BITS, used >> BITS, used], axis=1) & ((1 << BITS) - 1)
    middles = (steps << left_out) + ((1 << left_out) - 1) / 2.0
    of_cell = np.zeros(1 << 3 * BITS, dtype=np.uint8)
    of_cell[used] = cKDTree(palette).query(middles)[1]
    return np.asarray(of_cell[cell])


def channels(codes: Codes) -> Codes:
    """(n, 3) red, green, blue of (n,) codes."""
    return np.stack([codes, codes >> 8, codes >> 16], axis=-1) & np.uint32(0xFF)

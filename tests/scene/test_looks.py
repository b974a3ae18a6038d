"""Colours stay apart for usual sight and for the three kinds of colour blindness."""

from __future__ import annotations

from itertools import combinations

import numpy as np
import pytest

from cage3d.scene.looks import LOOKS

# Machado, Oliveira and Fernandes (2009), doi 10.1109/TVCG.2009.113, severity 1; act on linear RGB.
SIGHT = {
    "usual": np.eye(3),
    "protanopia": np.array(
        [[0.152286, 1.052583, -0.204868], [0.114503, 0.786281, 0.099216], [-0.003882, -0.048116, 1.051998]]
    ),
    "deuteranopia": np.array(
        [[0.367322, 0.860646, -0.227968], [0.280085, 0.672501, 0.047413], [-0.011820, 0.042940, 0.968881]]
    ),
    "tritanopia": np.array(
        [[1.255528, -0.076749, -0.178779], [-0.078411, 0.930809, 0.147602], [0.004733, 0.691367, 0.303900]]
    ),
}
# IEC 61966-2-1: linear sRGB to CIE XYZ; white is the sum of the columns.
XYZ = np.array(
    [[0.4124564, 0.3575761, 0.1804375], [0.2126729, 0.7151522, 0.0721750], [0.0193339, 0.1191920, 0.9503041]]
)


def lab(linear: np.ndarray) -> np.ndarray:
    """CIE 1976 L*a*b* of linear sRGB."""
    share = XYZ @ np.clip(linear, 0, 1) / XYZ.sum(axis=1)
    f = np.where(share > 216 / 24389, np.cbrt(share), (24389 / 27 * share + 16) / 116)
    return np.array([116 * f[1] - 16, 500 * (f[0] - f[1]), 200 * (f[1] - f[2])])


def test_lab_of_white_black_and_red() -> None:
    assert lab(np.ones(3)) == pytest.approx([100, 0, 0], abs=1e-3)
    assert lab(np.zeros(3)) == pytest.approx([0, 0, 0], abs=1e-3)
    assert lab(np.array([1.0, 0, 0])) == pytest.approx([53.24, 80.09, 67.20], abs=0.02)


@pytest.mark.parametrize("sight", SIGHT)
def test_any_two_colours_are_apart(sight: str) -> None:
    seen = {name: lab(SIGHT[sight] @ look.linear) for name, look in LOOKS.items()}
    apart = {pair: float(np.linalg.norm(seen[pair[0]] - seen[pair[1]])) for pair in combinations(seen, 2)}
    closest = min(apart, key=lambda pair: apart[pair])
    assert apart[closest] > 15, f"{closest} are {apart[closest]:.1f} apart"


def test_linear_colour_of_middle_grey() -> None:
    steel = LOOKS["steel"]
    assert steel.srgb[0] == 0x8E / 255
    assert steel.linear[0] == pytest.approx(0.27050, abs=1e-4)

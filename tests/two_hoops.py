"""Two hoops of 1 and 1.5 m on four tapes, of steels of their own."""

from __future__ import annotations

from typing import Any

from rigs import design_of

FLAT = {"width": 0.010, "thickness": 0.0006, "modulus": 200e9, "poisson": 0.3}


def two_hoops(steels: tuple[float, float] = (0.0006, 0.0006), **more: Any):
    """Two hoops of 1 and 1.5 m on four upright or spread tapes; the strips' thicknesses from the top."""
    hoops = [
        {"length": length, "join": "none", "steel": {"thickness": thick}}
        for length, thick in zip((1.0, 1.5), steels, strict=True)
    ]
    return design_of(
        waist=1.0,
        zero=1.2,
        drops=[[0.2, 0.2]] * 4,
        lengths=[],
        hoops=hoops,
        steel=FLAT | more.pop("steel", {}),
        **more,
    )

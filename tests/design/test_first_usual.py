"""What is proposed for a first design: hems, hoops, tapes and strips by her height."""

from __future__ import annotations

import pytest

from cage3d.design.first import usual
from cage3d.units import INCH


@pytest.mark.parametrize(
    ("kind", "inches", "round_hem"),
    [("dome", 41.5, 92), ("drum", 41.5, 108), ("back-weighted", 28.0, 64), ("lantern", 41.5, 74)],
)
def test_usual_hems(kind: str, inches: float, round_hem: float) -> None:
    """2.2, 2.6, 2.3 and 1.8 of the waist's height, to two inches: 91.3, 107.9, 64.4, 74.7."""
    assert usual.hem(kind, inches * INCH, "in") == pytest.approx(round_hem * INCH)


def test_usual_hems_in_centimetres() -> None:
    """2.2 x 105 = 231 cm: 230; a child's of 70 cm 154: 155."""
    assert usual.hem("dome", 1.05, "cm") == pytest.approx(2.30)
    assert usual.hem("dome", 0.70, "mm") == pytest.approx(1.55)


def test_usual_hoops_keep_heels_out() -> None:
    """Of four the last stretch is 0.85 of 4.425, of five 0.85 of 5.4: within 5 1/2 in up to 28.6 and 34.9 in down."""
    assert [usual.hoops(down * INCH) for down in (10, 28.6, 28.7, 34.9, 35.0)] == [4, 4, 5, 5, 6]


@pytest.mark.parametrize(
    ("kind", "inches", "tapes"),
    [
        ("half-hoops", 36 + 12, 4),
        ("dome", 90, 8),
        ("dome", 96, 8),
        ("dome", 97, 10),
        ("oval", 60, 10),
        ("drum", 121, 12),
    ],
)
def test_usual_tapes_leave_a_foot_of_free_steel(kind: str, inches: float, tapes: int) -> None:
    assert usual.tapes(kind, inches * INCH) == tapes


def test_usual_strips() -> None:
    """E b t^3 / 12 = 0.0055, 0.0151, 0.0259, 0.0447 and 0.0751 N m2 (207 GPa) over 0.29 N/m leave radii of 0.267,
    0.373, 0.447, 0.536 and 0.637 m: 1.68, 2.35, 2.81, 3.37 and 4.00 m round."""
    girths = (1.67, 1.69, 2.34, 2.36, 2.80, 2.82, 3.36, 3.38)
    strips = [tuple(round(1000 * size, 1) for size in usual.steel(girth)) for girth in girths]
    sizes = [(5.0, 0.4), (7.0, 0.5), (12.0, 0.5), (12.0, 0.6), (12.7, 0.7)]
    assert strips == [sizes[0], sizes[1], sizes[1], sizes[2], sizes[2], sizes[3], sizes[3], sizes[4]]
    assert usual.steel(9.0) == usual.steel(3.38)


def test_usual_answers_of_a_child_are_a_childs() -> None:
    """Half as high: half the hip's drop, and a quarter of the skirt."""
    assert usual.hip_drop(41.5 * INCH, "in") == pytest.approx(8 * INCH)
    assert usual.hip_drop(20.75 * INCH, "in") == pytest.approx(4 * INCH)
    assert (usual.skirt(41.5 * INCH), usual.skirt(20.75 * INCH)) == pytest.approx((0.8, 0.2))

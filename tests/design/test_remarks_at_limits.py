"""Every limit of what is remarked on from both sides: at it nothing is said, a hair beyond it is."""

from __future__ import annotations

from typing import Any

import pytest
from hand.cage import PLAIN, RING, changed
from parts_written import ROUND_HIP, across, child, hoop, round_her, steel, tie, wearer

from cage3d.design.models import Design
from cage3d.design.read import read_data
from cage3d.design.rules import remarks
from cage3d.errors import DesignError

REMARKED: dict[str, tuple[dict[str, Any], dict[str, Any], str]] = {
    "least usual waist": (wearer(waist=500), wearer(waist=499), "out of the ordinary"),
    "largest usual waist": (
        wearer(waist="1.4 m") | hoop(length=1400), wearer(waist=1401) | hoop(length=1401), "out of the ordinary",
    ),
    # 1.4 m and 1400 mm differ in their last bit.
    "largest usual waist in millimetres": (
        wearer(waist=1400) | hoop(length=1400), wearer(waist=1401) | hoop(length=1401), "out of the ordinary",
    ),
    "least usual hip": (wearer(hip=750, hip_drop=100), wearer(hip=749, hip_drop=100), "out of the ordinary"),
    "largest usual hip": (
        wearer(hip=1450, hip_drop=100) | hoop(length=1500), wearer(hip=1451, hip_drop=100) | hoop(length=1500),
        "out of the ordinary",
    ),
    "lowest usual waist": (wearer(waist_height=800), wearer(waist_height=799), "out of the ordinary"),
    "highest usual waist": (wearer(waist_height=1300), wearer(waist_height=1301), "out of the ordinary"),
    # A child of 700 mm: its waist 350 to 770, its hip 490 to 805; from 450 to 900 mm high.
    "a child's waist": (child(waist=770), child(waist=771), "out of the ordinary"),
    "a child's hip": (child(hip=490), child(hip=489), "out of the ordinary"),
    "a child's largest hip": (child(waist=700, hip=805), child(waist=700, hip=806), "out of the ordinary"),
    "the smallest child": (
        child(waist=400, hip=420, waist_height=450), child(waist=400, hip=420, waist_height=449), "out of the ordinary",
    ),
    "the largest child": (
        child(waist=600, hip=740, waist_height=900), child(waist=600, hip=740, waist_height=901), "out of the ordinary",
    ),
    # 850 less 50.
    "hip under the waist": (
        wearer(waist=850, hip=800, hip_drop=100), wearer(waist=850, hip=799, hip_drop=100), "smaller than the waist",
    ),
    "softest strip": (steel(modulus="10 GPa"), steel(modulus="9.9 GPa"), "as soft or stiff"),
    "stiffest strip": (steel(modulus="500 GPa"), steel(modulus="501 GPa"), "as soft or stiff"),
    "drop as high as the casing": (
        {"tapes": {"casing": 200}}, {"tapes": {"casing": 200.1}}, "would lie over the waistband",
    ),
    # A quarter of the hoop from tape 1 to 2, a half to 3.
    "tie of a quarter of a hoop": (tie(249), tie(250), "will never pull"),
    "tie of half a hoop": (across(499, "1", "3"), across(500, "1", "3"), "will never pull"),
    "tie of three quarters of a hoop": (
        round_her(749, "right", "1", "2"), round_her(750, "right", "1", "2"), "will never pull",
    ),
    "tie round nobody": (
        ROUND_HIP | round_her(400, "behind"), round_her(400, "behind"), "as if nobody wore the cage",
    ),
    # sqrt(1054^2 - 63.66^2) is 1052.1 mm, and the band's lower edge 990 mm up: 62.1 mm. At 992 it is 990.0.
    "hoop at the floor": ({"tapes": {"drops": [992]}}, {"tapes": {"drops": [993]}}, "below the floor"),
}  # fmt: skip


def told(design: Design) -> list[str]:
    return [str(remark) for remark in remarks(design)]


@pytest.mark.parametrize("case", REMARKED)
def test_is_remarked_on_beyond_the_limit_alone(case: str) -> None:
    at, beyond, said = REMARKED[case]
    assert not any(said in remark for remark in told(read_data(changed(PLAIN, at))))
    assert any(said in remark for remark in told(read_data(changed(PLAIN, beyond))))


def three_hoops(*ties: dict[str, Any], panels: list[dict[str, Any]] | None = None) -> dict[str, Any]:
    """Hoop 2 is 400 mm longer than the others, 63.7 mm farther out, and hangs 63 mm of tape below hoop 1."""
    return {
        "hoops": [RING, RING | {"length": 1400}, RING],
        "tapes": {"drops": [200, 63, 200]},
        "ties": list(ties),
        "panels": panels or [],
    }


def tied(hoop: int) -> dict[str, Any]:
    return {"from": f"hoop {hoop} tape 1", "to": f"hoop {hoop} tape 2", "length": 150}


LACED = {"tapes": [1, 2], "hoops": [1], "tightness": 0.1}


@pytest.mark.parametrize(
    "held",
    [three_hoops(tied(1)), three_hoops(tied(2)), three_hoops(panels=[LACED])],
    ids=["tie on the hoop above", "tie on the hoop", "laces on the hoop above"],
)
def test_a_hoop_out_of_its_circle_may_lie_nearer_than_a_round_one(held: dict[str, Any]) -> None:
    remarked = told(read_data(changed(PLAIN, held)))
    assert any("63 mm shorter than step" in one and "(hoop 1 to hoop 2)" in one for one in remarked)


@pytest.mark.parametrize(
    "free", [three_hoops(), three_hoops(tied(3))], ids=["no tie", "tie on the hoop below"]
)
def test_a_round_hoop_must_be_within_reach(free: dict[str, Any]) -> None:
    with pytest.raises(
        DesignError, match=r"hoop 1 to hoop 2\): the hoop is longer than its tapes can spread"
    ):
        read_data(changed(PLAIN, free))


def test_one_short_tape_is_told_by_its_number_and_the_hoop_hangs_off_centre() -> None:
    """63 mm for a step of 63.7 mm on tape 3 of four, the others longer: the hoop moves 0.7 mm that way."""
    rows = [[200], [200], [63], [200]]
    (remark,) = told(read_data(changed(PLAIN, {"tapes": {"drops": rows, "casing": 20}})))
    assert "on tape 3" in remark
    assert "waistband to hoop 1" in remark


def test_a_casing_that_would_lie_over_another_is_told_with_both_numbers() -> None:
    written = {"hoops": [RING, RING], "tapes": {"drops": [200, 25], "casing": 25.4}}
    (remark,) = told(read_data(changed(PLAIN, written)))
    assert "the casing of hoop 2 is 25 mm high and would lie over the casing of hoop 1" in remark

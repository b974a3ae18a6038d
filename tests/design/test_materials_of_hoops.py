"""What is told of hoops of another material, and what is wrong with them."""

from __future__ import annotations

import pytest
from petticoat import GOOD, problems_of

from cage3d.design.read import read_text
from cage3d.design.rules import remarks

STEEL = "steel: {width: 7 mm, thickness: 0.5 mm}"

WRONG = {
    "no such material": ("material: bamboo, diameter: 6 mm", "this word has no meaning here", "round cane"),
    "a material nearly": ("material: roud cane, diameter: 6 mm", "this word", "Did you mean round cane?"),
    "cane without a size": ("material: round cane", "diameter is missing", "Write diameter: 6 mm"),
    "hose without a wall": ("material: plastic hose, diameter: 20 mm", "wall is missing", "Write wall: 2 mm"),
    "strip without a size": ("width: 7 mm", "thickness is missing", "Write thickness: 0.5 mm"),
    "plastic without a size": (
        "material: plastic strip, width: 12 mm", "thickness is missing", "Write thickness: 1.5 mm"
    ),
    "cane that is flat": (
        "material: round cane, diameter: 6 mm, width: 7 mm", "round cane is told by its diameter", "plastic strip"
    ),
    "steel that is round": (
        "width: 7 mm, thickness: 0.5 mm, diameter: 6 mm", "flat steel is told by its width and thickness", "round cane"
    ),
    "a rod like a thread": ("material: plastic rod, diameter: 1 mm", "1 mm thick is no hoop", "with its unit: 6 mm"),
    "a hose without a bore": (
        "material: plastic hose, diameter: 20 mm, wall: 10 mm", "two such walls fill the hose", "plastic rod"
    ),
    "two canes in one": ("material: round cane, diameter: 6 mm, layers: 2", "only flat strip", "Leave layers out"),
    "six layers": ("width: 7 mm, thickness: 0.5 mm, layers: 6", "more than 5 strips lie one upon another", "1 or 2"),
    "cane that yields": (
        "material: round cane, diameter: 6 mm, yield_stress: 100 MPa", "not told by a yield stress", "least_radius"
    ),
    "both limits": (
        "width: 7 mm, thickness: 0.5 mm, yield_stress: 1200 MPa, least_radius: 4 cm", "both say how far", "one of them"
    ),
    "a bend in a knot": (
        "material: round cane, diameter: 6 mm, least_radius: 12 mm", "so tight a bend", "at least 3 times"
    ),
    "hose threaded against": (
        "material: plastic hose, diameter: 20 mm, wall: 2 mm, set_radius: 40 cm, threaded: against",
        "rolls over in its casings", "Leave threaded out",
    ),
    "hose off too small a coil": (
        "material: plastic hose, diameter: 20 mm, wall: 2 mm, set_radius: 20 cm", "300 mm in radius", "Measure"
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", WRONG)
def test_what_is_wrong_is_told_with_what_to_write(name: str) -> None:
    written, why, try_this = WRONG[name]
    (problem,) = problems_of(GOOD.replace(STEEL, f"steel: {{{written}}}"))
    assert problem.line == 6
    assert why in problem.why
    assert try_this in problem.try_this


def test_a_hose_that_its_casings_do_not_hold() -> None:
    text = GOOD.replace(STEEL, "steel: {material: plastic hose, diameter: 30 mm, wall: 2 mm}")
    (problem,) = problems_of(text)
    assert "hoop 1 is wide (30 mm)" in problem.why


def test_a_hoop_of_cane_among_steel_needs_its_own_size() -> None:
    text = GOOD.replace("{length: 74}", "{length: 74, steel: {material: round cane}}")
    (problem,) = problems_of(text)
    assert (problem.line, problem.why) == (14, "diameter is missing")
    design = read_text(text.replace("round cane", "round cane, diameter: 6 mm"), "petticoat.yaml")
    assert design.stuff == "steel and cane"


def test_cane_as_stiff_as_steel_is_a_slip() -> None:
    text = GOOD.replace(STEEL, "steel: {material: round cane, diameter: 6 mm, modulus: 200 GPa}")
    (remark,) = remarks(read_text(text, "petticoat.yaml"))
    assert remark.try_this == "Leave it out for round cane (2 GPa)"


@pytest.mark.parametrize(
    ("written", "said"),
    [
        # Two layers of 25.4 mm go 50.8 mm round, which is 16.17 mm thick; 10 pi and 3 mm are 34.42 mm, 1.36 in.
        (
            "plastic hose, diameter: 20 mm, wall: 2 mm",
            ["16.2 mm thick", "plastic of hoop 1 is 20 mm thick", "1 3/8 in"],
        ),
        ("plastic hose, diameter: 16 mm, wall: 2 mm", []),
        ("round cane, diameter: 17 mm", ["16.2 mm thick", "cane of hoop 1 is 17 mm thick", "1 1/8 in"]),
    ],
)
def test_a_casing_stitched_flat_goes_round_less_than_it_is_high(written: str, said: list[str]) -> None:
    told = remarks(read_text(GOOD.replace(STEEL, f"steel: {{material: {written}}}"), "petticoat.yaml"))
    found = " ".join(f"{remark.why}. {remark.try_this}" for remark in told if remark.where == "tapes.casing")
    assert all(words in found for words in said)
    assert bool(found) == bool(said)

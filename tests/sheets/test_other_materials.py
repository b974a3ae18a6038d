"""Sheets, model and miniature of a cage of cane, hose and steel: what is said, drawn and bought for each."""

from __future__ import annotations

import csv
from functools import cache
from io import StringIO

import numpy as np
import pytest
from made import hung_design, pages_of
from petticoat import GOOD

from cage3d.design.models import Design
from cage3d.design.read import read_text
from cage3d.mesh.part import ALL_KINDS
from cage3d.mesh.parts import build_parts
from cage3d.miniature.lines import lines_of
from cage3d.miniature.process import scale_of
from cage3d.miniature.solids import round_bar
from cage3d.report.cautions import wearing_cautions
from cage3d.sheets import make_sheets

OWN = {
    "{length: 48}": "{length: 48, opening: front}",
    "{length: 60}": "{length: 60, steel: {material: plastic hose, diameter: 12 mm, wall: 1.5 mm}}",
    "{length: 74}": "{length: 74, join: {overlap: 3}}",
}


@cache
def mixed() -> Design:
    text = GOOD.replace(
        "steel: {width: 7 mm, thickness: 0.5 mm}", "steel: {material: round cane, diameter: 5 mm}"
    )
    for plain, own in OWN.items():
        text = text.replace(plain, own)
    return read_text(text, "petticoat.yaml")


@cache
def words() -> str:
    return " ".join(" ".join(page.text.split()) for page in pages_of(make_sheets(*hung_design(mixed())).pdf))


def test_every_caution_is_of_what_the_hoops_are_made_of() -> None:
    for said in (
        "Cane splinters",
        "spring out of their coil",
        "bears cracks it",
        "white crease",
        "Plastic creeps",
    ):
        assert said in words(), said
    for said in (
        "Hardened strip",
        "Cutting spring steel",
        "rusts",
        "kinked steel",
        "coated steel",
        "Spring steel",
    ):
        assert said not in words(), said
    _, report = hung_design(mixed())
    fire = dict(wearing_cautions(mixed(), report))["Fire"]
    assert fire.endswith("Hoops of cane burn. Hoops of plastic melt and burn.")


def test_each_is_bought_by_its_name_with_fittings_that_suit() -> None:
    """Cane for 48 + 69 + 77 in is 4.928 m of 525 kg/m3 x pi 2.5^2 mm2; the hose's plug fills its 9 mm bore."""
    tables = make_sheets(*hung_design(mixed())).tables
    rows = {row["material"]: row for row in csv.DictReader(StringIO(tables["materials.csv"].decode()))}
    cane, plug = rows["Round cane Ø 5 mm"], rows["Plugs"]
    assert float(cane["needed"]) == pytest.approx((48 + 69 + 77) * 0.0254, abs=0.001)
    assert float(cane["weight_kg"]) == pytest.approx(525 * np.pi * 0.0025**2 * 4.9276, abs=1e-4)
    assert plug["detail"] == "long 2 in, inside Ø 9 mm"
    assert float(plug["weight_kg"]) == pytest.approx(1000 * np.pi * 0.0045**2 * 0.0508, abs=1e-4)
    assert rows["Tube connectors"]["detail"] == "long 2 in, over Ø 5 mm"
    assert rows["Tips"]["detail"] == "two to each open hoop, over Ø 5 mm"
    cuts = list(csv.DictReader(StringIO(tables["cutting.csv"].decode())))
    assert [cut["ends"] for cut in cuts] == ["2 tips", "1 plug 2 in", "1 tube 2 in", "1 lap"]
    assert cuts[1]["material"] == "plastic hose Ø 12 mm, wall 1.5 mm"


def test_the_model_is_round_and_says_what_it_is() -> None:
    settled, _ = hung_design(mixed())
    parts = {part.name: part for part in build_parts(settled, ALL_KINDS)}
    cane, hose = parts["hoop 1"], parts["hoop 2"]
    assert (cane.material, hose.material) == ("cane", "plastic")
    assert cane.extras["material"] == "round cane"
    assert volume(cane.solid) == pytest.approx(np.pi * 0.0025**2 * 48 * 0.0254, rel=0.005)
    assert volume(hose.solid) == pytest.approx(np.pi * 0.006**2 * 60 * 0.0254, rel=0.005), (
        "its bore is not drawn"
    )


def volume(solid) -> float:
    first, second, third = solid.points[solid.faces].transpose(1, 0, 2)
    return float(np.einsum("ij,ij->i", first, np.cross(second, third)).sum() / 6.0)


def test_a_miniature_of_what_is_round_is_round() -> None:
    settled, _ = hung_design(mixed())
    line = lines_of(settled, scale_of(6.0), 2.0).hoops[3]
    body = round_bar(line, 2.0)
    assert body.volume() == pytest.approx(np.pi * 74 * 25.4 / 6.0, rel=0.01)

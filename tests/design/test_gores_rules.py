"""What is said of a petticoat's cloth that cannot be cut, or holds no hoop."""

from __future__ import annotations

from typing import Any

import pytest
from gored import gored, written

from cage3d.design.read import read_data
from cage3d.design.rules import remarks
from cage3d.errors import DesignError

OPEN = [{"length": 1050, "opening": "front"}, {"length": 1600}, {"length": 2000}]


def told(cloth: dict[str, Any] | None = None, **others: Any) -> list[tuple[str, str]]:
    """(where, why) of every fault."""
    try:
        read_data(written(cloth, **others))
    except DesignError as fault:
        return [(problem.where, problem.why) for problem in fault.problems]
    return []


def test_the_plain_cone_has_no_fault() -> None:
    assert told() == []


@pytest.mark.parametrize(
    ("cloth", "where", "why"),
    [
        ({"gores": 2}, "cloth.gores", "so few flat pieces do not go round her"),
        ({"gores": 25}, "cloth.gores", "there are more than 24 gores"),
        ({"levels": [250, 500]}, "cloth.levels[0]", "there are 3 hoops"),
        ({"levels": [250, 200, 750]}, "cloth.levels[0][1]", "casing 2 does not lie below casing 1"),
        ({"levels": [[250, 500, 750]] * 4}, "cloth.levels", "there are 6 seams"),
        ({"levels": {"front": [250, 500, 750], "back": [250, 500]}}, "cloth.levels.back", "there are 3 hoops"),
        ({"fabric": "calicoo"}, "cloth.fabric", "this cloth is not in the table"),
        ({"girths": [1200, 1600, 2000]}, "cloth.ease", "the cloth's girths are written too"),
        ({"ease": None, "girths": [1200, 1600]}, "cloth.girths", "there are 3 hoops"),
        (
            {"ease": None, "girths": [1200, 1590, 2000]}, "cloth.girths[1]",
            "the cloth is narrower than hoop 2 (1600 mm): it does not go round it",
        ),
        # A sixth of 2 m, and 15 mm at either side.
        (
            {"width": 350}, "cloth.width",
            "the widest gore is 363 mm wide with its seams and cannot be cut from cloth of this width",
        ),
        ({"seams": [0.1, 0.2, 0.3]}, "cloth.seams", "there are 6 gores"),
        ({"casing": 8}, "cloth.casing", "the casing is lower than the strip of hoop 1 is wide (10 mm)"),
    ],
)  # fmt: skip
def test_faults_of_the_cloth(cloth: dict[str, Any], where: str, why: str) -> None:
    assert (where, why) in told(cloth)


def test_seams_are_called_seams_where_they_are_too_few() -> None:
    with pytest.raises(DesignError, match=r"3 seams: there are 6 gores.*for each seam"):
        read_data(written({"seams": [0.1, 0.2, 0.3]}))


def test_both_tapes_and_cloth() -> None:
    (fault,) = told(tapes={"count": 8, "drops": [250, 250, 250]})
    assert fault == ("cloth", "the hoops are carried by tapes or by cloth, and both are written")


def test_neither_tapes_nor_cloth() -> None:
    assert ("tapes", "tapes is missing") in told_of(written())


def told_of(data: dict[str, Any]) -> list[tuple[str, str]]:
    data = {key: value for key, value in data.items() if key != "cloth"}
    with pytest.raises(DesignError) as caught:
        read_data(data)
    return [(problem.where, problem.why) for problem in caught.value.problems]


def test_an_opening_wider_than_its_gore() -> None:
    """Six gores: the nearest seams are a twelfth of 1.2 m from centre front, 200 mm from one another."""
    assert told({"gap": 150}, hoops=OPEN) == []
    (fault,) = told({"gap": 190}, hoops=OPEN)
    assert fault[0] == "hoops[0].opening"
    assert "seam 1 would lie in the opening of hoop 1" in fault[1]


def test_an_overhang_has_no_place_in_cloth() -> None:
    hoops = [OPEN[0] | {"overhang": 10}, *OPEN[1:]]
    assert ("hoops[0].overhang", "in cloth the steel ends where its casing ends") in told(hoops=hoops)


def test_a_join_that_slides_has_no_place_in_cloth() -> None:
    ring = {"length": 2000, "join": {"overlap": 50, "least": 1900, "most": 2100}}
    found = told(hoops=[{"length": 1200}, {"length": 1600}, ring])
    assert ("hoops[2].join", "hoop 3 slides, and the cloth round it has one girth") in found


def test_what_to_write_for_a_join_that_slides_speaks_of_no_seams_on_which_hoops_would_hang() -> None:
    ring = {"length": 2000, "join": {"overlap": 50, "least": 1900, "most": 2100}}
    with pytest.raises(DesignError) as fault:
        read_data(written(hoops=[{"length": 1200}, {"length": 1600}, ring]))
    (one,) = [problem for problem in fault.value.problems if problem.where == "hoops[2].join"]
    assert "least and most" in one.try_this
    assert "seam" not in one.try_this


def test_girths_count_the_opening() -> None:
    """1050 mm of steel and 150 mm between its ends."""
    girths = {"ease": None, "girths": [1199, 1600, 2000]}
    assert told(girths, hoops=OPEN)[0][1].startswith(
        "the cloth is narrower than hoop 1 with its opening (1200 mm)"
    )


def test_a_panel_names_seams_of_cloth_and_tapes_of_tapes() -> None:
    panel = {"hoops": [1], "widths": [100]}
    assert told(panels=[panel | {"seams": [3, 4]}]) == []
    assert told(panels=[panel | {"seams": [3, 7]}])[0][1] == "there is no seam 7: the design has 6"
    on_tapes = {"tapes": {"count": 8, "drops": [250, 250, 250]}, "panels": [panel | {"seams": [3, 4]}]}
    data = {key: value for key, value in (written() | on_tapes).items() if key != "cloth"}
    assert ("panels[0].seams", "a cage on tapes has no seams") in told_of(data)


def test_cloth_too_short_for_the_step_between_laced_hoops() -> None:
    """From 1600 to 2000 mm the step is 63.66 mm: 20 mm of cloth, less than a casing of 1 in, are refused laced or not.

    Longer than a casing, a laced hoop may hang out of its circle.
    """
    panel = {"seams": [3, 4], "hoops": [2], "widths": [300]}
    for panels in ([], [panel]):
        (fault,) = told({"levels": [250, 500, 520]}, panels=panels)
        assert fault == (
            "cloth.levels[0][2]",
            "seam 20 mm shorter than step 64 mm (hoop 2 to hoop 3): the hoop is longer than its seams can spread",
        )
    assert told({"levels": [250, 500, 560]}, panels=[]) != []
    assert told({"levels": [250, 500, 560]}, panels=[panel]) == []
    longer = remarks(gored({"levels": [250, 500, 560]}, panels=[panel]))[0].try_this
    assert longer.startswith("Make this stretch of cloth 7")


def test_points_name_seams() -> None:
    tie = {"from": "hoop 2 seam 1", "to": "hoop 2 seam 4", "length": 300}
    assert told(ties=[tie]) == []
    assert told(ties=[tie | {"to": "hoop 2 seam 9"}])[0][1] == "there is no seam 9: the design has 6"

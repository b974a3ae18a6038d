"""Tapes that do not pass every hoop: what is written becomes, by hand, drops and places; and what cannot be is told."""

from __future__ import annotations

import re
from typing import Any

import numpy as np
import pytest

from cage3d.design.models import Design
from cage3d.design.read import read_data
from cage3d.design.routes import depth_table, drop_table, passing, stations_on
from cage3d.errors import DesignError

NAN = np.nan
HOOPS = [{"length": 1000}, {"length": 1200}, {"length": 1400}, {"length": 1500}]


def design(tapes: dict[str, Any], hoops: dict[int, dict[str, Any]] | None = None) -> Design:
    """Four hoops on four tapes; hoops: what some of them have besides, by their number from 1."""
    own = hoops or {}
    return read_data(
        {
            "name": "free",
            "units": "mm",
            "wearer": {"waist": 700, "waist_height": 1050},
            "steel": {"width": 7, "thickness": 0.5},
            "tapes": {"count": 4, "drops": [200, 150, 140, 130]} | tapes,
            "hoops": [hoop | own.get(number, {}) for number, hoop in enumerate(HOOPS, start=1)],
        }
    )


def test_what_lies_between_two_hoops_of_a_tape_adds_up() -> None:
    """One list of drops, one a hoop of the cage: tape 2 passes hoops 1 and 4, tape 3 begins at hoop 2."""
    written = design(
        {"routes": [{"tapes": [2], "hoops": [1, 4]}, {"tapes": [3], "from": "hoop 2", "to": "hoop 3"}]}
    )
    assert passing(written).T.tolist() == [
        [True] * 4, [True, False, False, True], [False, True, True, False], [True] * 4,
    ]  # fmt: skip
    assert drop_table(written) == pytest.approx(
        np.array(
            [[0.2, 0.15, 0.14, 0.13], [0.2, NAN, NAN, 0.42], [NAN, NAN, 0.14, NAN], [0.2, 0.15, 0.14, 0.13]]
        ),
        nan_ok=True,
    )


def test_a_tape_has_its_own_drops_one_for_each_stretch() -> None:
    """Tape 3 counts on from the mean depth of the others at hoop 2: 350 and 370."""
    rows = [[200, 150, 140, 130], [210, 160, 140, 130], [150, 120], [200]]
    written = design(
        {"drops": rows, "routes": [{"tapes": [3], "from": "hoop 2"}, {"tapes": [4], "to": "hoop 1"}]}
    )
    assert drop_table(written)[2:] == pytest.approx(
        np.array([[NAN, NAN, 0.15, 0.12], [0.2, NAN, NAN, NAN]]), nan_ok=True
    )
    assert depth_table(written)[2] == pytest.approx([NAN, 0.36, 0.51, 0.63], nan_ok=True)


def test_a_hoop_names_its_tapes_and_where_they_stand() -> None:
    written = design(
        {"stations": [0.1, 0.3, 0.6, 0.9]}, {2: {"tapes": [1, 2, 4]}, 4: {"stations": [0.9, 0.2, 0.6, 0.05]}}
    )
    assert stations_on(written) == pytest.approx(
        np.array([[0.1, 0.3, 0.6, 0.9], [0.1, 0.3, NAN, 0.9], [0.1, 0.3, 0.6, 0.9], [0.9, 0.2, 0.6, 0.05]]),
        nan_ok=True,
    )
    assert drop_table(written)[2] == pytest.approx([0.2, NAN, 0.29, 0.13], nan_ok=True)


def test_a_design_without_them_is_told_as_before_there_were_any() -> None:
    before = design({}).model_dump_json()
    assert '"routes"' not in before
    assert not re.search('"(tapes|stations)":', before[before.index('"hoops"') :])
    assert '"routes"' in design({"routes": [{"tapes": [1], "to": "hoop 3"}]}).model_dump_json()
    assert '"tapes":[1,2,4]' in design({}, {2: {"tapes": [1, 2, 4]}}).model_dump_json()


ROUTE = "tapes.routes[0]"
# what it is: (tapes, hoops, where, what its message must hold)
WRONG: dict[str, tuple[dict[str, Any], dict[int, dict[str, Any]], str, str]] = {
    "a hoop that the tape names does not pass it": (
        {"routes": [{"tapes": [3], "hoops": [1, 2]}]}, {2: {"tapes": [1, 2, 4]}}, ROUTE,
        "tape 3 passes hoop 2, and hoop 2 does not pass tape 3: it names tapes 1, 2 and 4",
    ),
    "a tape that the hoop names does not pass it": (
        {"routes": [{"tapes": [3], "from": "hoop 3"}]}, {2: {"tapes": [1, 2, 3]}}, "hoops[1].tapes",
        "hoop 2 passes tape 3, and the route of tape 3 leaves hoop 2 out",
    ),
    "a hoop on one tape": ({}, {3: {"tapes": [2]}}, "hoops[2].tapes", "hoop 3 passes tape 2 alone"),
    "a hoop on no tape": (
        {"routes": [{"tapes": [1, 2, 3, 4], "to": "hoop 3"}]}, {}, "hoops[3].length", "hoop 4 passes no tape",
    ),
    "a hoop that nothing carries": (
        {"routes": [{"tapes": [1, 2], "to": "hoop 2"}, {"tapes": [3, 4], "from": "hoop 3"}]}, {}, "hoops[2]",
        "nothing carries hoop 3",
    ),
    "tapes that cross at the band": (
        {"stations": [0.1, 0.6, 0.3, 0.9]}, {}, "tapes.stations[2]", "tape 3 does not come after tape 2 at 0.6",
    ),
    "two tapes in one casing": (
        {}, {2: {"stations": [0.1, 0.1, 0.5, 0.9]}}, "hoops[1].stations", "tapes 1 and 2 stand at one place of hoop 2",
    ),
    "too few stations": (
        {}, {2: {"tapes": [1, 2, 4], "stations": [0.1, 0.5]}}, "hoops[1].stations", "passes tapes 1, 2 and 4",
    ),
    "no such tape": ({"routes": [{"tapes": [5]}]}, {}, f"{ROUTE}.tapes[0]", "there is no tape 5"),
    "no such tape on a hoop": ({}, {2: {"tapes": [1, 7]}}, "hoops[1].tapes[1]", "there is no tape 7"),
    "no such hoop": ({"routes": [{"tapes": [1], "from": "hoop 9"}]}, {}, f"{ROUTE}.from", "there is no hoop 9"),
    "not a hoop": ({"routes": [{"tapes": [1], "from": "knee"}]}, {}, f"{ROUTE}.from", "neither a hoop nor"),
    "upside down": (
        {"routes": [{"tapes": [1], "from": "hoop 3", "to": "hoop 2"}]}, {}, f"{ROUTE}.to", "does not lie below hoop 3",
    ),
    "begins at the lowest": (
        {"routes": [{"tapes": [1], "from": "hoop 4"}]}, {}, f"{ROUTE}.from", "does not lie below hoop 4",
    ),
    "passes what lies beyond its end": (
        {"routes": [{"tapes": [1], "to": "hoop 2", "hoops": [1, 3]}]}, {}, f"{ROUTE}.hoops",
        "hoop 3 does not lie between the waistband and hoop 2",
    ),
    "a tape twice": (
        {"routes": [{"tapes": [1]}, {"tapes": [2, 1]}]}, {}, "tapes.routes[1].tapes[1]", "has a route already",
    ),
    "too many drops": (
        {"drops": [[200, 150, 140, 130]] * 3 + [[200, 100, 90]], "routes": [{"tapes": [4], "hoops": [1, 4]}]}, {},
        "tapes.drops[3]", "tape 4 runs 2 stretches",
    ),
    "nothing from the band": ({"drops": [0, 150, 140, 130]}, {}, "tapes.drops[0][0]", "would lie on the waistband"),
    "nothing all round": ({"drops": [200, 0, 140, 130]}, {}, "tapes.drops", "hoop 2 would lie on the hoop above it"),
}  # fmt: skip


@pytest.mark.parametrize("case", WRONG)
def test_what_cannot_be_is_told(case: str) -> None:
    tapes, hoops, where, message = WRONG[case]
    with pytest.raises(DesignError) as told:
        design(tapes, hoops)
    found = {problem.where: problem for problem in told.value.problems}
    assert where in found, list(found)
    assert message in found[where].why
    assert found[where].try_this


TIE = {"from": "hoop 2 tape 3", "to": "hoop 2 tape 1", "length": 300}
ENDS = {
    "a tie from where no tape passes": ({"ties": [TIE]}, "ties[0].from", "tape 3 does not pass hoop 2"),
    "a tie from a tape that is not on the band": (
        {"ties": [TIE | {"from": "waistband tape 4"}]}, "ties[0].from", "tape 4 does not begin at the waistband",
    ),
    "a panel where no tape passes": (
        {"panels": [{"tapes": [2, 3], "hoops": [1, 2], "tightness": "10 %"}]}, "panels[0].hoops[1]",
        "tape 3 does not pass hoop 2",
    ),
}  # fmt: skip


@pytest.mark.parametrize("case", ENDS)
def test_ties_and_panels_hold_on_to_what_is_there(case: str) -> None:
    more, where, message = ENDS[case]
    good = design({"routes": [{"tapes": [4], "from": "hoop 1"}]}, {2: {"tapes": [1, 2, 4]}})
    assert len(good.ties) == 0
    data = {
        "name": "ends", "units": "mm", "wearer": {"waist": 700, "waist_height": 1050},
        "steel": {"width": 7, "thickness": 0.5},
        "tapes": {"count": 4, "drops": [200, 150], "routes": [{"tapes": [4], "from": "hoop 1"}]},
        "hoops": [{"length": 1000}, {"length": 1200, "tapes": [1, 2, 4]}],
    } | more  # fmt: skip
    with pytest.raises(DesignError) as told:
        read_data(data)
    assert {problem.where: message in problem.why for problem in told.value.problems} == {where: True}


HALF: dict[str, Any] = {
    "name": "half", "units": "mm", "wearer": {"waist": 660, "waist_height": 1050, "hip": 990, "hip_drop": 200},
    "steel": {"width": 7, "thickness": 0.5},
    "tapes": {"count": 4, "stations": [0.25, 0.4, 0.6, 0.75], "drops": [180, 150]},
    "hoops": [{"length": 700, "opening": "front", "ends": "sewn"}, {"length": 800, "opening": "front", "ends": "sewn"}],
}  # fmt: skip


def test_a_lace_from_end_to_end_of_a_half_hoop_need_not_go_round_her() -> None:
    """Behind she is over 400 mm round from side to side; the ends of a half hoop go with its lace. Another tie must."""
    lace = {"from": "hoop 1 tape 1", "to": "hoop 1 tape 4", "length": 300, "runs": "behind"}
    assert read_data(HALF | {"ties": [lace]}).ties[0].length == pytest.approx(0.3)
    with pytest.raises(DesignError, match="would have to go through her"):
        read_data(HALF | {"ties": [lace | {"to": "hoop 2 tape 4"}]})


ENDS_WRONG: dict[str, tuple[dict[str, Any], str, str]] = {
    "closed": ({"hoops": [{"length": 700, "ends": "sewn"}] * 2}, "hoops[0].ends", "is closed and has no ends"),
    "both on one tape": (
        {"hoops": [{"length": 700, "opening": "front", "ends": "sewn", "tapes": [1, 1]}, HALF["hoops"][1]]},
        "hoops[0].tapes[1]", "this tape stands twice",
    ),
    "one of them let go, and laced": (
        {"hoops": [{"length": 700, "opening": "front", "ends": "sewn", "tapes": [1, 2, 3]}, HALF["hoops"][1]],
         "ties": [{"from": "hoop 1 tape 1", "to": "hoop 1 tape 4", "length": 300, "runs": "behind"}]},
        "ties[0].to", "tape 4 does not pass hoop 1",
    ),
    "standing out": (
        {"hoops": [{"length": 700, "opening": "front", "ends": "sewn", "overhang": 10}] * 2}, "hoops[0].overhang",
        "are sewn and stand out past no casing",
    ),
    "sewn to the band in the middle": (
        {"tapes": {"count": 4, "stations": [0.25, 0.4, 0.6, 0.75], "drops": [[180, 150], [0, 150], *[[180, 150]] * 2]}},
        "tapes.drops[1][0]", "hoop 1 would lie on the waistband",
    ),
    "a tape of nothing": (
        {"tapes": {"count": 4, "stations": [0.25, 0.4, 0.6, 0.75],
                   "drops": [[0], [180, 150], [180, 150], [0]], "routes": [{"tapes": [1, 4], "to": "hoop 1"}]}},
        "tapes.drops[0]", "nowhere longer than nothing",
    ),
}  # fmt: skip


@pytest.mark.parametrize("case", ENDS_WRONG)
def test_ends_that_cannot_be_sewn_are_told(case: str) -> None:
    more, where, message = ENDS_WRONG[case]
    with pytest.raises(DesignError) as told:
        read_data(HALF | more)
    assert message in {problem.where: problem.why for problem in told.value.problems}[where]

"""What a maker writes, and the Design it becomes."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cage3d.design import rules
from cage3d.design.models import Design, WaistHeights
from cage3d.design.points import station_fractions
from cage3d.design.read import read_data, read_text
from cage3d.design.rules.circles import can_reach
from cage3d.errors import DesignError
from cage3d.units import INCH

PLAIN = {
    "name": "ring",
    "wearer": {"waist": "0.7 m", "waist_height": "1.05 m"},
    "steel": {"width": "10 mm", "thickness": "0.6 mm"},
    "tapes": {"count": 2, "drops": ["0.3 m"]},
    "hoops": [{"length": "1.5 m"}],
}


def data(**more: Any) -> dict[str, Any]:
    return PLAIN | more


def test_a_bare_list_of_drops_is_every_tapes() -> None:
    design = read_data(data(tapes={"count": 3, "drops": ["0.3 m"]}))
    assert design.tapes.drops == ((0.3,), (0.3,), (0.3,))


def test_a_list_of_lists_gives_each_tape_its_own() -> None:
    design = read_data(data(tapes={"count": 2, "drops": [["30 cm"], ["31 cm"]]}))
    assert design.tapes.drops == ((0.3,), (0.31,))


def test_two_tapes_and_a_single_hoop_are_enough() -> None:
    assert len(read_data(PLAIN).hoops) == 1


def test_the_published_cages_may_be_written() -> None:
    """A ring on two upright tapes, and a whole cage with nothing but steel."""
    ring = data(
        wearer={"waist": f"{0.8 * 2.3} m", "waist_height": "1 m", "waist_breadth": 1, "waist_depth": 1},
        units="m",
        hoops=[{"length": 2.3, "join": "none"}],
        tapes={"count": 2, "stations": [0.25, 0.75], "weight": 0, "drops": [0.3]},
        ties=[{"from": "hoop 1 tape 1", "to": "hoop 1 tape 2", "length": f"{0.8 * 2.3 / math.pi} m"}],
    )
    assert read_data(ring).tapes.weight == 0.0
    hoops = [{"length": length, "join": "none"} for length in (1.5, 1.9, 2.3, 2.7)]
    whole = data(units="m", hoops=hoops, tapes={"count": 8, "weight": 0, "drops": [0.15, 0.18, 0.20, 0.22]})
    assert rules.remarks(read_data(whole)) == []


def test_stations() -> None:
    def fractions(stations: Any) -> tuple[float, ...]:
        tapes = PLAIN["tapes"] | {"stations": stations}  # type: ignore[operator]
        return tuple(station_fractions(read_data(data(tapes=tapes)).tapes).tolist())

    assert fractions("between") == (0.25, 0.75)
    assert fractions("on") == (0.0, 0.5)
    assert fractions(["10 %", 0.7]) == (0.1, 0.7)


def test_numbers_built_in_code_are_si() -> None:
    built = Design.model_validate(
        {
            "name": "ring",
            "wearer": {"waist": 0.7, "waist_height": 1.05},
            "steel": {"width": 0.01, "thickness": 0.0006},
            "tapes": {"count": 2, "drops": [0.3]},
            "hoops": [{"length": 1.5}],
        }
    )
    assert built.model_dump() == read_data(PLAIN).model_dump()


def test_a_design_written_out_reads_back() -> None:
    design = read_data(data(ties=[{"from": "hoop 1 tape 1", "to": "hoop 1 tape 2", "length": "40 cm"}]))
    assert Design.model_validate(design.model_dump()) == design
    assert Design.model_validate(design.model_dump(by_alias=True)) == design


def test_yaml_keeps_what_was_meant() -> None:
    design = read_text(
        """
        name: 1860
        notes: no
        units: inches
        wearer: {waist: 26, waist_height: {front: 41 1/2, left: 41 3/4, back: 41¼, right: 3' 5"}}
        steel: {width: 7 mm, thickness: 0.5 mm, coating: 5 g/m}
        tapes: {count: 2, rest: middle, doubled: false, drops: [8 1/4], weight: 0}
        hoops: [{length: 48, join: none, rest: [top, 2 mm], carries: 200 g}]
        skirt: {cloth: taffeta}
        """
    )
    assert (design.name, design.notes, design.units) == ("1860", "no", "in")
    assert isinstance(design.wearer.waist_height, WaistHeights)
    assert design.wearer.waist_height.right == pytest.approx(41 * INCH)
    assert design.steel.coating == pytest.approx(0.005)
    assert (design.tapes.rest, design.tapes.doubled, design.tapes.weight) == ("middle", False, 0.0)
    assert design.hoops[0].join == "none"
    assert design.hoops[0].rest == ("top", pytest.approx(0.002))
    assert design.hoops[0].carries == pytest.approx(0.2)
    assert design.skirt is not None
    assert design.skirt.cloth == "taffeta"


def test_aliases_may_stand_for_values() -> None:
    design = read_text("""
        name: aliases
        wearer: {waist: 0.7 m, waist_height: 1.05 m}
        steel: {width: 7 mm, thickness: 0.5 mm}
        tapes: {count: 2, drops: [&d 30 cm, *d]}
        hoops: [&h {length: 1.5 m}, *h]
        """)
    assert design.tapes.drops[1] == (0.3, 0.3)
    assert design.hoops[0] == design.hoops[1]


def test_one_hoops_strip_over_the_designs() -> None:
    design = read_data(data(hoops=[{"length": "1.5 m", "steel": {"width": "12 mm", "strands": 2}}]))
    steel = design.steel_of(0)
    assert (steel.width, steel.thickness, steel.strands) == (0.012, 0.0006, 2)


def test_problems_of_data_name_the_part_of_the_design() -> None:
    with pytest.raises(DesignError) as caught:
        read_data(data(hoops=[{"length": "1.5 m", "opening": "side"}]))
    assert caught.value.problems[0].where == "hoops[0].opening"


def test_strands_that_do_not_fit_their_casing_side_by_side_are_told() -> None:
    steel = {"width": "7 mm", "thickness": "0.5 mm", "strands": 4}
    (remark,) = rules.remarks(read_data(data(steel=steel)))
    assert "the 4 strips of hoop 1 are wide side by side (28 mm)" in remark.why


def test_remarks_on_sizes_out_of_the_ordinary() -> None:
    wearer = {"waist": "0.45 m", "waist_height": "1.4 m", "hip": "0.39 m", "hip_drop": "0.2 m"}
    remarks = rules.remarks(read_data(data(wearer=wearer)))
    assert [remark.where for remark in remarks] == [
        "wearer.waist",
        "wearer.hip",
        "wearer.waist_height",
        "wearer.hip",
    ]
    assert rules.remarks(read_data(PLAIN)) == []


def test_remark_on_a_hem_below_the_floor() -> None:
    (remark,) = rules.remarks(read_data(data(tapes={"count": 2, "drops": ["1.2 m"]})))
    assert "below the floor" in remark.why


def test_remark_on_casings_that_lie_over_one_another() -> None:
    tapes = {"count": 2, "casing": "2.5 cm", "drops": ["0.3 m", "2 cm"]}
    (remark,) = rules.remarks(read_data(data(tapes=tapes, hoops=[{"length": "1.5 m"}, {"length": "1.5 m"}])))
    assert remark.where == "tapes.drops[0][1]"
    assert "would lie over the casing of hoop 1" in remark.why


def test_remark_on_a_tie_that_never_pulls() -> None:
    tie = {"from": "hoop 1 tape 1", "to": "hoop 1 tape 2", "length": "80 cm"}
    (remark,) = rules.remarks(read_data(data(ties=[tie])))
    assert "never pull" in remark.why


def test_a_tie_pulls_where_it_is_shorter_than_the_steel_between_its_ends() -> None:
    """Of a metre in eight parts two neighbours are 12.5 cm apart by the steel; across an opening nearly a metre."""
    tapes = {"count": 8, "drops": ["0.3 m"]}

    def told(first: int, second: int, length: str, **hoop: str) -> int:
        tie = {"from": f"hoop 1 tape {first}", "to": f"hoop 1 tape {second}", "length": length}
        design = read_data(data(tapes=tapes, hoops=[{"length": "1 m", **hoop}], ties=[tie]))
        return sum("never pull" in remark.why for remark in rules.remarks(design))

    assert told(1, 2, "13 cm") == 1
    assert told(1, 2, "12 cm") == 0
    assert told(1, 8, "13 cm") == 1
    assert told(1, 8, "60 cm", opening="front") == 0
    assert told(4, 5, "60 cm", opening="back") == 0
    assert told(2, 6, "60 cm", opening="front") == 1


def test_one_short_tape_moves_the_hoop_off_centre() -> None:
    """Step (1.5 - 0.7)/2 pi = 0.127 m: one tape of 0.10 m is met off centre, two opposite ones are not."""
    drops = [["0.3 m"], ["0.3 m"], ["0.3 m"], ["0.1 m"]]
    (remark,) = rules.remarks(read_data(data(tapes={"count": 4, "drops": drops})))
    assert "on tape 4" in remark.why
    with pytest.raises(
        DesignError, match=r"tape 100 mm shorter than step 127 mm \(waistband to hoop 1\) on tapes 2, 4"
    ):
        read_data(data(tapes={"count": 4, "drops": [["0.3 m"], ["0.1 m"], ["0.3 m"], ["0.1 m"]]}))


def test_hoops_held_in_by_ties_may_be_reached() -> None:
    short = data(tapes={"count": 4, "drops": ["0.12 m"]})
    with pytest.raises(DesignError):
        read_data(short)
    tie = {"from": "hoop 1 tape 1", "to": "hoop 1 tape 3", "length": "30 cm"}
    (remark,) = rules.remarks(read_data(short | {"ties": [tie]}))
    assert "shorter than step" in remark.why


@settings(deadline=None)
@given(st.lists(st.floats(0.05, 0.4), min_size=3, max_size=9), st.floats(0.0, 0.4))
def test_reach_against_a_search(lengths: list[float], step: float) -> None:
    """The crossing points of circles, against a fine grid of places the hoop might move to."""
    turn = 2 * np.pi * np.arange(len(lengths)) / len(lengths)
    centres = step * np.column_stack([np.sin(turn), np.cos(turn)])
    x, y = np.meshgrid(*2 * (np.linspace(-0.4, 0.4, 161),))
    places = np.column_stack([x.ravel(), y.ravel()])
    worst = (np.linalg.norm(places[:, None] - centres, axis=2) - lengths).max(axis=1).min()
    reach = can_reach(centres, np.array(lengths))
    if abs(worst) > 0.004:  # the grid's half diagonal
        assert reach == (worst < 0)


@pytest.mark.parametrize(
    "written", ["EUR", "eur", "€", "£", "US$", "R$", "kr", "Kč", "zł", "Fr.", "Euro", ""]
)
def test_currencies_as_makers_write_them(written: str) -> None:
    assert read_data(data(buying={"currency": written})).buying.currency == written

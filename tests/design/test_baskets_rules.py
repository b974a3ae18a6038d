"""What is said of hoops beside her that cannot be: where, what was written, why not."""

from __future__ import annotations

from typing import Any

import pytest

from cage3d.design.baskets import hem_hoops
from cage3d.design.read import read_data, read_text
from cage3d.design.routes import stations_on
from cage3d.errors import DesignError, Problem

OTHER = {"left": "right", "right": "left"}


def bow(side: str, length: float) -> dict[str, Any]:
    return {"length": length, "beside": side, "opening": OTHER[side], "ends": "sewn"}


PLAIN: dict[str, Any] = {
    "name": "two baskets", "units": "in", "wearer": {"waist": 26, "waist_height": 41.5, "hip": 39, "hip_drop": 8},
    "steel": {"width": "7 mm", "thickness": "0.5 mm"}, "tapes": {"count": 8, "drops": [10, 4]},
    "hoops": [bow("left", 22), bow("right", 22), bow("left", 26), bow("right", 26)],
}  # fmt: skip


def first(**keys: Any) -> dict[str, Any]:
    """The first hoop written otherwise."""
    return {"hoops": [PLAIN["hoops"][0] | keys, *PLAIN["hoops"][1:]]}


def tie(one: str, other: str, length: float, runs: str) -> dict[str, Any]:
    return {"ties": [{"from": one, "to": other, "length": length, "runs": runs}]}


WRONG: dict[str, tuple[dict[str, Any], str, str, str]] = {
    "no tape at that side": (
        {"tapes": {"count": 4, "stations": [0.55, 0.65, 0.8, 0.9], "drops": [10, 4]}}, "hoops[0].beside", "left",
        "hoop 1 stands at her left, where no tape hangs",
    ),
    "one tape at that side": (
        {"tapes": {"count": 4, "stations": [0.25, 0.65, 0.8, 0.9], "drops": [10, 4]}}, "hoops[0].beside", "left",
        "hoop 1 stands at her left, where tape 1 alone hangs",
    ),
    "a tape of the other side": (
        first(tapes=[1, 2, 5]), "hoops[0].tapes[2]", "5", "tape 5 hangs at her right, and hoop 1 stands at her left",
    ),
    "one tape of its own": (
        first(tapes=[2]), "hoops[0].tapes", "", "hoop 1 passes tape 2 alone and would hang down from it",
    ),
    "a word that is no side": (first(beside="lft"), "hoops[0].beside", "lft", "this word has no meaning here"),
    "open on its outside": (
        first(opening="left"), "hoops[0].opening", "left",
        "hoop 1 stands at her left and can open only towards her, at its own right",
    ),
    "open at its front": (
        first(opening="front"), "hoops[0].opening", "front",
        "hoop 1 stands at her left and can open only towards her, at its own right",
    ),
    "round her and open at a side": (
        {"hoops": [{"length": 60, "opening": "left"}, {"length": 70}]}, "hoops[0].opening", "left",
        "hoop 1 goes round her, and such a hoop opens at the front or at the back",
    ),
    "a join on an open one": (
        first(join={"overlap": 2}), "hoops[0].join", "join", "hoop 1 is open and its ends do not meet",
    ),
    "sewn ends of a ring": (
        first(opening="none"), "hoops[0].ends", "sewn", "hoop 1 is closed and has no ends",
    ),
    "a drop for every hoop of both": (
        {"tapes": {"count": 8, "drops": [10, 4, 4, 4]}}, "tapes.drops", "4 drops",
        "tape 1 passes hoops 1 and 3, and every other as many",
    ),
    "a route to the other side": (
        {"tapes": {"count": 8, "drops": [10, 4], "routes": [{"tapes": [1], "hoops": [1, 2]}]}}, "tapes.routes[0]",
        "tape 1", "tape 1 passes hoop 2, and hoop 2 does not pass tape 1: it names tapes 5, 6, 7 and 8",
    ),
    "a tape where it opens": (
        first(stations=[0.75, 0.1, 0.3, 0.5]), "hoops[0].stations", "0.75",
        "tape 1 stands in the middle of the inner side of hoop 1, where it opens",
    ),
    "in the waistband": (
        {"tapes": {"count": 8, "drops": [0, 4]}}, "tapes.drops[0][0]", "0",
        "hoop 1 would lie in the waistband, along her, and cannot stand beside her",
    ),
    "a skirt that slides": (
        {"skirt": {"weight": "1 kg", "slides": True}}, "skirt.slides", "yes",
        "how cloth slides is worked out for hoops that go round her, and some stand beside her",
    ),
    "a skirt's shares by the tapes": (
        {"skirt": {"weight": "1 kg", "lies": ["12.5 %"] * 8}}, "skirt.lies", "8 shares",
        "shares by the tapes tell where a skirt lies on hoops that go round her, and some stand beside her",
    ),
    "a wish for one side of the hem": (
        {"hem": {"front": [20, 22]}}, "hem.front", "front",
        "the hem is that of hoops beside her (3 and 4), each with sides and widths of its own",
    ),
    "a tie round the other side of her": (
        tie("hoop 1 tape 1", "hoop 3 tape 4", 11, "right"), "ties[0].runs", "right",
        "both ends are on hoops that stand at her left, and the tie passes her there",
    ),
    "a tie to a tape of the other side": (
        tie("hoop 1 tape 1", "hoop 1 tape 8", 4, "before"), "ties[0].to", "hoop 1 tape 8",
        "tape 8 does not pass hoop 1",
    ),
}  # fmt: skip


def problems(changes: dict[str, Any]) -> list[Problem]:
    with pytest.raises(DesignError) as caught:
        read_data(PLAIN | changes)
    return caught.value.problems


@pytest.mark.parametrize("case", WRONG)
def test_it_is_said_once_and_what_to_do(case: str) -> None:
    changes, where, said, why = WRONG[case]
    found = [one for one in problems(changes) if (one.where, one.said) == (where, said)]
    assert [one.why for one in found] == [why]
    assert found[0].try_this


@pytest.mark.parametrize("case", [case for case in WRONG if "tape at that side" not in case])
def test_nothing_else_is_said(case: str) -> None:
    assert len(problems(WRONG[case][0])) == 1


def test_tapes_too_short_to_reach_out_beside_her() -> None:
    """A ring of 30 in is 4.77 in in radius. Beside hips of 39 in, some 13 in broad, its middle lies 11 in out and its
    outer casings, an eighth of a turn off, 14 1/2 in: 10 1/2 in or so from where their tapes begin, 4 in out.
    """
    rings = [{"length": 30, "beside": side} for side in ("left", "right")]
    found = problems({"hoops": rings, "tapes": {"count": 8, "drops": [7]}})
    assert [one.where for one in found] == ["tapes.drops[1][0]", "tapes.drops[5][0]"]
    assert "hoop 1 cannot stand beside her: where tape 2 passes it, it lies" in found[0].why
    read_data(PLAIN | {"hoops": rings, "tapes": {"count": 8, "drops": [10]}})


def test_all_that_stands_here_is_right_but_for_what_is_changed() -> None:
    design = read_data(PLAIN | tie("hoop 1 tape 2", "hoop 1 tape 3", 5, "left"))
    assert hem_hoops(design) == (2, 3)


def test_where_its_tapes_stand_if_it_does_not_say() -> None:
    """Four on a bow over half a turn from its front, at her right from its back; on a ring from its inner middle."""
    design = read_data(PLAIN | {"hoops": [bow("left", 22), bow("right", 22), *(
        {"length": 34, "beside": side} for side in ("left", "right"))]})  # fmt: skip
    rows = stations_on(design)
    assert rows[0, :4] == pytest.approx([0.0, 1 / 6, 1 / 3, 0.5])
    assert rows[1, 4:] == pytest.approx([0.5, 2 / 3, 5 / 6, 0.0])
    assert rows[2, :4] == pytest.approx([7 / 8, 1 / 8, 3 / 8, 5 / 8])
    assert rows[3, 4:] == pytest.approx([3 / 8, 5 / 8, 7 / 8, 1 / 8])


def test_a_fault_has_its_line() -> None:
    text = (
        "name: two\nunits: in\nwearer: {waist: 26, waist_height: 41}\nsteel: {width: 7 mm, thickness: 0.5 mm}\n"
        "tapes: {count: 8, drops: [10]}\nhoops:\n  - {length: 22, beside: left, opening: back}\n"
        "  - {length: 22, beside: right}\n"
    )
    with pytest.raises(DesignError) as caught:
        read_text(text)
    (problem,) = caught.value.problems
    assert (problem.line, problem.said) == (7, "opening: back")

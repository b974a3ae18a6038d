"""The order of cutting: sums that come out, no plan that buys less, stock that does not do."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import cache
from itertools import combinations_with_replacement, permutations
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from made import SAMPLES, hard_data, hung_sample

from cage3d.design.models import Stock
from cage3d.design.read import read_data
from cage3d.errors import DesignError
from cage3d.shape.lay_out import lay_out
from cage3d.sheets.cutting import CuttingPlan, plan_cutting
from cage3d.sheets.making import prepared
from cage3d.sheets.steel import SteelCut, cutting_list
from cage3d.sheets.writing import Writing

MM = Writing(inches=False)


@cache
def one_cut() -> SteelCut:
    data = {
        "name": "plain",
        "units": "mm",
        "wearer": {"waist": 660, "waist_height": 1050},
        "steel": {"width": 7, "thickness": 0.5},
        "tapes": {"count": 8, "drops": [200]},
        "hoops": [{"length": 1600, "join": {"overlap": 50}}],
    }
    return cutting_list(lay_out(read_data(data)))[0]


def cuts_of(lengths: Sequence[float]) -> list[SteelCut]:
    """Hoops cut to these lengths (m)."""
    rows = enumerate(lengths, start=1)
    return [
        replace(one_cut(), hoop=number, finished=length - 0.05, exact=length, cut=length)
        for number, length in rows
    ]


def planned(lengths: Sequence[float], stock: Sequence[Stock], spare: float = 0.0) -> CuttingPlan:
    return plan_cutting(cuts_of(lengths), stock, spare, MM)[0]


def assert_sums(plan: CuttingPlan) -> None:
    """Every hoop once, nothing cut beyond its length, cut and left over are what was bought."""
    assert sorted(hoop for bar in plan.bars for hoop in bar.hoops) == sorted(cut.hoop for cut in plan.cuts)
    lengths = {cut.hoop: cut.cut for cut in plan.cuts}
    for bar in plan.bars:
        assert list(bar.cuts) == [lengths[hoop] for hoop in bar.hoops]
        assert bar.left > -1e-5
    assert plan.cut + plan.left == pytest.approx(plan.bought, abs=1e-9)


@pytest.mark.parametrize("path", SAMPLES, ids=lambda path: path.stem)
def test_cut_and_left_over_are_what_is_bought(path: Path) -> None:
    settled, report = hung_sample(path)
    making = prepared(settled.cage, report, None)
    for plan in making.plans:
        assert_sums(plan)
        assert plan.left >= settled.cage.design.buying.spare * plan.cut - 1e-6 or not plan.spare
    assert sum(plan.cut for plan in making.plans) == pytest.approx(sum(cut.cut for cut in making.cuts))


def least_by_trying(lengths: Sequence[float], stock: Sequence[float]) -> float:
    """m, the least steel of any multiset of lengths that holds the hoops in some order, by trying all."""
    best = float("inf")
    for count in range(1, len(lengths) + 1):
        for bars in combinations_with_replacement(stock, count):
            if sum(bars) < best - 1e-9 and fits(lengths, bars):
                best = sum(bars)
    return best


def fits(lengths: Sequence[float], bars: Sequence[float]) -> bool:
    """Whether some order of the hoops, each in the first bar with room, fits."""
    for order in set(permutations(lengths)):
        room = list(bars)
        for length in order:
            place = next((i for i, left in enumerate(room) if left >= length - 1e-7), None)
            if place is None:
                break
            room[place] -= length
        else:
            return True
    return False


MILLIMETRES = st.integers(400, 3000).map(lambda length: length / 1000)


@settings(max_examples=40, deadline=None)
@given(
    st.lists(MILLIMETRES, min_size=1, max_size=5), st.lists(st.integers(3000, 6000), min_size=1, max_size=2)
)
def test_no_plan_buys_less(lengths: list[float], stock: list[int]) -> None:
    plan = planned(lengths, [Stock(length=length / 1000) for length in stock])
    assert_sums(plan)
    assert plan.best
    assert plan.bought == pytest.approx(
        least_by_trying(lengths, [length / 1000 for length in stock]), abs=1e-6
    )


@settings(max_examples=20, deadline=None)
@given(st.lists(st.tuples(MILLIMETRES, st.integers(1, 3)), min_size=1, max_size=2), st.integers(3000, 6000))
def test_no_plan_buys_less_where_many_hoops_are_of_one_length(
    lengths: list[tuple[float, int]], stock: int
) -> None:
    """As in an order for several wearers."""
    every = [length for length, count in lengths for _ in range(count)]
    plan = planned(every, [Stock(length=stock / 1000)])
    assert_sums(plan)
    assert plan.best
    assert plan.bought == pytest.approx(least_by_trying(every, [stock / 1000]), abs=1e-6)


def test_a_worked_plan_where_the_longest_first_would_waste() -> None:
    """6 m lengths: longest first puts 2 beside 3 and needs a third length; the best fills two to the end."""
    plan = planned([3.0, 2.0, 2.0, 2.0, 1.5, 1.5], [Stock(length=6.0)])
    assert plan.bought == pytest.approx(12.0)
    assert plan.left == pytest.approx(0.0, abs=1e-6)
    assert sorted(sorted(bar.cuts) for bar in plan.bars) == [[1.5, 1.5, 3.0], [2.0, 2.0, 2.0]]


def test_the_spare_share_is_left_over_where_it_can_be() -> None:
    assert planned([2.9], [Stock(length=3.0)]).bought == pytest.approx(3.0)
    spare = planned([2.9], [Stock(length=3.0)], spare=0.1)
    assert (spare.bought, spare.spare) == (pytest.approx(6.0), True)
    short = planned([2.9], [Stock(length=3.0, count=1)], spare=0.1)
    assert (short.bought, short.spare) == (pytest.approx(3.0), False)


def test_without_stock_one_coil_holds_all_and_the_spare() -> None:
    plan = planned([1.0, 2.0], [], spare=0.1)
    assert not plan.written
    assert plan.bought == pytest.approx(3.3)
    assert_sums(plan)


def test_two_sizes_of_steel_are_planned_apart() -> None:
    data = hard_data()
    data["hoops"][-1] = data["hoops"][-1] | {"steel": {"width": "6 mm"}}
    design = read_data(data)
    plans = plan_cutting(cutting_list(lay_out(design)), design.buying.steel, 0.0, Writing(inches=True))
    assert [round(plan.section.steel.width, 4) for plan in plans] == [0.005, 0.006]
    assert [len(plan.cuts) for plan in plans] == [11, 1]
    for plan in plans:
        assert_sums(plan)


def test_a_length_is_used_for_the_size_it_names() -> None:
    wide, any_size = Stock(length=2.0, width=0.010, thickness=0.0005), Stock(length=3.0)
    plan = planned([1.9], [wide, any_size])
    assert [bar.length for bar in plan.bars] == [3.0], "the 2 m length is of another strip"
    assert [bar.length for bar in planned([1.9], [replace_size(wide), any_size]).bars] == [2.0]
    with pytest.raises(DesignError, match=r"no length of 7 × 0\.5 mm is listed"):
        planned([1.9], [wide])


def replace_size(stock: Stock) -> Stock:
    return stock.model_copy(update={"width": one_cut().section.width})


def test_stock_shorter_than_a_hoop_names_it_and_offers_a_joined_one() -> None:
    with pytest.raises(DesignError) as fault:
        planned([2.0, 3.25, 4.05], [Stock(length=2.0), Stock(length=3.0)])
    first, second = fault.value.problems
    assert (first.where, first.said) == ("buying.steel", "3000 mm")
    assert "hoop 2, which is cut 3250 mm long" in first.why
    # Two pieces with two laps of 50 mm: (3200 + 100) / 2.
    assert "2 pieces of 1650 mm (1 more join lapped 50 mm)" in first.try_this
    assert "at least 4050 mm" in second.try_this


def test_an_open_hoop_of_two_pieces_has_one_lap() -> None:
    cut = replace(cuts_of([3.25])[0], opening="front", join=None, finished=3.25)
    with pytest.raises(DesignError, match=r"2 pieces of 1650 mm \(1 more join lapped 51 mm\)"):
        plan_cutting([cut], [Stock(length=3.0)], 0.0, MM)


def test_too_few_lengths_are_refused() -> None:
    with pytest.raises(DesignError, match="as many lengths as are listed"):
        planned([2.0, 2.0, 2.0], [Stock(length=3.0, count=2)])


def test_many_hoops_from_short_lengths_are_planned_the_same_each_time(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Where the search is broken off, it is by a count; fewer steps here than a maker gets."""
    monkeypatch.setattr("cage3d.sheets.least_steel.NODE_LIMIT", 400)
    lengths = [1.0 + 0.061 * number for number in range(24)]
    first, second = (planned(lengths, [Stock(length=3.0), Stock(length=5.0)]) for _ in range(2))
    assert_sums(first)
    assert not first.best
    assert first == second
    assert first.left / first.bought < 0.06

"""Two cages made at once: what is bought for both, who gets which hoop, labels and quote, worked out by hand."""

from __future__ import annotations

import csv
from io import StringIO
from pathlib import Path

import pytest
from calling import SMALL
from made import pages_of

from cage3d.design.models import Buying
from cage3d.report import measure
from cage3d.sheets.order import Order, alike, order_of, ordered
from cage3d.sheets.ordering import order_files
from cage3d.sheets.pages.order import amounts_of
from cage3d.sheets.quote import Quote, Work
from cage3d.study.grading.grade import How, graded, pattern_of
from cage3d.study.grading.wearers import wearers_of
from cage3d.units.kinds import INCH

YARD = 36 * INCH
# Six doubled tapes of 17 in and 1 in at either end; a band of 24 or 30 and 6 in for the buckle.
BUYING = """\
tapes: {count: 6, drops: [9, 8], allowance: {top: 1, bottom: 1}}
buying:
  currency: EUR
  spare: 10 %
  rolls: {belting: 1 yd}
  prices: {ribbon: 2, buckle: 3, belting: 4}
"""
TABLE = "code,role,waist,waist breadth,waist depth\nW-26,Maid,26,8.3,8.3\nW-26 b,Understudy,26,8.3,8.3\n"


@pytest.fixture(scope="module")
def order(tmp_path_factory: pytest.TempPathFactory) -> Order:
    path: Path = tmp_path_factory.mktemp("order") / "small.yaml"
    path.write_text(SMALL.replace("tapes: {count: 6, drops: [9, 8]}\n", BUYING), encoding="utf-8")
    pattern = pattern_of(path)
    cages = [graded(pattern, row, How()) for row in wearers_of(TABLE, "w.csv", "in")]
    return order_of(pattern.design, [ordered(cage, measure(cage.settled)) for cage in cages])


def row_of(order: Order, key: str) -> tuple[float, float, float | None]:
    """(needed, to buy, cost)"""
    (row,) = (row for row in order.materials if row.key == key)
    return row.amount, row.buy, row.cost


def test_amounts_are_added_before_what_is_spare(order: Order):
    """Laps: 4, and a tenth to spare makes 5, not 3 + 3. Buckles: 2 at 3 EUR, none spare."""
    assert row_of(order, "join")[:2] == (4, 5)
    assert row_of(order, "buckle") == (2, 2, 6.0)
    ribbon = 2 * 6 * 2 * 19 * INCH
    assert row_of(order, "ribbon") == pytest.approx((ribbon, 1.1 * ribbon, 1.1 * ribbon / YARD * 2))


def test_whole_rolls_are_counted_for_all_together(order: Order):
    """Belting: twice 32 in is 64, and a tenth 70.4 in: two yards of it, where each cage alone would take one: 1 yd."""
    assert row_of(order, "belting") == pytest.approx((64 * INCH, 2 * YARD, 2 * 4))
    (row,) = (row for row in order.materials if row.key == "belting")
    assert "2 rolls of 1.00 yd" in row.words


def test_every_piece_belongs_to_one_wearer(order: Order):
    (plan,) = order.plans
    pieces = [order.called(number) for bar in plan.bars for number in bar.hoops]
    assert sorted(pieces) == ["W-26 b hoop 1", "W-26 b hoop 2", "W-26 hoop 1", "W-26 hoop 2"]
    assert plan.cut == pytest.approx(2 * (54 + 64) * INCH)
    assert [[(round(length / INCH), codes) for length, codes in hoop] for hoop in alike(order)] == [
        [(52, ["W-26", "W-26 b"])], [(62, ["W-26", "W-26 b"])],
    ]  # fmt: skip


def test_a_label_for_every_hoop_and_every_cage(order: Order):
    (page,) = pages_of(order_files(order)["labels.pdf"])
    words = " ".join(page.text.split())
    assert words.count("Whole cage") == 2
    assert words.count("Hoop 1 of 2") == words.count("Hoop 2 of 2") == 2
    assert words.count("cut 54 in, 12 × 0.6 mm") == words.count("cut 64 in, 12 × 0.6 mm") == 2
    assert "Understudy" in words
    assert len(page.rects) == 6


def test_pages_and_tables_say_the_same(order: Order):
    files = order_files(order)
    who, steel, buy, quote = pages_of(files["order.pdf"])
    assert "One length for all: hoop 1 52 in, hoop 2 62 in." in " ".join(who.text.split())
    assert "W-26 b hoop 2: 64" in " ".join(steel.text.split())
    assert "70.33" not in buy.text
    assert "open" in quote.text
    cut = list(csv.DictReader(StringIO(files["tables/order-of-cutting.csv"].decode())))
    assert [(row["wearer"], row["hoop"]) for row in cut].count(("W-26 b", "2")) == 1
    bought = sum(plan.bought for plan in order.plans)
    assert sum(float(row["piece_mm"]) for row in cut) == pytest.approx(1e3 * bought, abs=1)


def test_a_quote_by_hand():
    """1.2 h and 0.4 h at 25 are 40; with 60 of materials 100, and 15 % of that 115."""
    works = (
        Work("tape", "Tapes", 12, 6.0),
        Work("hoop", "Hoops", 2, 12.0),
        Work("fitting", "Fitting", 1, None),
    )
    quote = Quote(works, 25.0, 0.15, 60.0, ("Thread",), "EUR")
    assert (quote.hours, quote.labour, quote.before) == (
        pytest.approx(1.6),
        pytest.approx(40),
        pytest.approx(100),
    )
    assert amounts_of(quote)[-1] == ("All together", pytest.approx(115))
    assert quote.open == ("materials without a price (thread)", "work without minutes (fitting)")


def test_nothing_is_assumed():
    quote = Quote((Work("tape", "Tapes", 12, None),), None, None, None, ("Thread",), None)
    assert (quote.hours, quote.total, amounts_of(quote)) == (None, None, [])
    assert len(quote.open) == 3
    assert Buying().minutes.model_dump(exclude_none=True) == {}

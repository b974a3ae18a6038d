"""A whole materials table, every line worked out by hand."""

from __future__ import annotations

import csv
from io import StringIO

import pytest
from made import hung_design, pages_of

from cage3d.design.read import read_data
from cage3d.sheets import make_sheets
from cage3d.sheets.writing import Writing

# Two hoops on four doubled tapes, a tie and a laced panel; 25 % to spare of everything but the buckle.
DESIGN = {
    "name": "materials",
    "units": "mm",
    "wearer": {"waist": 600, "waist_height": 1000, "waist_breadth": 191, "waist_depth": 191},
    "waistband": {"depth": 20, "overlap": 100},
    "steel": {"width": 10, "thickness": 0.5, "density": 8000, "coating": "10 g/m"},
    "tapes": {
        "count": 4, "casing": 25, "width": 20, "weight": "15 g/m", "drops": [200, 100],
        "allowance": {"top": 30, "bottom": 20},
    },
    "hoops": [
        {"length": 1000, "join": {"overlap": 50}},
        {"length": 1200, "opening": "front", "overhang": 20},
    ],
    "ties": [{"from": "hoop 2 tape 1", "to": "hoop 2 tape 4", "length": 400}],
    "panels": [{"tapes": [2, 3], "hoops": [1, 2], "widths": [200, 240]}],
    "buying": {
        "currency": "EUR", "spare": "25 %",
        "steel": [{"length": "2 m", "price": 3}, {"length": "2.9 m", "price": 4}],
        "prices": {
            "ribbon": 2, "waistband": 3, "belting": 1, "web": 0.5, "buckle": 4, "tie": 1.5, "lacing": 0.8,
            "eyelet": 0.1, "thread": 0.01, "tip": 0.25, "join": 0.6,
        },
    },
}  # fmt: skip

# Name: needed, with spare, unit, kg, cost.
BY_HAND = {
    # 1000 + 50 and 1200; a quarter more is 2.8125 m, which one length of 2.9 m gives. 40 + 10 g a metre.
    "Spring steel 10 × 0.5 mm": (2.250, 2.900, "m", 2.250 * 0.050, 4.00),
    # One hoop is lapped, one has two ends; 1.25 and 2.5 pieces are 2 and 3.
    "Lap connectors": (1, 2, "pieces", 0.002, 2 * 0.60),
    "Tips": (2, 3, "pieces", 2 * 0.001, 3 * 0.25),
    # Four tapes of two layers of 30 + 200 + 100 + 20 mm, at 15 g/m of finished tape.
    "Ribbon for the tapes": (4 * 2 * 0.350, 3.500, "m", 4 * 0.350 * 0.015, 7.00),
    "Ribbon for the waistband": (2 * (0.600 + 0.100), 1.750, "m", 2 * 0.700 * 0.020 * 0.28, 5.25),
    "Belting": (0.700, 0.875, "m", 0.700 * 0.020 * 0.6, 0.875),
    "Buckle": (1, 1, "pieces", 0.020, 4.00),
    # On each tape from the zero to the last stitches, 300 + half of 10, less two casings of 25.
    "Fusible web, strip": (4 * (0.305 - 0.050), 1.275, "m", 1.020 * 0.020 * 0.03, 0.6375),
    # 6 in more on the tie for its knots (common practice).
    "Tie tape": (0.400 + 0.1524, 0.6905, "m", 0.5524 * 0.0127 * 0.28, 1.035750),
    "Eyelets": (16, 20, "pieces", 16 * 0.0003, 2.00),
    # Eight rows of two eyelets: 14 crossings of the widest, 240 mm, and a seventh of the 100 mm; 1 m to tie
    # (common practice). sqrt(0.24^2 + 0.0142857^2) = 0.2404248.
    "Lacing": (14 * 0.2404248 + 1.000, 5.457434, "m", 4.365947 * 0.005, 4.365947),
    # Four tapes: two lines at two casings, 20 mm each, and two edges of 350 mm; round the band twice 700 mm;
    # 3 m of thread in a metre of seam.
    "Thread": (3 * (4 * 2 * 2 * 0.020 + 4 * 2 * 0.350 + 2 * 0.700), 16.95, "m", 13.56 * 40e-6, 0.1695),
}


def test_every_line_is_as_worked_out_by_hand() -> None:
    settled, report = hung_design(read_data(DESIGN))
    made = make_sheets(settled, report).tables["materials.csv"].decode()
    told = {row["material"]: row for row in csv.DictReader(StringIO(made))}
    assert list(told) == list(BY_HAND)
    steel, laps = told["Spring steel 10 × 0.5 mm"], told["Lap connectors"]
    assert [steel[head] for head in ("needed", "to_buy", "weight_kg", "cost")] == [
        "2.250",
        "2.900",
        "0.1125",
        "4.00",
    ]
    assert (laps["needed"], laps["to_buy"], laps["weight_kg"]) == ("1", "2", "0.0020")
    for name, (needed, spare, unit, weight, cost) in BY_HAND.items():
        row = told[name]
        assert float(row["needed"]) == pytest.approx(needed, abs=0.0006), name
        assert float(row["to_buy"]) == pytest.approx(spare, abs=0.0006), name
        assert row["unit"] == unit, name
        assert float(row["weight_kg"]) == pytest.approx(weight, abs=0.00006), name
        assert float(row["cost"]) == pytest.approx(cost, abs=0.0051), name
        assert row["currency"] == "EUR"


def test_the_whole_weight_and_what_hangs_are_told() -> None:
    """In grams: steel 112.5, ribbon 21, band 7.84 + 8.4 + 20, connector 2, tips 2, web 0.61, tie 1.96, eyelets 4.8,
    lacing 21.83, thread 0.54: 203.49, of which the band 36.2 and the small things 33.7. On the tapes hang 4 x 300 mm
    at 15 g/m and the steel, 130.5, printed to the even gram.
    """
    settled, report = hung_design(read_data(DESIGN))
    words = " ".join(" ".join(page.text.split()) for page in pages_of(make_sheets(settled, report).pdf))
    assert "All together 203 g" in words
    assert "36 g of it are the waistband" in words
    assert "130 g of steel, laps, tubes and tapes" in words
    assert "web and thread, 34 g, hang on the hoops too" in words
    assert "bought as 1 × 2.90 m" in words


@pytest.mark.parametrize(
    ("metres", "inches", "said"),
    [
        (5.46, False, "5.46 m"),
        (5.4601, False, "5.47 m"),
        (2.0, False, "2.00 m"),
        (0.9144, True, "1.00 yd"),
        (0.9145, True, "1.01 yd"),
    ],
)
def test_a_bought_length_is_rounded_up(metres: float, inches: bool, said: str) -> None:
    assert Writing(inches).long(metres) == said

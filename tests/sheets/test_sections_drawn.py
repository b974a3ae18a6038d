"""The room that a heading keeps and the blanks of every section, by hand."""

from __future__ import annotations

import pytest
from on_paper import MM
from reportlab.platypus import CondPageBreak, Flowable, PageBreak, Paragraph, Spacer
from sections_drawn import flat, section_of

from cage3d.sheets.paper.drawing import SUBTITLE

# Of each heading, how many mm must be left on the page for it to begin there.
KEPT = {
    "cutting": {"Order of cutting": 60},
    "tapes": {"Ribbon to cut": None, "Casing lines from the zero, mm": 50, "Waistband: marks from the cut end": None},
    "materials": {},
    "assembly": {
        "Heights to check above the floor, mm": 70, "If it hangs off": 60,
        "What a mark that is 3 mm off does": 40,
    },
    "record": {
        "Heights above the floor at each tape, mm": None, "Ties, as they end": 40, "Seen at the fitting": 45,
        "Before it is worn": None,
    },
    "draper": {"Girths, mm": None, "Lengths over the cage, mm": 60, "Spread of each gore, mm": 60},
    "delivery": {"Ties, final lengths": None, "Repairs": 70, "Tags": 60},
    "measuring": {"Heights of the waist": 30, "The wearer": 30, "The place and the stuff": 30},
}  # fmt: skip


@pytest.mark.parametrize("section", KEPT)
def test_a_heading_stays_with_what_it_heads(section: str) -> None:
    found: dict[str, float | None] = {}
    before: Flowable | None = None
    for item in flat(section_of(section)):
        if isinstance(item, Paragraph) and item.style.name == SUBTITLE.name:
            room = item.getPlainText()
            found[room] = before.height / MM if isinstance(before, CondPageBreak) else None
        before = item
    assert found == {
        head: None if room is None else pytest.approx(room) for head, room in KEPT[section].items()
    }


def test_only_the_measuring_sheet_begins_on_the_page_it_is_on() -> None:
    for name in KEPT:
        assert isinstance(section_of(name)[0], PageBreak) == (name != "measuring"), name


# mm of blank, in order: after cautions, before tables and between blocks.
BLANK = {
    # After the caution and the list; before the bar and after the plan; after the marks' intro and each of two hoops.
    "cutting": [4, 2, 1, 4, 3, 2, 2],
    # Before the caution, after both tables, before and after two tables of casing lines, before the waistband.
    "tapes": [3, 1, 1, 4, 4, 2],
    "materials": [2],
    "assembly": [3, 1, 1],
    "record": [3, 2, 4],
    "draper": [1, 1, 1, 3],
    "delivery": [2, 1],
    "measuring": [2, 2],
}


@pytest.mark.parametrize("section", BLANK)
def test_blank_between_the_parts_of_a_section(section: str) -> None:
    found = [item.height / MM for item in flat(section_of(section)) if type(item) is Spacer]
    if section == "record":  # and 1.6 mm under every caution of wearing
        found, cautions = found[:3], found[3:]
        assert cautions == pytest.approx([1.6] * len(cautions))
        assert cautions
    assert found == pytest.approx(BLANK[section])

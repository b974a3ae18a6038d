"""Which kind of miniature an order gets, on which bed, and what is said where none can be printed."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
from lopsided import lopsided
from models import sample

from cage3d import results
from cage3d.errors import CommandError, OutputError
from cage3d.miniature.build import build_ordered
from cage3d.miniature.order import Order
from cage3d.miniature.process import parse_bed, process_of


def test_filament_takes_the_flat_pieces() -> None:
    made = build_ordered(sample("a"), Order("1:6", "filament"))
    assert made.file_name == "1-6-filament-flat"
    assert max(body.size[2] for body in made.bodies) <= 3.001  # mm: nothing that needs a support
    standing = build_ordered(sample("a"), Order("1:6", "filament", flat=False))
    assert standing.file_name == "1-6-filament"
    assert standing.bodies[0].size[2] > 150.0


@pytest.mark.parametrize("process", ["resin", "powder"])
def test_other_processes_take_the_standing_one(process: str) -> None:
    assert build_ordered(sample("a"), Order("1:10", process)).file_name == f"1-10-{process}"


def test_leaning_hoops_stand_and_it_is_said_why() -> None:
    """Over 318 mm hoop 1 is 80 mm higher at her right than at her left, and 60 mm at the back: 17.5 degrees."""
    made = build_ordered(lopsided()[0], Order("1:6", "filament"))
    assert made.variant == ""
    assert re.search("because its hoops lean up to 1[78] degrees and would pinch", made.notes[0])


def test_slots_that_would_meet_stand_and_it_is_said_why() -> None:
    made = build_ordered(sample("c"), Order("1:16", "filament"))
    assert made.variant == ""
    assert "because the slots of two hoops would meet" in made.notes[0]


@pytest.mark.parametrize("flat", [True, False, None])
def test_the_usual_bed_is_always_looked_at(flat: bool | None) -> None:
    with pytest.raises(CommandError, match="the usual bed of filament") as fault:
        build_ordered(sample("c"), Order("1:3", "filament", flat=flat))
    assert fault.value.problems[0].where == "--bed"


def test_every_default_fits_its_usual_bed() -> None:
    for process in ("filament", "resin"):
        room = parse_bed("x".join(str(side) for side in process_of(process).usual_bed))
        made = build_ordered(sample("e"), Order("1:8", process))
        for plate in made.plates:
            size = [max(body.low[k] + body.size[k] for body in plate) for k in range(3)]
            assert sorted(size[:2]) <= [side + 0.001 for side in sorted(room.size[:2])]
            assert size[2] <= room.size[2]


def test_a_bed_too_small_for_any_kind_names_both() -> None:
    with pytest.raises(CommandError, match=r"alone is .*; and standing, the miniature is .*larger bed$"):
        build_ordered(
            sample("a"), Order("1:6", "filament", bed="40x40x40")
        )  # at no scale: slots would meet first


def test_a_scale_that_is_named_for_a_bed_holds_every_piece() -> None:
    """Sample a's uprights are 41.5 in less half the waistband high, its base 24 in and two margins: at 1:6 and 1:8."""
    with pytest.raises(CommandError, match="larger bed, or print at 1:8") as fault:
        build_ordered(sample("a"), Order("1:6", "filament", bed="140x140x200", flat=True))
    assert "upright 1 alone is 17" in fault.value.problems[0].why
    made = build_ordered(sample("a"), Order("1:8", "filament", bed="140x140x200", flat=True))
    assert max(max(body.size[:2]) for body in made.bodies) <= 140.0


def test_flat_pieces_are_not_cut() -> None:
    with pytest.raises(CommandError, match="not cut, they are laid on as many beds"):
        build_ordered(sample("a"), Order("1:6", "filament", split=True, flat=True))


def test_make_says_in_the_design_s_words_that_a_miniature_is_too_large() -> None:
    settled = sample("c")
    printing = settled.cage.design.printing.model_copy(update={"scale": "1:3", "process": "powder"})
    design = settled.cage.design.model_copy(update={"printing": printing})
    large = replace(settled, cage=replace(settled.cage, design=design))
    with pytest.raises(OutputError, match="too large for 300x300x300 mm, the usual bed of powder") as fault:
        results.miniature(large, None)  # type: ignore[arg-type]
    assert "printing:" in fault.value.problems[0].try_this

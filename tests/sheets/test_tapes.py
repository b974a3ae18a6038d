"""Tapes: lengths against figures worked out by hand, casing lines against the drops, designs that cannot be sewn."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from made import SAMPLES, hung_sample, sample

from cage3d.design.read import read, read_data
from cage3d.errors import DesignError
from cage3d.shape.lay_out import lay_out
from cage3d.sheets.making import prepared
from cage3d.sheets.tapes import letter_of, side_of, tape_sets

INCH = 0.0254

# Finished lengths (in), the drops added up by hand: tapes from centre front to centre back, the other side alike.
WORKED = {
    "a": [24.75] * 4,
    "b": [24.75] * 4,
    "c": [35.25] * 5,
    "d": [33.25, 32.625, 33.125, 34.375, 35.875],
    "e": [33.125, 35.375, 37.75, 35.375, 33.125],
}


@pytest.mark.parametrize("letter", WORKED)
def test_finished_and_cut_lengths_are_those_worked_out_by_hand(letter: str) -> None:
    half = WORKED[letter]
    finished = {
        tape: one.finished / INCH for one in tape_sets(lay_out(read(sample(letter)))) for tape in one.tapes
    }
    assert [finished[tape] for tape in sorted(finished)] == pytest.approx([*half, *reversed(half)], abs=1e-6)
    for one in tape_sets(lay_out(read(sample(letter)))):
        assert one.cut == pytest.approx(one.finished + 2 * INCH)


def test_ribbon_of_the_short_petticoat() -> None:
    """Eight tapes of 26 3/4 in, doubled: 428 in."""
    (only,) = tape_sets(lay_out(read(sample("a"))))
    assert only.cut / INCH == pytest.approx(26.75)
    assert len(only.tapes) * only.ribbon / INCH == pytest.approx(428.0)


def test_steel_and_weight_of_five_samples() -> None:
    """Steel in inches and bare weight in grams (length x width x thickness x 7850 kg/m3), worked out by hand."""
    worked = {"a": (259, 181), "b": (245, 171), "c": (630, 754), "d": (464.0, 324), "e": (436.2, 305)}
    for letter, (inches, grams) in worked.items():
        settled, report = hung_sample(sample(letter))
        steel = prepared(settled.cage, report, None).materials[0]
        assert steel.amount / INCH == pytest.approx(inches, abs=0.1), letter
        assert (steel.weight or 0.0) * 1e3 == pytest.approx(grams, abs=1.0), letter


@pytest.mark.parametrize("path", SAMPLES, ids=lambda path: path.stem)
def test_strips_are_the_drops_of_the_design_for_every_tape(path: Path) -> None:
    design = read(path)
    seen: list[int] = []
    for one in tape_sets(lay_out(design)):
        for tape in one.tapes:
            seen.append(tape)
            drops = design.tapes.drops[tape - 1]
            steels = [casing.steel for casing in one.casings]
            down = [
                sum(drops[: hoop + 1]) for hoop, drop in enumerate(drops) if drop
            ]  # hoops that meet have one
            assert steels == pytest.approx(down, abs=1e-9)
            assert one.finished == pytest.approx(sum(drops), abs=1e-9)
        for casing in one.casings:
            assert casing.lower - casing.upper == pytest.approx(design.tapes.casing, abs=1e-12)
            strip = design.steel_of(casing.hoop - 1).width
            assert casing.upper <= casing.steel - strip / 2 + 1e-12
            assert casing.steel + strip / 2 <= casing.lower + 1e-12
    assert sorted(seen) == list(range(1, design.tapes.count + 1))


def test_equal_tapes_share_a_strip_and_say_their_sides() -> None:
    sets = tape_sets(lay_out(read(sample("d"))))
    assert [one.names for one in sets] == ["1 L, 10 R", "2 L, 9 R", "3 L, 8 R", "4 L, 7 R", "5 L, 6 R"]
    assert [one.letter for one in sets] == list("ABCDE")
    assert [one.names for one in tape_sets(lay_out(read(sample("a"))))] == ["1–4 L, 5–8 R"]


def test_sides_and_letters() -> None:
    assert [side_of(place) for place in (0.0, 0.1, 0.5, 0.51, 1.0)] == ["CF", "L", "CB", "R", "CF"]
    assert [letter_of(number) for number in (0, 25, 26, 701, 702)] == ["A", "Z", "AA", "ZZ", "AAA"]


def written(**tapes: Any) -> dict[str, Any]:
    return {
        "name": "plain",
        "units": "mm",
        "wearer": {"waist": 660, "waist_height": 1050},
        "steel": {"width": 7, "thickness": 0.5},
        "tapes": {"count": 8, "drops": [200, 150]} | tapes,
        "hoops": [{"length": 750}, {"length": 1500}],
    }


@pytest.mark.parametrize(
    ("tapes", "said"),
    [
        ({"casing": 180}, "casing of hoop 2 would begin 30 mm above the end of the casing of hoop 1"),
        (
            {"drops": [50, 150], "casing": 60.5},
            "casing of hoop 1 would begin 7 mm above the waistband's edge",
        ),
        ({"allowance": {"top": 25, "bottom": 2}}, "would end 2 mm above the lowest line of its last casing"),
    ],
)
def test_what_cannot_be_sewn_is_refused(tapes: dict[str, Any], said: str) -> None:
    with pytest.raises(DesignError) as fault:
        tape_sets(lay_out(read_data(written(**tapes))))
    assert any(said in problem.why for problem in fault.value.problems)

"""`cage3d new` as a stranger writes it: what cannot be is told by its option, in her words, and nothing is written."""

from __future__ import annotations

import pytest
from cage3d_cli.asking import told_by_option
from calling import Caller

from cage3d.design.first.brief import Brief
from cage3d.design.first.kinds import KINDS
from cage3d.errors import DesignError, Problem

USUAL = {
    "waist": "26", "waist-height": "41 1/2", "hip": "39", "hip-drop": "8", "clearance": "8 to 10", "hoops": "5",
    "tapes": "8", "skirt": "0.8 kg",
}  # fmt: skip
OWN = {
    "hem": "90", "dip": "2", "wide": "40", "deep": "20", "behind": "60 %", "out": "13", "gores": "6",
}  # fmt: skip
BASKETS = {"out": "8", "deep": "14", "hoops": "3", "clearance": "23 to 25"}


def options(kind: str, **changed: str) -> list[str]:
    """Every option that a kind asks for, some of them written otherwise; keys with _ for -."""
    asked = USUAL | {key: OWN[key] for key in KINDS[kind].asks} | (BASKETS if KINDS[kind].beside else {})
    if KINDS[kind].gored:
        del asked["tapes"]
    asked |= {key.replace("_", "-"): value for key, value in changed.items()}
    return ["--silhouette", kind, *(f"--{key}={value}" for key, value in asked.items())]


# kind, what is written otherwise, exit status, the one line that is told
TOLD: list[tuple[str, dict[str, str], int, str]] = [
    *(
        (kind, {"hip": "none"}, 2,
         f"--hip: none: {KINDS[kind].called} bears on her, so that her hip must be known. Measure round it at its "
         "fullest, and write that: 39, for instance")
        for kind in ("back-weighted", "half-hoops", "baskets")
    ),
    ("dome", {"hip": "none"}, 2,
     "--hip-drop: 8: her hip is not measured, so that it is nowhere below the waist. Give --hip too, or leave it out"),
    ("dome", {"waist": "1e9"}, 1, "--waist: 1e9: no cage has this size. Check the number and its unit"),
    ("dome", {"waist": "2 in"}, 1,
     "--waist: 2 in: nobody measures 2 in (50.8 mm) round the waist. Check the number and its unit"),
    ("bell", {"hip_drop": "40"}, 1,
     "--hip-drop: 40: this is nearly as much as the waist is above the floor (41 1/2 in (1054.1 mm)). Check the number "
     "and its unit"),
    ("oval", {"clearance": "10 to 8"}, 1,
     "--clearance: 10 to 8: the least clearance is more than the most. Exchange them"),
    ("cone", {"clearance": "39 to 40"}, 1,
     "--clearance: 39 to 40: the hem would hang at the waist or above it. Give its height above the floor; 8 to 10 in "
     "for a gown"),
    ("gored", {"gores": "1"}, 1, "--gores: 1: the cloth has 3 to 24 gores. 4 to 8 are usual"),
    ("oval", {"tapes": "7"}, 1,
     "--tapes: 7: an oval cage has an even number of tapes, 8 or more: ties go from one to another. 8, 10 or 12 are "
     "usual"),
    ("lantern", {"skirt": "-1 kg"}, 2,
     "--skirt: -1 kg: a weight is not less than nothing. Write 0.8 kg, 250 g or 2 lb, or 0 for none"),
    ("half-hoops", {"skirt": "50 kg"}, 1,
     "--skirt: 50 kg: a skirt of 50 kg is more than a waist can bear (20 kg). Check the number and its unit"),
    ("half-hoops", {"hoops": "11"}, 1,
     "--hoops: 11: a cage behind her has 10 half hoops at most: more would lie on one another. 5 or 6 are usual"),
    ("baskets", {"hoops": "11"}, 1,
     "--hoops: 11: a pair of baskets has 10 hoops each at most: more would lie on one another. 2 or 3 are usual"),
    ("drum", {"hem": "26"}, 1,
     "--hem: 26: the hem is not longer than the waist. Give the hem's girth; 74 in is small"),
]  # fmt: skip


@pytest.mark.parametrize(
    ("kind", "changed", "status", "told"), TOLD, ids=[f"{one[0]} {one[1]}" for one in TOLD]
)
def test_the_option_is_told_in_her_words(
    cage3d: Caller, kind: str, changed: dict[str, str], status: int, told: str
) -> None:
    said = cage3d("new", "first.yaml", *options(kind, **changed))
    assert (said.status, said.out, said.err) == (status, "", f"cage3d: {told}\n")
    assert list(cage3d.folder.iterdir()) == []


def test_both_of_two_faults_are_told(cage3d: Caller) -> None:
    said = cage3d("new", "first.yaml", *options("dome", hoops="30", tapes="99"))
    assert said.status == 1
    assert [line.split(":")[1].strip() for line in said.err.splitlines()] == ["--hoops", "--tapes"]


def test_what_cannot_be_drawn_is_told_of_the_size_that_decides_it(cage3d: Caller) -> None:
    """300 in round at the hem: a bell's lower hoops are steps of near 10 in apart, on tapes of 7 and 8 in. No line of a
    file that is not there."""
    said = cage3d("new", "first.yaml", *options("bell", hem="300"))
    assert said.status == 1
    assert all(
        line.startswith("cage3d: --hem: 300: a bell drawn so cannot be made: tape ")
        and line.endswith("Use a smaller hem, or fewer hoops")
        for line in said.err.splitlines()
    )
    assert 1 <= len(said.err.splitlines()) <= 3
    assert list(cage3d.folder.iterdir()) == []


@pytest.fixture
def made(cage3d: Caller) -> list[Brief]:
    """What a first design would have been drawn from."""
    briefs: list[Brief] = []
    cage3d.monkeypatch.setattr(
        "cage3d.flow.new_design", lambda _file, brief, _force: briefs.append(brief) or []
    )
    return briefs


@pytest.mark.parametrize(
    ("units", "written", "least", "most"),
    [("in", "9", 8.5 * 25.4, 9.5 * 25.4), ("cm", "23", 220, 240), ("mm", "230", 220, 240),
     ("in", "1/2", 0.25 * 25.4, 25.4), ("in", "8 to 10", 8 * 25.4, 10 * 25.4)],
)  # fmt: skip
def test_one_height_of_the_hem_leaves_room_for_what_is_cut(
    cage3d: Caller, made: list[Brief], units: str, written: str, least: float, most: float
) -> None:
    """Half an inch or a centimetre more or less: drops are cut to eighths, and no hem hangs to a hair."""
    said = cage3d("new", "x.yaml", *options("dome", hip="99 cm", clearance=written), "--units", units)
    assert said.status == 0, said.err
    assert [1000 * height for height in made[0].clearance] == pytest.approx([least, most])


def test_no_skirt_by_its_word(cage3d: Caller, made: list[Brief]) -> None:
    assert cage3d("new", "x.yaml", *options("dome", skirt="none")).status == 0
    assert made[0].skirt == 0.0


def test_a_fault_of_what_was_asked_in_turn_is_told_by_its_option_too() -> None:
    """Nothing was given by option: the size is told as it was understood."""
    fault = DesignError(
        [Problem("hem", "20 in (508 mm)", "too short", "Write more"), Problem("x", "", "no", "Do")]
    )
    told = told_by_option(fault, {"hem": None})
    assert [str(problem) for problem in told.problems] == [
        "--hem: 20 in (508 mm): too short. Write more",
        "x: no. Do",
    ]

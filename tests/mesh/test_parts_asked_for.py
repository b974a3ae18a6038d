"""Parts of the model by their names and kinds: known, in order, shown alone and left out."""

from __future__ import annotations

import pytest
from models import LETTERS, every_sample, parts_of, sample

from cage3d.errors import CommandError
from cage3d.mesh.part import ALL_KINDS, CAGE_KINDS, KINDS, wanted_kinds
from cage3d.mesh.parts import build_parts


@every_sample
def test_names_are_unique_and_kinds_known_and_in_order(letter: str) -> None:
    parts = parts_of(letter)
    names = [part.name for part in parts]
    assert len(set(names)) == len(names)
    order = [list(KINDS).index(part.kind) for part in parts]
    assert order == sorted(order)


def test_every_kind_is_among_the_samples() -> None:
    assert {part.kind for letter in LETTERS for part in parts_of(letter)} == ALL_KINDS


@pytest.mark.parametrize("kind", KINDS)
def test_each_kind_can_be_shown_alone_and_left_out(kind: str) -> None:
    whole = parts_of("d")
    alone, without = parts_of("d", kind), build_parts(sample("d"), ALL_KINDS - {kind})
    assert [part.name for part in alone] == [part.name for part in whole if part.kind == kind]
    assert [part.name for part in without] == [part.name for part in whole if part.kind != kind]


def test_parts_are_asked_for_by_name() -> None:
    assert wanted_kinds(None) == ALL_KINDS - {"wearer"}
    assert wanted_kinds("hoops, Tapes") == {"hoops", "tapes"}
    assert wanted_kinds("no-skirt,no-form,no-floor") == CAGE_KINDS
    assert wanted_kinds("all,no-floor") == ALL_KINDS - {"floor", "wearer"}
    assert wanted_kinds("hoops,wearer") == {"hoops", "wearer"}


def test_unknown_parts_are_all_told_with_the_list() -> None:
    with pytest.raises(CommandError) as told:
        wanted_kinds("hoop,sleeves")
    first, second = told.value.problems
    assert "Did you mean hoops?" in str(first)
    assert "sleeves" in str(second)
    assert all(kind in str(second) for kind in KINDS)


def test_leaving_out_everything_is_refused() -> None:
    with pytest.raises(CommandError, match="leaves nothing to show"):
        wanted_kinds("hoops,no-hoops")

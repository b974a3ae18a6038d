"""What errors do to a cage: each settled by itself, mirrored where it may be, kept and found again."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest
from kept_errors import kept_errors
from settled import sample_path, settled_sample

from cage3d.design.models import Design
from cage3d.design.read import read, read_text
from cage3d.settle import settle
from cage3d.shape.lay_out import lay_out
from cage3d.study.numbers import number_names, numbers_of, with_numbers
from cage3d.study.truing.again import as_mended, left_over
from cage3d.study.truing.causes import DROP, HOOP, MARK, PANEL, TIE, Cause, causes_of, changes_of, with_errors
from cage3d.study.truing.hanging import hanging_of
from cage3d.study.truing.mending import Move
from cage3d.study.truing.mirror import mirror_of
from cage3d.study.truing.signatures import NODES, Signatures, settled_signatures
from cage3d.study.truing.states import states_of
from cage3d.study.truing.working import as_bytes, from_bytes, signatures_key
from cage3d.units import INCH


@cache
def sample(letter: str) -> Design:
    return read(sample_path(letter))


def kept() -> Signatures:
    found = kept_errors(sample("a"))
    assert found is not None, "run python tests/kept_errors.py: what is settled of errors has changed"
    return found


@pytest.mark.parametrize("cause", [Cause(MARK, 4, 2), Cause(DROP, 1, 0), Cause(HOOP, hoop=3)])
def test_a_signature_is_the_changed_design_settled(cause: Cause) -> None:
    """The same error written into the design and hung from the beginning, at the middle of the sizes settled."""
    design, found = sample("a"), kept()
    size = cause.sizes[4]
    numbers, names = numbers_of(design), number_names(design)
    if cause.what == HOOP:
        numbers[names.index(f"hoop {cause.hoop + 1} length")] += size
    else:
        numbers[names.index(f"tape {cause.tape + 1} drop {cause.hoop + 1}")] += size
    if cause.what == MARK:
        numbers[names.index(f"tape {cause.tape + 1} drop {cause.hoop + 2}")] -= size
    base = hanging_of(settled_sample(sample_path("a"), NODES)).figures
    alone = hanging_of(settle(lay_out(with_numbers(design, numbers), NODES))).figures
    told = found.figures[found.causes.index(cause), 4]
    assert told == pytest.approx(alone - base, abs=1e-4)
    assert np.abs(told).max() > 1e-3


def test_what_is_kept_for_the_tests_is_what_is_settled() -> None:
    places = [3, 58]
    figures, pulls, slack = settled_signatures(sample("a"), NODES, places)
    assert kept().figures[places] == pytest.approx(figures, abs=1e-5)
    assert kept().pulls[places] == pytest.approx(pulls, abs=1e-2)
    assert kept().slack[places] == pytest.approx(slack, abs=1e-5)


def test_between_the_sizes_it_is_read_as_if_it_were_settled() -> None:
    """A mark 1/2 in too low was not settled, and is told to half a millimetre."""
    states = states_of(kept())
    cage = settled_sample(sample_path("a"), NODES).cage
    for cause in (Cause(MARK, 2, 2), Cause(DROP, 5, 1)):
        place = states.causes.index(cause)
        (state,) = np.flatnonzero((states.of == place) & (np.abs(states.sizes - INCH / 2) < 1e-9))
        changed = with_errors(cage, np.eye(1, len(states.causes), place)[0] * INCH / 2)
        assert changed is not None
        alone = (
            hanging_of(settle(changed)).figures - hanging_of(settled_sample(sample_path("a"), NODES)).figures
        )
        assert states.hangs.figures[state] == pytest.approx(alone, abs=6e-4)


def test_of_a_cage_alike_on_both_sides_one_side_is_settled() -> None:
    """Settled by itself, what the hem's mark does on tape 8 is what it does on tape 1, mirrored."""
    design = sample("a")
    mirror = mirror_of(lay_out(design, NODES))
    assert mirror is not None
    assert mirror.tapes.tolist() == [7, 6, 5, 4, 3, 2, 1, 0]
    left, right = (settled_signatures(design, NODES, [place])[0][0] for place in (24, 31))
    assert right == pytest.approx(left[:, mirror.figures(4)], abs=1e-5)
    lopsided = with_numbers(design, numbers_of(design) + np.eye(1, 36, 6)[0] * 0.01)
    assert mirror_of(lay_out(lopsided, NODES)) is None


def test_every_cause_once_and_of_the_lowest_hoop_marks_alone() -> None:
    """Sample D: 10 tapes and 6 hoops, 2 ties, a panel over 3 hoops."""
    cage = lay_out(sample("d"), NODES)
    causes = causes_of(cage)
    counts = [sum(cause.what == what for cause in causes) for what in (MARK, DROP, HOOP, TIE, PANEL)]
    assert counts == [60, 50, 6, 2, 3]
    assert len(set(causes)) == len(causes) == changes_of(cage).count
    assert Cause(DROP, 0, 5) not in causes


def test_bytes_that_are_broken_or_of_another_cage_are_nothing() -> None:
    design = sample("a")
    whole = as_bytes(kept(), signatures_key(design, "1"))
    again = from_bytes(whole, signatures_key(design, "1"), design)
    assert again is not None
    assert np.array_equal(again.figures, kept().figures)
    assert from_bytes(whole, signatures_key(design, "2"), design) is None
    assert from_bytes(whole, signatures_key(sample("b"), "1"), sample("b")) is None
    for broken in (b"", b"not a zip", whole[:2000], whole[:-50]):
        assert from_bytes(broken, signatures_key(design, "1"), design) is None


def test_the_design_as_mended_has_what_is_left() -> None:
    """A mark lowered lengthens its drop and shortens the next; an error undone leaves the design as it was.

    On a rule of 3 mm from mark to mark 10 mm are three marks, 20 are seven and 5 are two.
    """
    design = sample("e")
    low = Move(Cause(MARK, 2, 1), 0.01)
    assert as_mended(design, left_over([low], [Move(low.cause, -0.0102)], 0.003)) == design
    tie, hoop, drop = (
        Move(Cause(TIE, number=3), 0.02),
        Move(Cause(HOOP, hoop=0), -0.03),
        Move(Cause(DROP, 1, 0), 0.005),
    )
    after = as_mended(design, left_over([low, tie], [hoop, drop], 0.003))
    assert after.tapes.drops[2][1] - design.tapes.drops[2][1] == pytest.approx(0.009)
    assert after.tapes.drops[2][2] - design.tapes.drops[2][2] == pytest.approx(-0.009)
    assert after.tapes.drops[1][0] - design.tapes.drops[1][0] == pytest.approx(0.006)
    assert after.hoops[0].length - design.hoops[0].length == pytest.approx(-0.03)
    assert after.ties[3].length - design.ties[3].length == pytest.approx(0.021)
    with pytest.raises(ValueError, match="tightness"):
        as_mended(sample("d"), [Move(Cause(PANEL, hoop=0, number=0), 0.01)])


def test_too_little_tape_is_another_cage() -> None:
    """A mark of hoop 2 cannot go up by the whole drop above it."""
    cage = lay_out(read_text(sample_path("a").read_text("utf-8"), "a"), NODES)
    assert with_errors(cage, np.eye(1, 60, 8)[0] * -5.0 * INCH) is None
    assert with_errors(cage, np.eye(1, 60, 8)[0] * -1.0 * INCH) is not None

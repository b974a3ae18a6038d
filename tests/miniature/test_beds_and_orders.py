"""Miniatures cut for a bed, and orders that cannot be made, refused in words."""

from __future__ import annotations

import numpy as np
import pytest
from models import reloaded, sample

from cage3d.errors import CommandError
from cage3d.miniature.maquette import build_maquette
from cage3d.miniature.order import Order
from cage3d.miniature.process import parse_scale


@pytest.mark.parametrize(
    ("letter", "scale", "bed", "count"), [("a", "1:4", "130x220x300", 2), ("a", "1:6", "100x100x250", 4)]
)
def test_splits_for_a_small_bed(letter: str, scale: str, bed: str, count: int) -> None:
    made = build_maquette(sample(letter), Order(scale, "filament", bed=bed, split=True))
    whole = build_maquette(sample(letter), Order(scale, "filament", bed="400x400x400")).bodies[0]
    assert len(made.plates) == count
    room = [float(side) for side in bed.split("x")]
    for plate in made.plates:
        size = np.max([body.low + body.size for body in plate], axis=0)
        assert sorted(size[:2]) <= sorted(room[:2])
        assert reloaded(plate).is_watertight
    # Pins, bosses and holes change little of the whole.
    assert sum(body.volume for body in made.bodies) == pytest.approx(whole.volume, rel=0.25)
    assert any("pins of 3 mm" in line for line in made.assembly)


def test_too_large_for_the_bed_says_which_scale_fits() -> None:
    with pytest.raises(CommandError, match="1:8 fits; or let --split") as fault:
        build_maquette(sample("a"), Order("1:6", "filament", bed="100x100x250"))
    assert fault.value.problems[0].where == "--bed"
    build_maquette(sample("a"), Order("1:8", "filament", bed="100x100x250"))


def test_a_bed_smaller_than_any_piece_is_refused() -> None:
    with pytest.raises(CommandError, match="pieces are too large"):
        build_maquette(sample("a"), Order("1:6", "filament", bed="30x30x250", split=True))
    with pytest.raises(CommandError, match="too large for 300x300x50 mm"):
        build_maquette(sample("a"), Order("1:6", "filament", bed="300x300x50"))


WRONG = [
    ("0", "filament", None, None, "this is not a scale"),
    ("1:0", "filament", None, None, "cannot have 0"),
    ("0:6", "filament", None, None, "cannot have 0"),
    ("6:1", "filament", None, None, "Did you mean 1:6?"),
    ("6", "filament", None, None, "Did you mean 1:6?"),
    ("-1:6", "filament", None, None, "this is not a scale"),
    ("nan", "filament", None, None, "this is not a scale"),
    ("1:", "filament", None, None, "this is not a scale"),
    ("1:" + "9" * 400, "filament", None, None, "a scale"),
    ("1:100", "filament", None, None, "would run together.*Print at 1:"),
    ("1:1000", "powder", None, None, "would run together"),
    ("1:6", "laser", None, None, "Known: filament, resin, powder"),
    ("1:6", "filamnt", None, None, "Did you mean filament?"),
    ("1:6", "filament", ["hoop"], None, "Did you mean hoops.*Known: hoops, tapes"),
    ("1:6", "filament", None, "big", "this is not the size of a bed"),
    ("1:6", "filament", None, "220x220", "this is not the size of a bed"),
    ("1:6", "filament", None, "0x220x250", "no printer has such a bed"),
]


@pytest.mark.parametrize(("scale", "process", "parts", "bed", "said"), WRONG)
def test_wrong_orders_are_refused_in_words(
    scale: str, process: str, parts: list[str] | None, bed: str | None, said: str
) -> None:
    with pytest.raises(CommandError, match=said):
        build_maquette(sample("a"), Order(scale, process, parts, bed))


@pytest.mark.parametrize("text", ["1:6", "1/6", " 1 : 6 ", "1:6.0"])
def test_scales_are_read_as_written(text: str) -> None:
    scale = parse_scale(text)
    assert (scale.denominator, scale.text) == (6.0, "1:6")


def test_a_finer_process_is_offered_where_it_prints() -> None:
    with pytest.raises(CommandError, match=r"Print at 1:.*, or with --process resin"):
        build_maquette(sample("c"), Order("1:24", "filament"))
    build_maquette(sample("c"), Order("1:24", "resin"))

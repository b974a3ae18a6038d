"""Flat pieces: each one closed body, clear of all others when assembled, engaged where they join."""

from __future__ import annotations

from functools import cache
from itertools import combinations

import numpy as np
import pytest
import trimesh
from manifold3d import CrossSection, Manifold
from models import LETTERS as EVERY
from models import sample

from cage3d.design.read import read_data
from cage3d.errors import CommandError
from cage3d.miniature.flat.kit import build_flat
from cage3d.miniature.flat.pack import pack
from cage3d.miniature.flat.pieces import Kit, flat_kit
from cage3d.miniature.order import Order
from cage3d.miniature.process import WITHOUT_FORM, parse_scale, process_of
from cage3d.results import plate_stl
from cage3d.settle import settle
from cage3d.shape.lay_out import lay_out
from cage3d.write.threemf import threemf_bytes


@cache
def kit(letter: str, scale: str = "1:6", key: str = "filament") -> Kit:
    return flat_kit(sample(letter), parse_scale(scale), process_of(key), WITHOUT_FORM)


LETTERS = [letter for letter in EVERY if letter != "d"]  # D's tapes slant so far that it is made standing


def shared(one: Manifold, other: Manifold) -> float:
    return float((one ^ other).volume())


@pytest.mark.parametrize("scale", ["1:6", "1:12"])
@pytest.mark.parametrize("letter", LETTERS)
def test_assembled_pieces_do_not_run_into_each_other(letter: str, scale: str) -> None:
    """The joints leave room; a ring that leans may pinch its slots by less than a clearance."""
    pieces = kit(letter, scale).pieces
    placed = [piece.assembled for piece in pieces]
    for (i, one), (j, other) in combinations(enumerate(placed), 2):
        assert shared(one, other) < 0.2, f"{pieces[i].name} and {pieces[j].name}"


def test_every_tape_reaches_past_the_centre_line_of_every_hoop() -> None:
    """Half laps: a hoop grown by the clearance meets every tape, so nothing floats."""
    pieces = {piece.name: piece for piece in kit("a").pieces}
    hoops = [piece for name, piece in pieces.items() if name.startswith("hoop") or name == "waist disc"]
    clearance = process_of("filament").clearance
    for tape in (piece.assembled for name, piece in pieces.items() if name.startswith("tape")):
        for hoop in hoops:
            assert hoop.assembled.min_gap(tape, 2.0 * clearance) < clearance
            # Slid outward by the depth of the lap the tape is free of it; inward it is stopped.
    tape, hoop = pieces["tape 3"], pieces["hoop 2"].assembled
    outward = tape.plane.axes[:, 0]
    for distance in np.linspace(0.0, 8.0, 17):
        assert shared(tape.assembled.translate(tuple(outward * distance)), hoop) < 0.01
    assert shared(tape.assembled.translate(tuple(-outward * 1.0)), hoop) > 0.5


def test_pieces_stand_where_the_cage_hangs() -> None:
    settled = sample("a")
    for number, nodes in enumerate(settled.cage.connectivity.hoop_nodes, start=1):
        (piece,) = (piece for piece in kit("a").pieces if piece.name == f"hoop {number}")
        hoop = settled.positions[nodes] * 1e3 / 6
        box = piece.assembled.bounding_box()
        assert (box[2] + box[5]) / 2 == pytest.approx(hoop[:, 2].mean(), abs=0.3)
        assert box[3] - box[0] == pytest.approx(np.ptp(hoop[:, 0]) + 4.0, abs=0.6)


@pytest.mark.parametrize("letter", LETTERS)
def test_every_piece_is_one_closed_body_on_its_bed(letter: str) -> None:
    made = build_flat(sample(letter), Order("1:6", "filament", bed="250x250x250"))
    names = [body.name for body in made.bodies]
    design = sample(letter).cage.design
    assert len(names) == len(set(names)) == len(design.hoops) + design.tapes.count + 1 + 1 + 2
    for plate in made.plates:
        mesh = trimesh.load(trimesh.util.wrap_as_stream(plate_stl(plate)), file_type="stl")
        assert mesh.is_watertight
        assert mesh.body_count == len(plate)
        assert np.all(mesh.bounds[0] >= -1e-3)
        assert np.all(mesh.bounds[1] <= 250.001)
        assert max(body.size[2] for body in plate) <= 3.0 + 1e-3  # nothing but flat pieces
        assert all(body.low[2] == pytest.approx(0.0, abs=1e-5) for body in plate)


def test_openings_of_flat_pieces() -> None:
    for piece in kit("f").pieces:
        number = int(piece.name.split()[-1]) if piece.name.startswith("hoop") else 0
        closed = number > 0 and sample("f").cage.design.hoops[number - 1].opening == "none"
        expected = 2 if piece.name in ("base", "waist disc") else int(closed)
        assert piece.solid.genus() == expected


def test_the_assembly_is_told_in_order() -> None:
    made = build_flat(sample("e"), Order("1:6", "filament"))
    told = " ".join(made.assembly)
    steps = ["uprights in the base", "Lay hoops 5 to 1", "set the waist disc", "push tape 1"]
    places = [told.index(step) for step in steps]  # sample e's ties do not pass over the disc
    assert places == sorted(places)
    untied = " ".join(build_flat(sample("a"), Order("1:6", "filament")).assembly)
    assert untied.index("set the waist disc") < untied.index("Lay hoops 4 to 1")


def test_ties_are_bars_in_one_piece_with_their_hoops() -> None:
    """Along every tie of sample e, from one crossing to the other, there is material of its hoop and no other's."""
    settled = sample("e")
    joined = settled.cage.connectivity
    hoops = {piece.name: piece.assembled for piece in kit("e").pieces if piece.name.startswith("hoop")}
    assert len(settled.cage.design.ties) > 0
    for row, tie in enumerate(settled.cage.design.ties, start=joined.segment_count):
        first, second = settled.positions[joined.pulls[row]] * 1e3 / 6
        for share in np.linspace(0.1, 0.9, 9):
            grain = Manifold.sphere(0.3, 12).translate(tuple((1 - share) * first + share * second))
            within = [name for name, solid in hoops.items() if shared(grain, solid) > 0.5 * grain.volume()]
            assert within == [f"hoop {tie.from_.split()[1]}"]


def test_a_tie_that_cannot_lie_flat_is_named() -> None:
    """One from hoop to hoop, and one that runs through the middle and so through both uprights."""
    data = {
        "name": "Tied", "units": "mm",
        "wearer": {"waist": 660, "waist_height": 1050, "waist_breadth": 210, "waist_depth": 210},
        "steel": {"width": 12, "thickness": 0.6}, "tapes": {"count": 8, "drops": [240, 200]},
        "hoops": [{"length": 1400}, {"length": 1700}],
        "ties": [{"name": "steep", "from": "hoop 1 tape 1", "to": "hoop 2 tape 3", "length": 600},
                 {"name": "across", "from": "hoop 2 tape 2", "to": "hoop 2 tape 6", "length": 520}],
    }  # fmt: skip
    made = flat_kit(
        settle(lay_out(read_data(data), 48)), parse_scale("1:6"), process_of("filament"), WITHOUT_FORM
    )
    (note,) = (note for note in made.notes if note.startswith("Left out"))
    assert note.startswith("Left out: steep and across.")
    genus = {piece.name: piece.solid.genus() for piece in made.pieces}
    assert (genus["hoop 1"], genus["hoop 2"]) == (1, 1)


def test_the_same_input_gives_the_same_bytes() -> None:
    first, second = (
        b"".join(
            threemf_bytes(plate, {}) for plate in build_flat(sample("e"), Order("1:6", "filament")).plates
        )
        for _ in range(2)
    )
    assert first == second


def test_a_bed_smaller_than_one_hoop_is_refused() -> None:
    with pytest.raises(CommandError, match=r"alone is .* Use a larger bed, or print at 1:"):
        build_flat(sample("a"), Order("1:6", "filament", bed="80x80x200"))
    with pytest.raises(CommandError, match="none of these parts is made flat"):
        build_flat(sample("a"), Order("1:6", "filament", parts=["ties"]))


def test_hoops_too_near_for_slots_are_refused() -> None:
    with pytest.raises(CommandError, match=r"slots of two hoops would meet.*Print at 1:"):
        build_flat(sample("c"), Order("1:16", "filament"))


def test_packing_keeps_pieces_apart_and_rings_inside_rings() -> None:
    rings = [CrossSection.circle(radius, 64) - CrossSection.circle(radius - 4, 64) for radius in (50, 40, 30)]
    bars = [CrossSection.square((120.0, 10.0)) for _ in range(6)]
    outlines = [*rings, *bars]
    placed = pack(outlines, 130.0, 130.0)
    moved = []
    for entry in placed:
        turned = outlines[entry.index].rotate(90.0 if entry.turned else 0.0)
        moved.append((entry.bed, turned.translate((entry.x, entry.y))))
    assert {entry.bed for entry in placed[:3]} == {placed[0].bed}
    assert max(bed for bed, _ in moved) == 1
    for bed, outline in moved:
        left, low, right, high = outline.bounds()
        assert left >= -1e-6
        assert low >= -1e-6
        assert right <= 130.0 + 1e-6
        assert high <= 130.0 + 1e-6
        assert sum(not (outline ^ other).is_empty() for place, other in moved if place == bed) == 1

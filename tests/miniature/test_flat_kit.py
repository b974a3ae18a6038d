"""The kit of flat pieces: packed on its bed, told in order, the same every time, refused where it cannot be."""

from __future__ import annotations

import pytest
from manifold3d import CrossSection
from models import sample

from cage3d.design.read import read_data
from cage3d.errors import CommandError
from cage3d.miniature.flat.kit import build_flat
from cage3d.miniature.flat.pack import pack
from cage3d.miniature.flat.pieces import flat_kit
from cage3d.miniature.order import Order
from cage3d.miniature.process import WITHOUT_FORM, parse_scale, process_of
from cage3d.settle import settle
from cage3d.shape.lay_out import lay_out
from cage3d.write.threemf import threemf_bytes


def test_the_assembly_is_told_in_order() -> None:
    made = build_flat(sample("e"), Order("1:6", "filament"))
    told = " ".join(made.assembly)
    steps = ["uprights in the base", "Lay hoops 5 to 1", "set the waist disc", "push tape 1"]
    places = [told.index(step) for step in steps]  # ties, and at 1:12 numbers, do not pass over the disc
    assert places == sorted(places)
    bare = " ".join(build_flat(sample("e"), Order("1:6", "filament", parts=["hoops", "tapes"])).assembly)
    assert "Lay hoops 5 to 1 one over another" in bare
    assert "disc" not in bare
    assert "upright" not in bare


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
    """An upright of 178 mm at 1:6 is 89 mm at 1:12: a bed of 80 mm takes it at no scale that is offered."""
    with pytest.raises(CommandError, match=r"alone is .* Use a larger bed$"):
        build_flat(sample("a"), Order("1:6", "filament", bed="80x80x200"))
    # 107 mm at 1:10
    with pytest.raises(CommandError, match=r"alone is .* Use a larger bed, or print at 1:10$"):
        build_flat(sample("a"), Order("1:6", "filament", bed="110x110x200"))
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

"""Flat pieces: each one closed body, clear of all others when assembled, engaged where they join."""

from __future__ import annotations

import re
from functools import cache
from itertools import combinations

import numpy as np
import pytest
import trimesh
from manifold3d import CrossSection, Manifold
from models import SLOTTED, sample

from cage3d.errors import CommandError
from cage3d.miniature.flat.kit import build_flat
from cage3d.miniature.flat.pieces import Kit, flat_kit
from cage3d.miniature.flat.plan import FlatPlan
from cage3d.miniature.flat.stand import widest_beside
from cage3d.miniature.order import Order
from cage3d.miniature.process import WITHOUT_FORM, parse_scale, process_of
from cage3d.results import plate_stl


@cache
def kit(letter: str, scale: str = "1:6", key: str = "filament") -> Kit:
    return flat_kit(sample(letter), parse_scale(scale), process_of(key), WITHOUT_FORM)


def shared(one: Manifold, other: Manifold) -> float:
    return float((one ^ other).volume())


@pytest.mark.parametrize("scale", ["1:6", "1:12"])
@pytest.mark.parametrize("letter", SLOTTED)
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


@pytest.mark.parametrize(
    ("letter", "scale"), [("a", "1:12"), ("d", "1:6"), ("d", "1:12"), ("e", "1:6"), ("f", "1:6")]
)
def test_pieces_go_together_in_the_order_that_is_told(letter: str, scale: str) -> None:
    """Hoops pass down over the uprights; then tapes come in from outside, none through what stands already."""
    pieces = {piece.name: piece for piece in kit(letter, scale).pieces}
    tapes = [name for name in pieces if name.startswith("tape")]
    standing = {name: piece.assembled for name, piece in pieces.items() if name not in tapes}
    uprights = [standing[f"upright {side}"].project() for side in (1, 2)]
    for name in (name for name in standing if name.startswith("hoop")):
        assert all((standing[name].project() ^ upright).area() < 0.01 for upright in uprights), name
    across = len(tapes) // 2
    for name in [tapes[0], tapes[across], *tapes[1:across], *tapes[across + 1 :]]:
        outward = pieces[name].plane.axes[:, 0]
        for distance in (20.0, 8.0, 4.0, 2.0, 1.0, 0.0):
            way = pieces[name].assembled.translate(tuple(outward * distance))
            met = [other for other, solid in standing.items() if shared(way, solid) > 0.02]
            assert not met, f"{name} on its way in at {distance} mm"
        standing[name] = pieces[name].assembled


@pytest.mark.parametrize("scale", ["1:6", "1:12"])
def test_slots_at_the_egg_s_waist_keep_a_wall_between_them(scale: str) -> None:
    """Its front tapes run inward first, to the ends of open hoops: flat, they are drawn back to the waistband."""
    (disc,) = (piece for piece in kit("d", scale).pieces if piece.name == "waist disc")
    section, wall = disc.solid.slice(disc.thickness / 2.0), process_of("filament").wall
    assert len(section.offset(-0.45 * wall).decompose()) == 1  # as one piece, and no neck thinner than this
    rims = section.offset(-0.45 * wall) ^ (CrossSection.circle(99.0, 64) - plain_oval(scale).offset(0.5))
    assert len(rims.decompose()) == 10  # between ten slots
    notes = " ".join(kit("d", scale).notes)
    assert re.search(
        r"cannot run sideways on its way down, as tapes 1,? .*10 would: slots are up to [356] mm", notes
    )
    assert "most at hoop 1" in notes
    assert not any("sideways" in note for note in kit("a", scale).notes)


def plain_oval(scale: str) -> CrossSection:
    """The egg's waistband, 9.3 by 7.1 in where its girth is 26 in, seen from above."""
    breadth, depth = 9.3 * 25.4, 7.1 * 25.4
    angle = np.linspace(0.0, 2.0 * np.pi, 721)
    line = np.column_stack([breadth / 2.0 * np.cos(angle), depth / 2.0 * np.sin(angle)])
    girth = np.linalg.norm(np.diff(line, axis=0), axis=1).sum()
    return CrossSection([line[:-1] * 26 * 25.4 / girth / float(scale.removeprefix("1:"))])


def test_an_open_hoop_whose_ends_nearly_meet_stays_open() -> None:
    """The egg's hoop 1 at 1:12: its ends, 4 mm broad, would meet; a gap of 1 mm prints."""
    (hoop,) = (piece for piece in kit("d", "1:12").pieces if piece.name == "hoop 1")
    section = hoop.solid.slice(hoop.thickness / 2.0)
    assert len(section.decompose()) == 1
    left, low, right, _ = section.bounds()
    front = section ^ CrossSection.square((right - left, 4.0)).translate((left, low))
    ends = [end for end in front.decompose() if abs(end.bounds()[0]) < 2.0 or abs(end.bounds()[2]) < 2.0]
    assert len(ends) == 2
    assert ends[0].offset(0.49).__xor__(ends[1].offset(0.49)).is_empty()


def test_pieces_stand_where_the_cage_hangs() -> None:
    settled = sample("a")
    for number, nodes in enumerate(settled.cage.connectivity.hoop_nodes, start=1):
        (piece,) = (piece for piece in kit("a").pieces if piece.name == f"hoop {number}")
        hoop = settled.positions[nodes] * 1e3 / 6
        box = piece.assembled.bounding_box()
        assert (box[2] + box[5]) / 2 == pytest.approx(hoop[:, 2].mean(), abs=0.3)
        assert box[3] - box[0] == pytest.approx(np.ptp(hoop[:, 0]) + 4.0, abs=0.6)


@pytest.mark.parametrize("letter", SLOTTED)
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


def test_a_fan_is_not_laid_flat() -> None:
    """Its hoops meet at the front, and so would their slots, at any scale."""
    with pytest.raises(CommandError, match="slots of two hoops would meet") as fault:
        build_flat(sample("j"), Order("1:4", "filament", bed="400x400x400"))
    assert fault.value.problems[0].try_this == "Print it standing"


def test_openings_of_flat_pieces() -> None:
    for piece in kit("f").pieces:
        number = int(piece.name.split()[-1]) if piece.name.startswith("hoop") else 0
        closed = number > 0 and sample("f").cage.design.hoops[number - 1].opening == "none"
        expected = 2 if piece.name in ("base", "waist disc") else int(closed)
        assert piece.solid.genus() == expected


@pytest.mark.parametrize(("letter", "scale"), [("e", "1:6"), ("d", "1:6"), ("d", "1:12")])
def test_ties_are_bars_in_one_piece_with_their_hoops(letter: str, scale: str) -> None:
    """Seen from above there is material of its own hoop along every tie and lace, from one crossing to the other."""
    settled = sample(letter)
    joined, size = settled.cage.connectivity, 1e3 / float(scale.removeprefix("1:"))
    outlines = {piece.name: piece.assembled.project() for piece in kit(letter, scale).pieces}
    ties = range(joined.segment_count, len(joined.pulls))
    assert len(ties) == {"d": 2 + 3, "e": len(settled.cage.design.ties)}[letter]
    for row in ties:
        (hoop,) = (
            name for name, nodes in enumerate(joined.hoop_nodes, 1) if set(joined.pulls[row]) <= set(nodes)
        )
        ends = settled.positions[joined.pulls[row]]
        way = settled.state.ways.get(row)
        line = np.linspace(*ends, 9) if way is None else way[np.linspace(0, len(way) - 1, 9).astype(int)]
        for x, y, _ in size * line[1:-1]:
            dot = CrossSection.circle(0.3, 12).translate((x, y))
            assert (dot - outlines[f"hoop {hoop}"]).area() < 0.1 * dot.area(), joined.pull_names[row]
    assert not any(note.startswith("Left out") for note in kit(letter, scale).notes)


def test_an_upright_is_as_wide_as_a_tie_beside_it_lets_it() -> None:
    """A bar 5 mm behind her middle: 5 less a shoulder of 1 and 0.3 of room; one across her middle leaves none."""
    plan = FlatPlan(sample("a"), parse_scale("1:6"), process_of("filament"))
    ahead = float(plan.ring_planes[1].origin[1])  # from her axis to the hoop's own middle

    def bar(low: float, high: float) -> CrossSection:
        return CrossSection.square((60.0, high - low)).translate((-30.0, low - ahead))

    assert widest_beside(plan, 1, bar(5.0, 7.0), 8.0) == pytest.approx(3.7, abs=1e-3)
    assert widest_beside(plan, 1, bar(-9.0, -6.0), 8.0) == pytest.approx(4.7, abs=1e-3)
    assert widest_beside(plan, 1, bar(-1.0, 1.0), 8.0) < 0.0
    assert widest_beside(plan, 1, bar(5.0, 7.0), 40.0) == np.inf  # the bar ends before the upright

"""What is kept from mesh to mesh: right for the next cage too, never written to, bounded, and safe between threads."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor

import numpy as np
import pytest
from models import sample

from cage3d.mesh.frames import frames_from_widths, node_frames
from cage3d.mesh.hanging import ribbon_run, ribbon_runs
from cage3d.mesh.part import ALL_KINDS, Part
from cage3d.mesh.parts import build_parts
from cage3d.mesh.sweep import rectangle, sweep, sweeps, swept
from cage3d.mesh.topology import KEPT
from cage3d.settle import settle
from cage3d.shape.lay_out import lay_out
from cage3d.shape.section_kinds import rounded

LINES = np.random.default_rng(1).normal(size=(5, 7, 3))
ACROSS = np.random.default_rng(2).normal(size=(5, 7, 3))


def same(one: list[Part], other: list[Part]) -> bool:
    return [part.name for part in one] == [part.name for part in other] and all(
        np.array_equal(a.vertices, b.vertices) and np.array_equal(a.normals, b.normals)
        for a, b in zip(one, other, strict=True)
    )


@pytest.mark.parametrize("closed", [False, True])
def test_many_lines_at_once_come_out_as_each_alone(closed: bool) -> None:
    """Each with a section of its own; a bend, a fold and a lost normal among them."""
    lines, across = LINES.copy(), ACROSS.copy()
    lines[1, 3] = lines[1, 1]  # folds back on itself
    across[2] = lines[2, 1] - lines[2, 0]  # a normal that lies along the line
    sections = np.array([rectangle(0.001 * (row + 1), 0.02) for row in range(5)])
    frames = node_frames(lines, across, closed)
    for row, many in enumerate(sweeps(lines, frames, sections)):
        alone = sweep(lines[row], node_frames(lines[row], across[row], closed), sections[row])
        assert np.abs(many.points - alone.points).max() < 1e-15
        assert np.array_equal(many.chart, alone.chart)
        assert many.topology is alone.topology


def test_taut_and_slack_ribbons_at_once_run_as_each_alone() -> None:
    ends, aside = LINES[0], ACROSS[0]
    spans = np.linalg.norm(ends[1:] - ends[:-1], axis=1)
    lengths = spans * [1.0, 1.2, 0.9, 1.01, 2.0, 1.0]
    together = ribbon_runs(ends[:-1], ends[1:], lengths, aside[:-1], 8)
    for row, run in enumerate(together):
        alone = ribbon_run(ends[row], ends[row + 1], float(lengths[row]), aside[row], 8)
        assert np.abs(run - alone).max() < 1e-15
    straight = np.linalg.norm(np.diff(together, axis=1), axis=2).sum(axis=1) / spans
    assert straight == pytest.approx([1.0, 1.2, 1.0, 1.01, 2.0, 1.0], rel=0.03)  # chords of arcs


def test_a_cage_with_other_numbers_hangs_its_faces_together_as_the_first_did() -> None:
    design = sample("a").cage.design
    hoops = [hoop.model_copy(update={"length": hoop.length + 0.003}) for hoop in design.hoops]
    longer = build_parts(settle(lay_out(design.model_copy(update={"hoops": tuple(hoops)}))), ALL_KINDS)
    for plain, part in zip(build_parts(sample("a"), ALL_KINDS), longer, strict=True):
        assert part.solid.topology is plain.solid.topology
        assert np.allclose(np.linalg.norm(part.normals, axis=1), 1.0)
    hoop = next(part for part in longer if part.name == "hoop 1")
    assert hoop.flat[:, 0].max() == pytest.approx(design.hoops[0].length + 0.003, rel=1e-4)


def test_what_is_kept_cannot_be_written_to() -> None:
    for part in build_parts(sample("d"), ALL_KINDS):
        topology = part.solid.topology
        for kept in (part.faces, topology.faces, topology.sides, topology.chart_faces, topology.drawn.points):
            with pytest.raises(ValueError, match="read-only"):
                kept[0] = 0


def test_no_more_is_kept_than_is_meant() -> None:
    for count in range(2, KEPT + 40):
        line = np.column_stack([np.arange(count), np.zeros((count, 2))])
        sweep(line, frames_from_widths(line, np.tile([0.0, 0.0, 1.0], (count, 1)), False), rounded(0.1))
    assert swept.cache_info().currsize == KEPT


def test_threads_that_mesh_at_once_do_not_spoil_one_another() -> None:
    letters = "abcdef"
    alone = {letter: build_parts(sample(letter), ALL_KINDS) for letter in letters}
    swept.cache_clear()
    with ThreadPoolExecutor(6) as threads:
        made = threads.map(lambda letter: (letter, build_parts(sample(letter), ALL_KINDS)), letters * 2)
        assert all(same(list(alone[letter]), list(parts)) for letter, parts in made)

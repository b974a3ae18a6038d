"""Where leaders of a slanting view begin: on what they name, and not on what hides it."""

from __future__ import annotations

import numpy as np
import pytest
from models import sample

from cage3d.draw.names import hoop_name, leader_start
from cage3d.draw.views import THREE_QUARTER, Margins, fitted
from cage3d.mesh.parts import build_parts
from cage3d.report import measure
from cage3d.scene.labels import LEFT, RIGHT, labels


@pytest.mark.parametrize("mirrored", [False, True])
def test_a_laces_leader_begins_outside_of_her_form(mirrored: bool) -> None:
    """Sample D is laced at centre back: its panel looks out at the right of a view from her left, at the left of one
    from her right, and the middle of its uppermost lace is hidden."""
    settled = sample("d")
    view = THREE_QUARTER if not mirrored else type(THREE_QUARTER)("", "", -28.0, 14.0)
    frame = fitted(view, settled.positions, (900, 900), Margins(0.0, 0.0, 0.0, 0.0))
    (form,) = (part for part in build_parts(settled, {"form"}) if part.name == "wearer's form")
    outline = frame.on_paper(form.vertices)
    first = settled.cage.connectivity.segment_count + len(settled.cage.design.ties)
    for row in range(first, len(settled.cage.connectivity.pulls)):
        x, y = leader_start(frame, settled, row)
        across = outline[np.abs(outline[:, 1] - y) < 12.0, 0]
        assert x < across.min() if mirrored else x > across.max()
        assert np.linalg.norm(frame.on_paper(settled.pull_way(row))[[0, -1]] - [x, y], axis=1).min() < 1e-9
        if row == first:
            assert across.min() < frame.on_paper(settled.pull_middle(row)[None])[0, 0] < across.max()


def test_a_ties_leader_begins_at_its_middle() -> None:
    settled = sample("d")
    frame = fitted(THREE_QUARTER, settled.positions, (900, 900), Margins(0.0, 0.0, 0.0, 0.0))
    row = settled.cage.connectivity.segment_count
    assert leader_start(frame, settled, row) == pytest.approx(
        tuple(frame.on_paper(settled.pull_middle(row)[None])[0])
    )


def test_names_of_hoops_beside_her_stand_at_their_own_side() -> None:
    """Sample H: of 24, 27 and 30 in at her left, which from before is the picture's right, and at her right."""
    report = measure(sample("h"))
    named = [hoop_name(hoop, "in")[:2] for hoop in report.hoops]
    assert named == [
        (1, "Hoop 1: 24 in"), (-1, "Hoop 2: 24 in"), (1, "Hoop 3: 27 in"),
        (-1, "Hoop 4: 27 in"), (1, "Hoop 5: 30 in"), (-1, "Hoop 6: 30 in"),
    ]  # fmt: skip
    round_her = measure(sample("d")).hoops[0]
    assert hoop_name(round_her, "in") == (1, "Hoop 1: 51 1/2 in open", 1.0)


def test_the_page_names_hoops_and_ties_beside_her_at_their_own_side() -> None:
    """Each hoop where it lies farthest out, so that she never hides it."""
    settled = sample("h")
    found = {label.text: label for label in labels(settled, measure(settled))}
    for number, tie, side in ((5, "Left tie 3: 15 in", RIGHT), (6, "Right tie 3: 15 in", LEFT)):
        hoop = found[f"Hoop {number}: 30 in {'left' if side == RIGHT else 'right'} open"]
        assert (hoop.side, found[tie].side) == (side, side)
        nodes = settled.positions[settled.cage.connectivity.hoop_nodes[number - 1]]
        assert hoop.path[:, 0] == pytest.approx([side * np.abs(nodes[:, 0]).max()])
    assert {label.side for label in labels(sample("d"), measure(sample("d"))) if label.group == "ties"} == {
        LEFT
    }

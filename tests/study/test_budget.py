"""What a question may cost: a search that is given up answers with its best, and rings beside her are aimed in few."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from calling import SMALL
from settled import sample_path, settled_sample

from cage3d.design.models import Design
from cage3d.design.read import read, read_data
from cage3d.shape.lay_out import lay_out
from cage3d.study.aiming import way_back as way_back_module
from cage3d.study.aiming.aim import Aimed, aim
from cage3d.study.aiming.answer import OTHERWISE, Answer, verdict
from cage3d.study.aiming.freedom import freedom_of
from cage3d.study.aiming.search import SPENT
from cage3d.study.aiming.way_back import Asked, way_back
from cage3d.study.aiming.wishes import Wish
from cage3d.study.budget import IN_ALL, Budget
from cage3d.study.figures import Figure

INCH = 0.0254
NODES = 48


def wishes(height: float, *hoops: int) -> list[Wish]:
    """Level at this height (m)."""
    sides = ("front", "left", "back", "right")
    return [Wish(Figure(hoop, f"height {side}"), height) for hoop in hoops for side in sides]


def test_a_cage_that_takes_more_steps_than_are_left_is_given_up() -> None:
    cage, budget = settled_sample(sample_path("a"), NODES).cage, Budget(3)
    found = budget.settle(cage)
    assert found.given_up
    assert not found.trusted
    assert (found.steps, budget.spent, budget.left) == (3, 3, 0)
    whole = Budget()
    assert whole.settle(cage).trusted
    assert 3 < whole.spent == IN_ALL - whole.left


def test_a_search_that_has_spent_all_answers_with_its_best() -> None:
    """Sample A's hem, wished 60 mm lower: with all it wants it is met, with three quarters of that only nearer."""
    design = read(sample_path("a"))
    low = settled_sample(sample_path("a"), NODES).positions[:, 2].min() - 0.06
    budget = Budget()
    met = aim(design, wishes(low, 3), freedom_of(design), NODES, budget=budget)
    assert np.abs(met.off).max() < 1e-4
    first = Budget()
    first.settle(lay_out(design, NODES))
    short = Budget(first.spent + (budget.spent - first.spent) * 3 // 4)
    near = aim(design, wishes(low, 3), freedom_of(design), NODES, budget=short)
    assert near.why == SPENT
    assert near.settled.trusted
    assert 1e-4 < np.abs(near.off).max() < 0.03
    assert short.left == 0


def rings(far: float, near: float) -> Design:
    """One ring of 34 in at each hip on two tapes next to her and two farther out (in)."""
    wearer = {
        "waist": 27, "waist_breadth": 9.7, "waist_depth": 7.3, "waist_height": 40.5, "high_hip": 36,
        "high_hip_drop": 4, "hip": 40, "hip_drop": 8, "hip_breadth": 13.8, "hip_depth": 9.9,
    }  # fmt: skip
    hoops = [{"length": 34, "beside": side, "join": "none"} for side in ("left", "right")]
    drops = [[near], [far], [far], [near]]
    return read_data({
        "name": "two rings", "units": "in", "wearer": wearer, "steel": {"width": "7 mm", "thickness": "0.5 mm"},
        "tapes": {"count": 8, "stations": "between", "drops": drops * 2}, "hoops": hoops, "skirt": {"weight": "1 kg"},
    })  # fmt: skip


def test_rings_beside_her_that_hang_tilted_are_aimed_level() -> None:
    """Tapes 18 in all round let them down next to her; alike at both sides, level within an eighth of an inch."""
    design, budget = rings(18.0, 18.0), Budget()
    found = aim(design, wishes(24.0 * INCH, 0, 1), freedom_of(design), NODES, budget=budget)
    assert found.settled.trusted
    assert np.abs(found.off).max() < INCH / 8
    assert budget.spent < 1500
    drops = np.array(found.design.tapes.drops)[:, 0]
    assert drops[1] - drops[0] > INCH
    assert drops[:4] == pytest.approx(drops[4:], abs=INCH / 8)


def test_a_cage_that_hangs_another_way_once_hung_anew_is_sought_again(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    """The first answer is told 50 mm elsewhere than it is: the search begins anew from what it had found."""
    path, begun = tmp_path / "small.yaml", list[Design]()
    path.write_text(SMALL + "wanted: [{hoop: 2, height: 23}]\n", "utf-8")
    settled_answer, sought = way_back_module.settled_answer, way_back_module.sought

    def elsewhere(*given: object) -> Answer:
        answer = settled_answer(*given)  # type: ignore[arg-type]
        off = answer.found.off + (0.05 if len(begun) in wrong else 0.0)
        return replace(answer, found=replace(answer.found, off=off))

    def begin(design: Design, *given: object) -> tuple[Aimed, Aimed]:
        begun.append(design)
        return sought(design, *given)  # type: ignore[arg-type]

    monkeypatch.setattr(way_back_module, "settled_answer", elsewhere)
    monkeypatch.setattr(way_back_module, "sought", begin)
    wrong = {1}
    answer = way_back(path, None, Asked(step=INCH / 8))
    assert len(begun) == 2
    assert begun[1].tapes.drops != begun[0].tapes.drops
    assert answer.reached
    begun.clear()
    wrong = {1, 2, 3}
    answer = way_back(path, None, Asked(step=INCH / 8))
    assert len(begun) == 3
    assert not answer.reached
    assert answer.found.why == OTHERWISE
    assert any("hang in more ways than one" in line for line in verdict(answer))

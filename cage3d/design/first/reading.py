"""A first design read back before it is written: what is wrong is told of her answers, since no file is there yet."""

from __future__ import annotations

from cage3d.design.first.brief import Brief
from cage3d.design.first.kinds import KINDS
from cage3d.design.first.refusing import SMALLER
from cage3d.design.models import Design
from cage3d.design.read import read_data, tree_of
from cage3d.errors import DesignError, Problem
from cage3d.units import both

MOST_TOLD = 3  # faults of one drawing, of which most say the same of another hoop
# Where in the design an answer stands as it was given.
ANSWERS = {
    "name": "name", "wearer.waist": "waist", "wearer.waist_height": "waist_height", "wearer.hip": "hip",
    "wearer.hip_drop": "hip_drop", "tapes.count": "tapes", "cloth.gores": "gores", "skirt.weight": "skirt",
    "hem.clearance": "clearance", "hem.front": "clearance",
}  # fmt: skip


def read_first(text: str, brief: Brief) -> Design:
    """The design in the text that was drawn for these answers. Raises DesignError that names answers by their key."""
    try:
        return read_data(tree_of(text, brief.name).data())
    except DesignError as fault:
        told = [of_answer(problem, brief) for problem in fault.problems]
        raise DesignError(list(dict.fromkeys(told))[:MOST_TOLD]) from fault


def of_answer(problem: Problem, brief: Brief) -> Problem:
    """A fault of what was drawn is one of the size that decides it."""
    if key := ANSWERS.get(problem.where):
        return Problem(key, problem.said, problem.why, problem.try_this)
    decides = KINDS[brief.silhouette].asks[0]
    said = both(getattr(brief, decides))
    why = f"{KINDS[brief.silhouette].called} drawn so cannot be made: {problem.why}"
    return Problem(decides, said, why, f"Use {SMALLER[decides]}, or fewer hoops")

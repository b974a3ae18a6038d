"""A first design from a few measures and a kind of cage, as commented YAML that reads back."""

from __future__ import annotations

from dataclasses import replace

from cage3d.design.first import usual
from cage3d.design.first.brief import Brief
from cage3d.design.first.cage import FirstCage
from cage3d.design.first.kinds import KINDS
from cage3d.design.first.refusing import refuse_impossible
from cage3d.design.first.text import written


def first_design(brief: Brief) -> str:
    """YAML text of a first design as it is laid out; reads back without problems, hem in the middle of the clearance.

    Raises DesignError where the measures cannot make a cage.
    """
    return written(brief, first_cage(brief))


def first_cage(brief: Brief) -> FirstCage:
    """What is cut for it as it is laid out, before it hangs. Raises DesignError where the measures make no cage."""
    refuse_impossible(brief)
    kind = KINDS[brief.silhouette]
    cage = kind.cage(brief)
    girth = cage.hoops[-1].length * kind.ring
    return replace(cage, steel=brief.steel or usual.steel(girth))

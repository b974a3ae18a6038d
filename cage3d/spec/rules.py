"""What one value of a design demands of another: one function a rule.

Each rule takes the design and yields a Problem for everything it finds, whose `where`
is the part of the design ("hoops[2].length"); `spec.read` turns that into a line.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from cage3d.errors import Problem
from cage3d.spec import rules_body, rules_buying, rules_cage, rules_reach, rules_strip, rules_ties
from cage3d.spec.design import Design

Rule = Callable[[Design], Iterator[Problem]]

APART: tuple[Rule, ...] = (*rules_strip.RULES, *rules_body.RULES, *rules_buying.RULES)
OF_EVERY_TAPE: tuple[Rule, ...] = (*rules_cage.RULES, *rules_reach.RULES, *rules_ties.RULES)
UNUSUAL: tuple[Rule, ...] = (
    *rules_strip.REMARKS,
    *rules_body.REMARKS,
    *rules_reach.REMARKS,
    *rules_ties.REMARKS,
)


def problems(design: Design) -> Iterator[Problem]:
    """Everything for which the cage cannot be made or computed.

    Counts come first: no rule goes through more tapes and hoops than a cage can have.
    """
    counts = [problem for rule in rules_cage.COUNTS for problem in rule(design)]
    yield from counts
    for rule in APART if counts else (*OF_EVERY_TAPE, *APART):
        yield from rule(design)


def remarks(design: Design) -> list[Problem]:
    """What is allowed and looks like a slip: sizes out of the ordinary, hoops that reach the floor."""
    return [remark for rule in UNUSUAL for remark in rule(design)]

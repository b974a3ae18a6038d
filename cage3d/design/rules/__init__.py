"""What one value of a design demands of another: one function a rule.

Each rule takes the design and yields a Problem for everything it finds, whose `where`
is the part of the design ("hoops[2].length"); `design.read` turns that into a line.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from cage3d.design.models import Design
from cage3d.design.rules import (
    baskets,
    body,
    buying,
    cage,
    casings,
    gores,
    hem,
    openings,
    padding,
    panels,
    passing,
    reach,
    routes,
    skirt,
    sliding,
    stretch,
    strip,
    ties,
    wanted,
)
from cage3d.errors import Problem

Rule = Callable[[Design], Iterator[Problem]]

APART: tuple[Rule, ...] = (
    *gores.RULES,
    *strip.RULES,
    *casings.RULES,
    *body.RULES,
    *hem.RULES,
    *padding.RULES,
    *skirt.RULES,
    *baskets.RULES,
    *stretch.RULES,
    *buying.RULES,
)
OF_EVERY_TAPE: tuple[Rule, ...] = (
    *cage.RULES,
    *routes.RULES,
    *openings.RULES,
    *baskets.RULES_OF_HOOPS,
    *gores.RULES_OF_SEAMS,
    *reach.RULES,
    *padding.RULES_OF_HOOPS,
    *ties.RULES,
    *passing.RULES,
    *panels.RULES,
    *sliding.RULES,
    *hem.RULES_OF_HOOPS,
    *wanted.RULES,
)
UNUSUAL: tuple[Rule, ...] = (
    *strip.REMARKS,
    *casings.REMARKS,
    *body.REMARKS,
    *reach.REMARKS,
    *ties.REMARKS,
    *passing.REMARKS,
)


def problems(design: Design) -> Iterator[Problem]:
    """Everything for which the cage cannot be made or computed.

    Counts come first: no rule goes through more tapes and hoops than a cage can have. Then which tape passes which
    hoop: what is told of a tape on a hoop holds only where that is clear.
    """
    for problem in found(design):
        yield problem if design.cloth is None else gores.said_of_cloth(problem)


def found(design: Design) -> Iterator[Problem]:
    for gate in ((*cage.COUNTS, *gores.COUNTS), routes.NAMED, (*routes.AGREEING, *baskets.AGREEING)):
        faults = [problem for rule in gate for problem in rule(design)]
        yield from faults
        if faults:
            break
    for rule in APART if faults else (*OF_EVERY_TAPE, *APART):
        yield from rule(design)


def remarks(design: Design) -> list[Problem]:
    """What is allowed and looks like a slip: sizes out of the ordinary, hoops that reach the floor."""
    remarks_found = [remark for rule in UNUSUAL for remark in rule(design)]
    return (
        remarks_found if design.cloth is None else [gores.said_of_cloth(remark) for remark in remarks_found]
    )

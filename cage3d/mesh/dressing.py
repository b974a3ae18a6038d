"""The steps of hanging a cage, for showing what ties and the skirt do: bare, tied, slid to both ends, as worn."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from cage3d.foresee.slid import LONGEST, SHORTEST, slid
from cage3d.settle import settle
from cage3d.settle.state import SettledCage

UNTIED_LENGTH = 20.0  # m, longer than any span: a tie that is not fastened
SLID_STEPS = tuple(f"hoops {end}" for end in (SHORTEST, LONGEST))
DRAWN_SLACK = 1.03  # a tie not fastened yet is drawn this much longer than what it spans


@dataclass(frozen=True)
class DressingStep:
    """One step: what it is called, and the cage settled so."""

    name: str
    settled: SettledCage
    ties_open: bool = False  # its ties and laces hang unfastened, drawn just beyond what they span


def dressing_steps(settled: SettledCage) -> tuple[DressingStep, ...]:
    """The steps before the cage as it is worn, in order; none where it has neither ties nor skirt.

    Bare is without skirt and with every tie and lace unfastened; then the ties are fastened;
    then hoops whose joins slide stand at both ends, dressed;
    the last step, with the skirt on, is `settled` itself and not repeated. A step that would not
    settle to a stable state is left out, since it would show what no cage does.
    """
    cage = settled.cage
    skirt = cage.parameters.skirt_hangs
    ties = len(cage.connectivity.tie_rows) > 0
    steps: list[DressingStep] = []
    if ties:
        steps.append(DressingStep("bare" if skirt else "ties open", untied(settled), True))
    if skirt:
        without = settle(cage.without_skirt())
        steps.append(DressingStep("ties fastened" if ties else "bare", without))
    steps += [DressingStep(name, end.settled) for name, end in zip(SLID_STEPS, slid(settled), strict=False)]
    return tuple(step for step in steps if step.settled.trusted)


def untied(settled: SettledCage) -> SettledCage:
    """Without skirt or ties; open ties get a length just beyond what they span, which changes no balance."""
    cage = settled.cage
    ties = list(cage.connectivity.tie_rows)
    lengths = cage.parameters.pull_length.copy()
    lengths[ties] = UNTIED_LENGTH
    bare = settle(cage.without_skirt().with_parameters(pull_length=lengths))
    lengths[ties] = np.maximum(cage.parameters.pull_length[ties], DRAWN_SLACK * bare.pull_spans[ties])
    return replace(bare, cage=bare.cage.with_parameters(pull_length=lengths))

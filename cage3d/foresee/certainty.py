"""How sure heights and widths are: what sewing, casings, friction and the skirt may make of them.

Every cause is a lot that is drawn, with what the whole of it does to each figure, to first order by the stiffness of
the cage as it hangs. Of many cages drawn so, each figure's +- holds nine in ten (`SHARE`); tests settle such cages.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from cage3d.design import trade
from cage3d.foresee.materials import MaterialEnds
from cage3d.foresee.read_off import figure_slopes
from cage3d.foresee.sensitivity import mark_changes, marks_of
from cage3d.foresee.sliding import BothWays
from cage3d.foresee.slips import DRAWS, SHARE, sewing_changes
from cage3d.settle.contact import FormGap
from cage3d.settle.state import SettledCage
from cage3d.settle.tangent import Tangent
from cage3d.shape.arrays import Floats
from cage3d.shape.changes import ParameterChanges
from cage3d.steady import first_largest

LEAST_PUSH = 1e-3  # N, less than this is no touch
SEWING, CASINGS, FRICTION, SKIRT, MATERIAL = "sewing", "casings", "friction", "skirt", "material"


@dataclass(frozen=True)
class Cause:
    """K lots: what the whole of each does to F figures, and lots drawn of them."""

    what: str
    effects: Floats  # (F, K) m
    lots: Floats  # (K, DRAWS)

    @property
    def drawn(self) -> Floats:
        """(F, DRAWS) m."""
        return np.asarray(self.effects @ self.lots)


@dataclass(frozen=True)
class Certainty:
    """Within what every figure of `figure_slopes` comes out, nine cages in ten."""

    within: Floats  # (F,) m
    parts: dict[str, Floats]  # (F,) m, of each cause alone

    @property
    def largest(self) -> str:
        """The cause that does most, over all figures."""
        most = [float((part**2).sum()) for part in self.parts.values()]
        return list(self.parts)[first_largest(most)]


def certainty(settled: SettledCage, ways: BothWays | None, ends: Sequence[MaterialEnds] = ()) -> Certainty:
    """ways: the cage under a skirt that lies and one that slides; ends: with its materials at either end of what is
    sold. Raises ValueError for a cage that is no answer.
    """
    causes = causes_of(settled, ways, ends)
    drawn = [cause.drawn for cause in causes]
    parts = {cause.what: within(each) for cause, each in zip(causes, drawn, strict=True)}
    return Certainty(within(np.sum(drawn, axis=0)), parts)


def within(drawn: Floats) -> Floats:
    """(F,) m that SHARE of the draws (F, DRAWS) keep to, up or down."""
    return np.asarray(np.quantile(np.abs(drawn), SHARE, axis=1))


def causes_of(settled: SettledCage, ways: BothWays | None, ends: Sequence[MaterialEnds] = ()) -> list[Cause]:
    """Everything that may make a figure other than it is told. Fixed draws: the same cage gives the same figures."""
    tangent, slopes = Tangent(settled), figure_slopes(settled)
    lot = np.random.default_rng(2)
    changes, sigmas = sewing_changes(settled)
    moved = slopes @ tangent.moves(changes).reshape(slopes.shape[1], -1)
    causes = [Cause(SEWING, moved * sigmas, lot.normal(size=(len(sigmas), DRAWS)))]
    plays = slopes @ tangent.moves(casing_plays(settled)).reshape(slopes.shape[1], -1)
    causes.append(Cause(CASINGS, plays, lot.uniform(size=(plays.shape[1], DRAWS))))
    forces = friction_forces(settled)
    if forces.shape[2]:
        moved = slopes @ tangent.moves_under(forces).reshape(slopes.shape[1], -1)
        causes.append(Cause(FRICTION, moved, lot.uniform(-1.0, 1.0, size=(forces.shape[2], DRAWS))))
    if ways is not None:
        causes.append(skirt_cause(settled, ways, slopes, lot))
    known = [one for one in ends if one.at_low is not None or one.at_high is not None]
    if known:
        causes.append(material_cause(settled, known, slopes, lot))
    return causes


def casing_plays(settled: SettledCage) -> ParameterChanges:
    """Steel that rides up in one casing by what a loose one lets it, each by itself; and that sinks in all of them.

    Gravity holds it down on the stitches, so what is written to lie higher may sink to them.
    """
    joined, marks, design = settled.cage.connectivity, settled.cage.marks, settled.cage.design
    filled = np.array([own.section.along for own in settled.cage.steels])
    above_stitches = marks.lower - marks.steel - filled / 2.0  # (T, H) m
    room = np.maximum(design.tapes.casing - filled - above_stitches, 0.0)
    each, (hoops, tapes) = mark_changes(joined), marks_of(joined).T
    up = -each * np.minimum(room, trade.CASING_RIDE)[tapes, hoops]
    down = each @ np.maximum(above_stitches, 0.0)[tapes, hoops]
    return ParameterChanges(pull_length=np.column_stack([up, down]))


def friction_forces(settled: SettledCage) -> Floats:
    """(N, 3, K) N that friction may hold with where something touches her: of each hoop up her form and round it;
    of each string over her what the capstan lets its ends differ by."""
    columns = [*hoop_frictions(settled), *string_frictions(settled)]
    none = np.zeros((*settled.positions.shape, 0))
    return np.stack(columns, axis=2) if columns else none


def hoop_frictions(settled: SettledCage) -> list[Floats]:
    """(N, 3) N each, two for every hoop that lies on her."""
    form, push = settled.cage.form, settled.state.wearer_push
    if form is None:
        return []
    columns = []
    for nodes in settled.cage.connectivity.hoop_nodes:
        own = nodes[push[nodes] > 0.0]
        if push[own].sum() < LEAST_PUSH:
            continue
        grows = FormGap(form).derivatives(settled.positions[own], settled.cage.parameters.stand_off[own])[1]
        # The push is a unit of her gap's, which is about metres.
        steepness = np.linalg.norm(grows, axis=1)[:, None]
        out, pressed = grows / steepness, push[own, None] * steepness
        round_her = np.cross([0.0, 0.0, 1.0], out)
        round_her /= np.maximum(np.linalg.norm(round_her, axis=1), 1e-9)[:, None]
        for way in (np.cross(out, round_her), round_her):
            force = np.zeros_like(settled.positions)
            force[own] = trade.FRICTION_ON_HER * pressed * way
            columns.append(force)
    return columns


def string_frictions(settled: SettledCage) -> list[Floats]:
    """(N, 3) N each, one for every tape, tie or lace that pulls over her."""
    columns = []
    for row, line in settled.state.ways.items():
        pull = float(settled.state.pull_force[row])
        along = np.diff(line, axis=0)
        along /= np.linalg.norm(along, axis=1)[:, None]
        before, after = along[:-1], along[1:]
        across = np.linalg.norm(np.cross(before, after), axis=1)
        turns = np.arctan2(across, (before * after).sum(axis=1))
        if pull < LEAST_PUSH:
            continue
        # Half of what the ends may differ by, more on one and less on the other.
        half = pull * float(np.expm1(trade.FRICTION_ON_HER * turns.sum())) / 2.0
        force = np.zeros_like(settled.positions)
        first, second = settled.cage.connectivity.pulls[row]
        force[first] += half * along[0]
        force[second] += half * along[-1]
        columns.append(force)
    return columns


def material_cause(
    settled: SettledCage, ends: Sequence[MaterialEnds], slopes: Floats, lot: np.random.Generator
) -> Cause:
    """Each material anywhere between the ends of what is sold, as likely here as there; an end without a rest is left
    out here, and told in words."""
    moves, lots = [], []
    for one in ends:
        between = lot.uniform(-1.0, 1.0, size=DRAWS)
        for end, share in ((one.at_low, np.maximum(-between, 0.0)), (one.at_high, np.maximum(between, 0.0))):
            if end is not None:
                moves.append((end.positions - settled.positions).ravel())
                lots.append(share)
    return Cause(MATERIAL, slopes @ np.column_stack(moves), np.stack(lots))


def skirt_cause(settled: SettledCage, ways: BothWays, slopes: Floats, lot: np.random.Generator) -> Cause:
    """Somewhere between the cage as told and as it hangs under a skirt that lies, or that slides freely."""
    moves = [(way.positions - settled.positions).ravel() for way in (ways.lies, ways.slides)]
    between = lot.uniform(-1.0, 1.0, size=DRAWS)
    if not np.any(moves[0]) or not np.any(moves[1]):
        between = np.abs(between)
        lots = np.stack([between, between])
    else:
        lots = np.stack([np.maximum(-between, 0.0), np.maximum(between, 0.0)])
    return Cause(SKIRT, slopes @ np.column_stack(moves), lots)

"""What hangs where: steel, joins, tapes, what a hoop carries, and the skirt, as newtons on nodes."""

from __future__ import annotations

import numpy as np

from cage3d.design import stock
from cage3d.design.models import Design, Join
from cage3d.shape.arrays import Floats
from cage3d.shape.lines import HoopLine

GRAVITY = 9.81  # m/s2


def steel_mass_per_length(design: Design, hoop: int) -> float:
    """kg/m of one hoop's strip, all strands, with its coating."""
    steel = design.steel_of(hoop)
    return steel.strands * steel.density * steel.width * steel.thickness + steel.coating


def join_of(design: Design, hoop: int) -> Join | None:
    """The join of a hoop: as written, the stock default where nothing is written, None where there is none."""
    written = design.hoops[hoop]
    if written.opening != "none" or written.join == "none":
        return None
    return stock.DEFAULT_JOIN if written.join is None else written.join


def join_mass(design: Design, hoop: int) -> float:
    """kg that a join adds: the second layer of strip in an overlap, or the tube."""
    join = join_of(design, hoop)
    if join is None:
        return 0.0
    if join.overlap is not None:
        return join.overlap * steel_mass_per_length(design, hoop)
    steel = design.steel_of(hoop)
    return stock.tube_mass(join.tube or 0.0, steel.width, steel.thickness * steel.strands)


def shares_at_nodes(line: HoopLine) -> Floats:
    """(n,) m of steel that belongs to each node: half of the edges on both sides."""
    if line.closed:
        return np.asarray((line.arcs + np.roll(line.arcs, 1)) / 2.0)
    return (np.append(line.arcs, 0.0) + np.insert(line.arcs, 0, 0.0)) / 2.0


def join_shares(line: HoopLine, centre: float, length: float) -> Floats:
    """(n,) share of each node's steel that lies inside a join of `length` m about `centre` (share of girth)."""
    own = shares_at_nodes(line)
    # Places are measured from the join's middle, the short way round.
    offset = (np.mod(line.fractions - centre + 0.5, 1.0) - 0.5) * line.girth
    before = np.roll(line.arcs, 1) / 2.0
    low, high = offset - before, offset - before + own
    covered = np.minimum(high, length / 2.0) - np.maximum(low, -length / 2.0)
    return np.asarray(np.clip(covered, 0.0, None) / own)


def hoop_weights(design: Design, hoop: int, line: HoopLine) -> Floats:
    """(n,) N on the nodes of one hoop: strip, coating, join and what it carries (spread evenly)."""
    own = shares_at_nodes(line)
    mass = own * steel_mass_per_length(design, hoop)
    mass = mass + design.hoops[hoop].carries * own / own.sum()
    join = join_of(design, hoop)
    if join is not None:
        covered = join_shares(line, join_centre(design, hoop), join_length(join)) * own
        if covered.sum() > 0.0:
            mass = mass + join_mass(design, hoop) * covered / covered.sum()
    return np.asarray(mass * GRAVITY)


def join_length(join: Join) -> float:
    """m of strip that the join covers."""
    return join.overlap if join.overlap is not None else (join.tube or 0.0)


def join_centre(design: Design, hoop: int) -> float:
    """Place of the join as a share of the girth from centre front."""
    return 0.5 if design.hoops[hoop].join_at == "back" else 0.0


def tape_mass_per_length(design: Design) -> float:
    """kg/m of a finished tape."""
    tapes = design.tapes
    return stock.tape_weight(tapes.width, tapes.doubled) if tapes.weight is None else tapes.weight


def skirt_masses(design: Design, girths: Floats, drops: Floats, waist: float) -> Floats:
    """(H,) kg of skirt on each hoop, shared by the area of the surface that hangs on it.

    Each stretch between two hoops is a cone's band; half of it hangs on either. The band
    carries its half of the first stretch where the skirt is given as a cloth; a weight as
    written hangs on the hoops whole.
    """
    skirt = design.skirt
    if skirt is None:
        return np.zeros(len(girths))
    above = np.concatenate([[waist], girths[:-1]])
    areas = (above + girths) / 2.0 * drops
    carried = areas / 2.0 + np.append(areas[1:], 0.0) / 2.0
    carried[-1] += girths[-1] * skirt.below_hem
    if skirt.weight is not None:
        return np.asarray(skirt.weight * skirt.on_cage * carried / carried.sum())
    cloth = stock.cloth_weight(skirt.cloth or 0.0)
    return np.asarray(cloth * skirt.layers * skirt.fullness * skirt.on_cage * carried)

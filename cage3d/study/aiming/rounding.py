"""Lengths and drops as a tape measure has them: to the nearest fraction, so that the shape suffers least.

Four ways are tried and each settled: every number to its nearest; one after another, the others following; from the
better of the two, numbers moved by one fraction as long as that helps; and as the first, but what changed by less than
one fraction stays as it was.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from cage3d.design.models import Design
from cage3d.design.rules.reach import can_be_reached
from cage3d.shape.arrays import Floats, Ints
from cage3d.shape.lay_out import lay_out
from cage3d.steady import falling, first_least
from cage3d.study.aiming.aim import Aimed
from cage3d.study.aiming.freedom import Freedom
from cage3d.study.budget import Budget
from cage3d.study.figures import figures_of, slopes_of
from cage3d.study.numbers import is_share, number_names, numbers_of, row_places, slides_of, with_numbers

ALIKE = 1e-6  # m: drops of a row that differ by less are one number to her
SHARE = 0.01  # to which a panel's tightness is rounded
Ends = tuple[Floats, Floats]  # the least and the most of each number
UNBOUND: Ends = (np.array(-np.inf), np.array(np.inf))
MOST_MOVES = 400
SHY = 0.1  # m of figures off that count as much as a metre of numbers changed


def rounded(aimed: Aimed, before: Design, freedom: Freedom, nodes: int, step: float, within: float) -> Aimed:
    """The answer with every number that changed put to a multiple of `step` (m), the best of the three ways."""
    design, numbers = aimed.design, numbers_of(aimed.design)
    groups = groups_of(design, np.flatnonzero(np.abs(freedom.directions).max(axis=1) > 0.0))
    each = np.stack([group_column(group, len(numbers)) for group in groups], axis=1)
    figures = [wish.figure for wish in aimed.wishes]
    slopes = slopes_of(aimed.settled, design, nodes, each, figures)
    at = np.array([numbers[group[0]] for group in groups])
    names = number_names(design)
    steps = np.array([SHARE if is_share(names[group[0]]) else step for group in groups])
    ends = ends_of(before, groups, steps)
    plain = np.clip(np.round(at / steps) * steps, *ends)
    turns = in_turn(at, slopes, aimed.off, steps, ends)
    better = min((plain, turns), key=lambda found: float(np.sum((aimed.off + slopes @ (found - at)) ** 2)))
    moved = by_fractions(better, at, slopes, aimed.off, steps, ends)
    was = numbers_of(before)
    full = [numbers + each @ (found - at) for found in (plain, turns, moved)]
    full.append(np.where(np.abs(numbers - was) < step, was, full[0]))
    tried = [settled_with(aimed, way, nodes) for way in {way.tobytes(): way for way in full}.values()]
    able = [one for one in tried if can_be_reached(one.design)] or tried
    best = best_of([one for one in able if one.settled.trusted] or able, was, within)
    return Aimed(
        best.design,
        best.settled,
        aimed.wishes,
        best.off,
        aimed.slopes,
        aimed.settlings + len(tried),
        aimed.why,
    )


def best_of(tried: Sequence[Aimed], was: Floats, within: float) -> Aimed:
    """The one with the fewest numbers to change, of those that are clearly near enough; else the nearest."""
    near = [one for one in tried if np.abs(one.off).max() <= within / 2.0]
    if near:
        changed = [float(np.sum(np.abs(numbers_of(one.design) - was) > ALIKE)) for one in near]
        return near[first_least(changed)]
    return tried[first_least([float(np.abs(one.off).max()) for one in tried])]


def groups_of(design: Design, changing: Ints) -> list[list[int]]:
    """Places of numbers that she writes alike: the same drop on several tapes of a row stays the same."""
    numbers = numbers_of(design)
    rows = {place: drop for own in row_places(design) for drop, place in own.items()}
    groups: dict[tuple[int, int], list[int]] = {}
    for place in map(int, changing):
        groups.setdefault((rows.get(place, -1 - place), round(numbers[place] / ALIKE)), []).append(place)
    return list(groups.values())


def ends_of(before: Design, groups: Sequence[list[int]], steps: Floats) -> Ends:
    """(least, most) (G,) m of each group's numbers: of a hoop that slides the first and last fraction of its slide.

    Where no fraction lies in its slide it stays as long as it was.
    """
    least, most = np.full(len(groups), -np.inf), np.full(len(groups), np.inf)
    for place, slide in slides_of(before).items():
        for one in (number for number, group in enumerate(groups) if place in group):
            within = np.array(
                [np.ceil(slide.least / steps[one] - ALIKE), np.floor(slide.most / steps[one] + ALIKE)]
            )
            stays = before.hoops[place].length
            least[one], most[one] = within * steps[one] if within[0] <= within[1] else (stays, stays)
    return least, most


def group_column(group: Sequence[int], count: int) -> Floats:
    """(D,) one for the numbers of a group."""
    column = np.zeros(count)
    column[list(group)] = 1.0
    return column


def in_turn(at: Floats, slopes: Floats, off: Floats, steps: Floats, ends: Ends = UNBOUND) -> Floats:
    """(G,) m: the most telling number first, each to that neighbour from which the rest can make up best."""
    least, most = (np.broadcast_to(end, at.shape) for end in ends)
    found, left = at.copy(), list(falling([float(np.linalg.norm(column)) for column in slopes.T]))
    while left:
        place = left.pop(0)
        step, choices = steps[place], []
        for fraction in (np.floor(found[place] / step) * step, np.ceil(found[place] / step) * step):
            value = np.clip(fraction, least[place], most[place])
            now = off + slopes @ (found - at) + slopes[:, place] * (value - found[place])
            more = made_up(slopes[:, left], now)
            rest = now + slopes[:, left] @ more
            choices.append((float(rest @ rest) + SHY**2 * float(more @ more), value, more))
        _, found[place], more = choices[first_least([choice[0] for choice in choices])]
        found[left] += more
    return np.clip(np.round(found / steps) * steps, *ends)


def made_up(slopes: Floats, off: Floats) -> Floats:
    """(G,) m: the change that leaves least off, and is itself small (Tikhonov): slack tapes would go anywhere."""
    normal = slopes.T @ slopes + SHY**2 * np.eye(slopes.shape[1])
    return np.asarray(-np.linalg.solve(normal, slopes.T @ off))


def by_fractions(
    start: Floats, at: Floats, slopes: Floats, off: Floats, steps: Floats, ends: Ends = UNBOUND
) -> Floats:
    """(G,) m: from `start`, the one number moved by one step that helps most, until none does."""
    found = start.copy()
    moves = np.concatenate([steps * slopes, -steps * slopes], axis=1)
    least, most = ends
    for _ in range(MOST_MOVES):
        now = off + slopes @ (found - at)
        sums = np.sum((now[:, None] + moves) ** 2, axis=0)
        sums[np.concatenate([found + steps > most + ALIKE, found - steps < least - ALIKE])] = np.inf
        place = first_least(list(map(float, sums)))
        if sums[place] > float(now @ now) * (1.0 - 1e-6):
            break
        one = place % len(at)
        found[one] += steps[one] if place < len(at) else -steps[one]
    return np.clip(np.round(found / steps) * steps, *ends)


def settled_with(aimed: Aimed, numbers: Floats, nodes: int) -> Aimed:
    """The same wishes with other numbers (D,) m."""
    design = with_numbers(aimed.design, numbers)
    settled = Budget().settle(lay_out(design, nodes), aimed.settled)
    figures = figures_of(settled, [wish.figure for wish in aimed.wishes])
    off = figures - np.array([wish.value for wish in aimed.wishes])
    return Aimed(design, settled, aimed.wishes, off, aimed.slopes, aimed.settlings, aimed.why)

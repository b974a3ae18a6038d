"""A first cage before it is written: what is cut for it, and what is sought while its numbers are still open."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

from cage3d.design.models.wanted import HEIGHTS

Row = tuple[float, ...]


@dataclass(frozen=True)
class FirstHoop:
    """length: finished, m, round or end to end; told: beside it; placed: further keys of the hoop with their words."""

    length: float
    told: str = ""
    placed: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True)
class FirstTie:
    """From one tape to another on a hoop, all counted from 1; length in m."""

    hoop: int
    tapes: tuple[int, int]
    length: float
    runs: str | None = None
    name: str | None = None


@dataclass(frozen=True)
class Target:
    """A sum of figures of a hoop (from 1), each times its factor, and what it should be (m).

    figures: by their names in `study.figures`. counts: how much it counts beside the others.
    """

    hoop: int
    figures: Mapping[str, float]
    value: float
    counts: float = 1.0


@dataclass(frozen=True)
class FirstCage:
    """drops: m, a row a tape, or one for all; of gores levels down the cloth, at the front, the sides and the back.

    wanted: keys of `wanted` a hoop. free: what may change to meet the targets: waves of drops or levels by their names
    in `study.aiming.freedom`, 'ties' all by as much or 'each tie' by itself, 'hem' for its girth, 'each hoop' for all
    lengths. steel: its width and thickness, m. stations: of the tapes; None: even all round. gap: from end to end of
    open hoops in cloth, m.
    """

    hoops: tuple[FirstHoop, ...]
    drops: tuple[Row, ...]
    targets: tuple[Target, ...]
    step: float  # m, to which what changes is rounded
    ties: tuple[FirstTie, ...] = ()
    wanted: tuple[Mapping[str, float], ...] = ()
    free: tuple[str, ...] = ("all round",)
    steel: tuple[float, float] | None = None
    stations: tuple[float, ...] | None = None
    gap: float = 0.0
    gores: int | None = None  # of the cloth that carries it in place of tapes

    @property
    def hem_target(self) -> int:
        """The place among targets of the hem's height."""
        last = [target for target in self.targets if target.hoop == len(self.hoops)]
        return self.targets.index(next(one for one in last if set(one.figures.values()) == {0.25}))

    def with_numbers(self, numbers: Sequence[float], rows: int) -> FirstCage:
        """The cage with other numbers (m), in the order of `study.numbers.number_names`; rows: of drops or levels."""
        left = [float(number) for number in numbers]
        hoops, stretches = len(self.hoops), len(self.drops[0])
        count = stretches * rows
        drops = [tuple(left[at : at + stretches]) for at in range(hoops, hoops + count, stretches)]
        ties = left[hoops + count :]
        return replace(
            self,
            hoops=tuple(replace(hoop, length=size) for hoop, size in zip(self.hoops, left, strict=False)),
            drops=tuple(drops[: len(self.drops)]),
            ties=tuple(replace(tie, length=size) for tie, size in zip(self.ties, ties, strict=True)),
        )


def level(hoop: int, height: float, counts: float = 1.0) -> Target:
    """The middle of a hoop's four heights."""
    return Target(hoop, {f"height {side}": 0.25 for side in HEIGHTS}, height, counts)


def slope(hoop: int, dip: float, counts: float = 1.0) -> Target:
    """Lower at the back than at the front by `dip` (m)."""
    return Target(hoop, {"height front": 0.5, "height back": -0.5}, dip / 2, counts)


def plane(hoop: int, counts: float = 1.0) -> Target:
    """The sides half way between front and back."""
    sides = {"height left": 0.25, "height right": 0.25, "height front": -0.25, "height back": -0.25}
    return Target(hoop, sides, 0.0, counts)


def behind(hoop: int, share: float, counts: float = 1.0) -> Target:
    """This share of a hoop's depth lies behind the waist: share x front - (1 - share) x back is nothing."""
    return Target(hoop, {"out in front": share, "out at the back": share - 1.0}, 0.0, counts)

"""What to order instead, where bars of a miniature would run together: ways that were built, not guessed."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from cage3d.errors import CommandError, Problem
from cage3d.miniature.process import PROCESSES, Process, Scale

OFFERED = (12, 10, 8, 6, 5, 4)  # denominators, as the command line offers them, the smallest model first


@dataclass(frozen=True)
class Way:
    """A miniature that was built; `parts` where only some of the parts could be."""

    scale: str
    process: str
    parts: tuple[str, ...] = ()


class RunTogetherError(CommandError):
    """Bars of a miniature would run together; `ways`: what was built instead, the nearest first."""

    def __init__(self, scale: Scale, process: Process, why: str, ways: Sequence[Way] = ()) -> None:
        self.scale, self.process, self.why, self.ways = scale, process, why, tuple(ways)
        super().__init__(Problem("--scale", scale.text, why, advice(scale, process, self.ways)))

    def advised(self, ways: Sequence[Way]) -> RunTogetherError:
        return RunTogetherError(self.scale, self.process, self.why, ways)


def ways_that_print(build: Callable[[Way], object], scale: Scale, process: Process) -> tuple[Way, ...]:
    """At most one larger scale and one other process; both at once, or the hoops alone, where neither helps.

    build: makes the miniature of a way, or raises CommandError.
    """
    larger = [f"1:{offered}" for offered in OFFERED if offered < scale.denominator]
    others = [other.name for other in PROCESSES if other is not process]

    def first(ways: Iterator[Way]) -> tuple[Way, ...]:
        return next(((way,) for way in ways if builds(build, way)), ())

    one_change = first(Way(text, process.name) for text in larger)
    one_change += first(Way(scale.text, key) for key in others)
    if one_change:
        return one_change
    both = first(Way(text, key) for text in larger for key in others)
    return both or first(Way(text, process.name, ("hoops",)) for text in (scale.text, *larger))


def builds(build: Callable[[Way], object], way: Way) -> bool:
    try:
        build(way)
    except CommandError:
        return False
    return True


def advice(scale: Scale, process: Process, ways: Sequence[Way]) -> str:
    said = ", or ".join(way_in_words(way, scale, process) for way in ways)
    return said[:1].upper() + said[1:] or "This cage is too fine to be printed in any scale offered"


def way_in_words(way: Way, scale: Scale, process: Process) -> str:
    words = [f"print at {way.scale}"] if way.scale != scale.text else []
    words += [f"with --process {way.process}"] if way.process != process.name else []
    words += [f"with --part {' --part '.join(way.parts)}"] if way.parts else []
    return " ".join(words)

"""A whole sweep settled: stretch by stretch, here or by an executor, what is done being kept."""

from __future__ import annotations

from collections.abc import Callable, Container, Iterator, Sequence
from concurrent.futures import FIRST_COMPLETED, Executor, Future, wait
from dataclasses import dataclass, field
from typing import Protocol

from cage3d.design.models import Design
from cage3d.settle import SettledCage
from cage3d.study.sweeping.settle_stretch import settle_stretch
from cage3d.study.sweeping.stowing import Stowed, read_stowed
from cage3d.study.sweeping.sweep import Stretch, Sweep, print_of
from cage3d.study.sweeping.told import Told

AHEAD = 64  # stretches that are handed to an executor before the first comes back


class Keep(Protocol):
    """Where finished stretches are kept, by their print."""

    def get(self, key: str) -> bytes | None: ...

    def put(self, key: str, data: bytes) -> None: ...


@dataclass
class Varied:
    """What came of every variant of a sweep."""

    sweep: Sweep
    told: list[Told]  # in the order of the variants
    nodes: int | None = None
    hung: dict[int, tuple[Stowed, int]] = field(default_factory=dict)  # those that can be had settled

    @property
    def answers(self) -> list[int]:
        """Variants that came to a rest which can be trusted."""
        return [variant for variant, one in enumerate(self.told) if one.figures]

    def settled(self, variant: int) -> SettledCage:
        """How it hangs. Raises KeyError where that was not held, ValueError where there is no design."""
        stowed, place = self.hung[variant]
        design = self.sweep.variant(variant)
        if not isinstance(design, Design):
            raise ValueError("the rules refuse this variant")
        found = stowed.settled(place, design, self.nodes)
        if found is None:
            raise ValueError("the rules refuse this variant")
        return found


def vary(
    sweep: Sweep,
    executor: Executor | None = None,
    keep: Keep | None = None,
    told: Callable[[int], object] = lambda _done: None,
    nodes: int | None = None,
    hold: Container[int] | None = None,
) -> Varied:
    """All variants settled and told; the same answers whoever settles them and in whichever order.

    executor: None for here; any of `concurrent.futures`, or one that behaves so. keep: where finished stretches are
    looked for and put. told: called with the number of variants done. hold: which can be had settled afterwards;
    None for all.
    """
    varied = Varied(sweep, [Told({})] * sweep.count, nodes)
    done = 0
    for stretch, stowed in finished(sweep, executor, keep, nodes):
        first = stretch.row * sweep.across + stretch.start
        for place in range(stretch.end - stretch.start):
            varied.told[first + place] = stowed.told(place)
            if hold is None or first + place in hold:
                varied.hung[first + place] = stowed, place
        done += stretch.end - stretch.start
        told(done)
    return varied


def finished(
    sweep: Sweep, executor: Executor | None, keep: Keep | None, nodes: int | None
) -> Iterator[tuple[Stretch, Stowed]]:
    """Every stretch as it is finished."""
    waiting: dict[Future[bytes], tuple[Stretch, str]] = {}
    try:
        for stretch in sweep.stretches():
            variants = sweep.variants_of(stretch)
            key = f"{print_of(variants)}-{nodes or 'usual'}"
            known = keep.get(key) if keep is not None else None
            stowed = read_stowed(known, len(variants)) if known else None
            if stowed is not None:
                yield stretch, stowed
            elif executor is None:
                yield stretch, kept(settle_stretch(variants, nodes), key, stretch, keep)
            else:
                waiting[executor.submit(settle_stretch, variants, nodes)] = stretch, key
                if len(waiting) >= AHEAD:
                    yield from arrived(waiting, keep)
        while waiting:
            yield from arrived(waiting, keep)
    finally:
        for future in waiting:
            future.cancel()


def arrived(
    waiting: dict[Future[bytes], tuple[Stretch, str]], keep: Keep | None
) -> Iterator[tuple[Stretch, Stowed]]:
    """Those that are ready, one at least; they wait no longer."""
    for future in wait(waiting, return_when=FIRST_COMPLETED).done:
        stretch, key = waiting.pop(future)
        yield stretch, kept(future.result(), key, stretch, keep)


def kept(data: bytes, key: str, stretch: Stretch, keep: Keep | None) -> Stowed:
    if keep is not None:
        keep.put(key, data)
    stowed = read_stowed(data, stretch.end - stretch.start)
    if stowed is None:
        raise ValueError("what came back from another process is no stretch of variants")
    return stowed


def evenly(variants: Sequence[int], most: int) -> list[int]:
    """No more than so many of them, with the first and the last."""
    if len(variants) <= most:
        return list(variants)
    return [variants[round(place * (len(variants) - 1) / (most - 1))] for place in range(most)]

"""What a move costs from the hand to the frame: python tests/bench/fitting_bench.py samples/a-short-petticoat.yaml ...

CPU time in ms, medians of 100 moves drawn by lot: the rules, laying out, settling from the last, what is drawn,
packing, and what follows, figures and labels. Once as a slider is dragged, step by step to and fro; once as it jumps,
up to an inch from where it was written. Travel and drawing in the browser are not in it.
"""

from __future__ import annotations

import statistics
import sys
import time
from collections.abc import Callable
from pathlib import Path
from random import Random
from typing import Any

from cage3d.errors import DesignError
from cage3d.live.fitting import open_file
from cage3d.live.frame import frame, words_told
from cage3d.live.hand import MOST_DRAGGED
from cage3d.live.shown import Shown
from cage3d.scene.shown import ScenePart
from cage3d.settle import settle
from cage3d.settle.state import SettledCage
from cage3d.shape.lay_out import lay_out

MOVES = 100
REACH = 0.0254  # m either way, of a jump
DRAGGED = 10  # moves of one slider, before it is another's turn


def timed(found: list[float], work: Callable[..., Any], *given: Any, **more: Any) -> Any:
    began = time.process_time()
    answer = work(*given, **more)
    found.append(1000.0 * (time.process_time() - began))
    return answer


def words_after(shown: Shown, settled: SettledCage, drawn: tuple[ScenePart, ...]) -> None:
    words_told(1, shown.stage_of(settled, drawn))


def bench(path: Path, jumps: bool) -> None:
    opened, lot, shown = open_file(path), Random(1), Shown()
    hung = settle(lay_out(opened.design))
    shown.whole(hung, shown.stage_of(hung))
    sliders = [one for one in opened.controls.values() if one.group in ("Lengths", "Drops", "Ties")]
    told: dict[str, list[float]] = {
        name: [] for name in ("rules", "lay out", "settle", "mesh", "encode", "words")
    }
    steps: list[int] = []
    values: dict[str, str] = {}
    count, size, one = 0, 0, sliders[0]
    while len(told["encode"]) < MOVES:
        one = lot.choice(sliders) if jumps or count % DRAGGED == 0 else one
        before, count = dict(values), count + 1
        far = round(lot.uniform(-REACH, REACH) / one.step) if jumps else abs(count % DRAGGED - DRAGGED // 2)
        values[one.place] = one.text_of(one.value + far * one.step)
        try:
            design = timed(told["rules"], opened.design_with, values)
            cage = timed(told["lay out"], lay_out, design)
            settled = timed(told["settle"], settle, cage, hung, most_steps=MOST_DRAGGED)
        except DesignError:
            values = before
            continue
        steps.append(settled.steps)
        if settled.trusted:
            hung = settled
            drawn = timed(told["mesh"], shown.parts_of, settled)
            size = len(timed(told["encode"], frame, drawn, shown.moved(drawn) or set(), 1))
            timed(told["words"], words_after, shown, settled, drawn)
    medians = {name: statistics.median(found) for name, found in told.items()}
    parts = ", ".join(f"{name} {value:.1f}" for name, value in medians.items())
    print(f"{path.name}, {'jumps' if jumps else 'dragged'}: {parts}; in all {sum(medians.values()):.0f} ms")
    worst = sorted(told["settle"])[-len(told["settle"]) // 20]
    print(
        f"    {statistics.median(steps):.0f} steps; settle, worst in twenty {worst:.0f} ms; {size // 1000} kB"
    )


if __name__ == "__main__":
    for name in sys.argv[1:]:
        for jumps in (False, True):
            bench(Path(name), jumps)

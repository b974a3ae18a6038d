"""How long a settled cage takes to become a mesh, as the page shows it: python tests/bench/mesh_bench.py

Prints; asserts nothing. CPU counts: where other work shares the machine, wall time is longer by that work's share.
Every run meshes another cage than the one before, as a page does whose numbers change: its hoops by turns longer, so
that nothing but what depends on the kind of cage alone is found again. `her` changes the wearer's hip too, from which
the rings of her form follow anew. `first` is the first mesh of a process, where nothing is kept.
"""

from __future__ import annotations

import os
import subprocess
import sys
import tracemalloc
from collections.abc import Callable, Sequence
from itertools import cycle
from pathlib import Path

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # read once, when numpy loads
ROOT = Path(__file__).parents[2]
sys.path[:0] = [str(ROOT), str(ROOT / "tests")]

from settle_bench import machine, with_longer_hoop  # noqa: E402
from timing import HEAD, times_of  # noqa: E402

from cage3d.design.models import Design  # noqa: E402
from cage3d.design.read import read  # noqa: E402
from cage3d.scene.shown import scene_parts  # noqa: E402
from cage3d.settle import settle  # noqa: E402
from cage3d.settle.state import SettledCage  # noqa: E402
from cage3d.shape.lay_out import lay_out  # noqa: E402

SAMPLES = sorted((ROOT / "samples").glob("*.yaml"))
GOALS = {"a": "<= 0.015", "c": "<= 0.025"}  # CPU
CHANGED, RUNS = 12, 36  # cages that differ, more than rings of forms are kept; meshes of them
FIRST = "--first"


def with_wider_hip(design: Design, by: float) -> Design:
    """The design for a wearer whose hip is wider by so many metres."""
    wearer = design.wearer.model_copy(update={"hip": (design.wearer.hip or design.wearer.waist) + by})
    return design.model_copy(update={"wearer": wearer})


def changed(design: Design, her: bool) -> list[SettledCage]:
    """Cages whose hoops are by turns longer by 1 mm, and whose wearer's hip is wider by as much where `her` is."""
    cages = []
    for number in range(CHANGED):
        other = with_longer_hoop(design, number % len(design.hoops), 0.001)
        cages.append(settle(lay_out(with_wider_hip(other, 0.001 * number) if her else other)))
    return cages


def by_turns(cages: Sequence[SettledCage]) -> Callable[[], object]:
    turn = cycle(cages)
    return lambda: scene_parts(next(turn))


def first(path: Path) -> None:
    """In a process of its own: one line of the very first mesh."""
    cage = settle(lay_out(read(path)))
    print(times_of(lambda: scene_parts(cage), 1).line(f"{path.stem}, first"))


def held(cages: Sequence[SettledCage]) -> float:
    """MB more than before that a process holds once these cages were meshed and let go."""
    tracemalloc.start()
    before = tracemalloc.get_traced_memory()[0]
    for cage in cages:
        scene_parts(cage)
    after = tracemalloc.get_traced_memory()[0]
    tracemalloc.stop()
    return (after - before) / 1e6


def main() -> None:
    print(machine(), HEAD, sep="\n")
    for path in SAMPLES:
        design = read(path)
        cages, others = changed(design, her=False), changed(design, her=True)
        kept = held(cages)
        subprocess.run([sys.executable, __file__, FIRST, str(path)], check=True)
        print(times_of(by_turns(cages), RUNS).line(f"{path.stem}, changed", GOALS.get(path.stem[0], "")))
        print(times_of(by_turns(others), RUNS).line(f"{path.stem}, her too"))
        print(f"{'':4}{kept:.1f} MB kept")


if __name__ == "__main__":
    first(Path(sys.argv[2])) if sys.argv[1:2] == [FIRST] else main()

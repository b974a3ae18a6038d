"""How long a cage takes to settle, and where the time goes: python tests/bench/settle_bench.py

Prints; asserts nothing. Goals are for one core that has nothing else to do: where other work
shares the machine, wall time is longer than CPU time by that work's share. `--alone` leaves
PyElastica out.
"""

from __future__ import annotations

import cProfile
import os
import platform
import sys
from importlib.util import find_spec
from pathlib import Path

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # read once, when numpy loads
ROOT = Path(__file__).parents[2]
sys.path[:0] = [str(ROOT), str(ROOT / "tests")]

import numpy as np  # noqa: E402
import scipy  # noqa: E402
from rigs import hard_cage  # noqa: E402
from timing import HEAD, Times, exponent, times_of  # noqa: E402

from cage3d.design.models import Design  # noqa: E402
from cage3d.design.read import read  # noqa: E402
from cage3d.settle import SettledCage, settle  # noqa: E402
from cage3d.shape.cage import Cage  # noqa: E402
from cage3d.shape.lay_out import lay_out  # noqa: E402

NODES = 64  # a hoop, in the goals
GOALS = {"a": ("<= 0.070", "<= 0.012"), "c": ("<= 0.130", "<= 0.020"), "d": ("<= 0.200", "<= 0.020")}  # CPU
SAMPLE_A = ROOT / "samples" / "a-short-petticoat.yaml"

# File and function of the parts that do not call one another.
PARTS = {
    "factorisation": ("elimination.py", "pivots"),
    "Hessians, assembled": ("model.py", "hessian"),
    "gradients": ("model.py", "gradient"),
    "energies": ("model.py", "energy"),
    "places, frames, strings over her": ("model.py", "trial_at"),
    "solving with the factor": ("elimination.py", "solve"),
    "pattern of the Hessian": ("assembly.py", "pattern_of"),
}


def with_longer_hoop(design: Design, hoop: int, by: float) -> Design:
    """The design with one hoop longer by so many metres."""
    hoops = list(design.hoops)
    hoops[hoop] = hoops[hoop].model_copy(update={"length": hoops[hoop].length + by})
    return design.model_copy(update={"hoops": hoops})


def machine() -> str:
    busy = f", load {os.getloadavg()[0]:.1f}" if hasattr(os, "getloadavg") else ""
    return (
        f"{os.cpu_count()} cores{busy}, {platform.machine()}, Python {platform.python_version()},"
        f" numpy {np.__version__}, scipy {scipy.__version__},"
        f" BLAS threads {os.environ['OPENBLAS_NUM_THREADS']}; seconds, medians"
    )


def cold_and_again() -> Times:
    """The table of the goals; the times of the hard cage."""
    hard = lay_out(hard_cage(), NODES)
    hung = settle(hard)
    times = times_of(lambda: settle(hard), 9)
    print(times.line(f"hard cage, {NODES} nodes a hoop", "<= 0.100"))
    plain, default = read(SAMPLE_A), lay_out(hard_cage())
    print(times_of(lambda: settle(lay_out(plain, NODES)), 9).line(f"sample A laid out, {NODES} nodes a hoop"))
    print(times_of(lambda: settle(lay_out(plain)), 9).line("sample A laid out, default nodes"))
    print(times_of(lambda: settle(default), 9).line("hard cage, default nodes"))
    for hoop in range(len(hard.design.hoops)):
        longer = lay_out(with_longer_hoop(hard.design, hoop, 0.003), NODES)
        print(dragged(hung, longer).line(f"hard cage again, hoop {hoop + 1} longer by 3 mm", "<= 0.012"))
    return times


def dragged(hung: SettledCage, changed: Cage) -> Times:
    """Settled again, there and back: each time from the rest before, as under a hand that goes to and fro."""
    last, cages = [hung], [changed, hung.cage]

    def once() -> None:
        last[0] = settle(cages[0], start=last[0])
        cages.reverse()

    return times_of(once, 18)


def samples() -> None:
    """Every sample cold, and again with each of its hoops longer by 3 mm and back: the median of all, and the worst."""
    for path in sorted((ROOT / "samples").glob("*.yaml")):
        design = read(path)
        plain = lay_out(design)
        hung = settle(plain)
        name, (cold, again) = path.stem, GOALS.get(path.stem[0], ("", ""))
        print(times_of(lambda plain=plain: settle(plain), 9).line(name, cold))
        moves = [
            dragged(hung, lay_out(with_longer_hoop(design, hoop, 0.003))) for hoop in range(len(design.hoops))
        ]
        every = Times(np.concatenate([one.wall for one in moves]), np.concatenate([one.cpu for one in moves]))
        print(every.line(f"{name} again", again))
        print(max(moves, key=lambda one: one.median_cpu).line(f"{name} again, slowest hoop"))
        print(times_of(lambda design=design: lay_out(design), 9).line(f"{name} laid out"))


def growth() -> None:
    """Time over nodes a hoop."""
    counts, wall, cpu = [64, 128, 256, 512], [], []
    for count in counts:
        cage = lay_out(hard_cage(), count)
        assert settle(cage).trusted
        times = times_of(lambda cage=cage: settle(cage), 5)
        print(times.line(f"hard cage, {count} nodes a hoop"))
        wall.append(times.median)
        cpu.append(times.median_cpu)
    print(
        f"time grows as nodes^{exponent(counts, wall):.2f} (wall), nodes^{exponent(counts, cpu):.2f} (CPU);"
        " goal <= 1.2"
    )


def shares(cage: Cage) -> None:
    """Where the time goes, by cProfile, which makes Python's own share look larger than it is."""
    profile = cProfile.Profile(subcalls=False)
    profile.runcall(settle, cage)
    profile.create_stats()
    spent = {
        (Path(file).name, name): (calls, seconds)
        for (file, _, name), (calls, _, _, seconds, _) in profile.stats.items()  # type: ignore[attr-defined]
        if "settle" in file
    }
    whole = spent["settling.py", "settle"][1]
    for part, key in PARTS.items():
        calls, seconds = spent[key]
        print(f"{part:44}{seconds:9.3f}{seconds / whole:9.0%}   {calls} calls")
    rest = whole - sum(spent[key][1] for key in PARTS.values())
    print(f"{'the rest (Lanczos, frames, bookkeeping)':44}{rest:9.3f}{rest / whole:9.0%}")


def second_opinion(ours: Times) -> None:
    """PyElastica on the hard cage, to rest, with masses chosen for speed; and what a second of steel costs it."""
    if find_spec("elastica") is None:
        print("not installed (pip install pyelastica)")
        return
    from second_opinion import in_real_time, relaxing

    cage = lay_out(hard_cage(), NODES)
    relaxing(cage).advance(1)  # compiled before the clock starts
    for still in (1e-4, 1e-5):
        relaxation = relaxing(cage)
        times = times_of(lambda r=relaxation, s=still: r.relax(s, every=80 * NODES, most=10_000_000), 1)
        print(times.line(f"still to {1e3 * still:g} mm, {relaxation.steps} steps"))
        print(
            f"{'':4}times as long as ours: {times.median / ours.median:.0f} (wall),"
            f" {times.median_cpu / ours.median_cpu:.0f} (CPU); goal >= 50"
        )
    for time_step in (2e-6, 1e-6, 5e-7, 2e-7):
        real = in_real_time(cage, damping=2.0, time_step=time_step)
        times = times_of(lambda r=real: r.advance(2000), 1)
        if np.isfinite(real.positions).all():
            motion = 2000 * time_step
            print(
                f"masses of steel: 2000 steps of {time_step:g} s, {1e3 * motion:g} ms of motion, took"
                f" {times.cpu[0]:.2f} s of CPU; not run to rest"
            )
            break


def main() -> None:
    print(machine(), HEAD, sep="\n")
    ours = cold_and_again()
    print("\nSamples", HEAD, sep="\n")
    samples()
    print("\nGrowth with nodes", HEAD, sep="\n")
    growth()
    for title, cage in (
        ("hard cage", lay_out(hard_cage(), NODES)),
        ("hard cage, 512 nodes a hoop", lay_out(hard_cage(), 512)),
    ):
        print(f"\nWhere the time goes: {title}")
        shares(cage)
    if "--alone" not in sys.argv:
        print(
            "\nThe hard cage in PyElastica, 64 nodes a hoop, masses chosen for the largest step",
            HEAD,
            sep="\n",
        )
        second_opinion(ours)


if __name__ == "__main__":
    main()

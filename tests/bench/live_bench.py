"""How soon the page of a fitting shows a move, and where the time goes: python tests/bench/live_bench.py [a c ...]

Prints; asserts nothing. Random moves of one hoop or one drop in headless Chromium, from the slider's event until the
picture stands (its last pixel read back); then the same moves in this process, part by part. Goals are for two cores
that have nothing else to do, drawing in software: the load is told.
"""

from __future__ import annotations

import os
import sys
import tempfile
from dataclasses import dataclass
from pathlib import Path
from time import perf_counter, process_time
from typing import Any

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # read once, when numpy loads
ROOT = Path(__file__).parents[2]
sys.path[:0] = [str(ROOT), str(ROOT / "tests")]

import numpy as np  # noqa: E402
from browser import browsers  # noqa: E402
from fitting_page import Tab, served  # noqa: E402

from cage3d.live.fitting import open_file  # noqa: E402
from cage3d.live.frame import frame, words_told  # noqa: E402
from cage3d.live.shown import Shown  # noqa: E402
from cage3d.settle import settle  # noqa: E402
from cage3d.shape.lay_out import lay_out  # noqa: E402

GOALS = {"a": 100, "c": 180}  # ms, drag to picture
OLDEST = 200  # ms, of a picture in a drag without end
MOVES, WARM, SEED = 100, 5, 1
DRAGGED = 10.0  # s
LONGEST = 20000  # ms, for a move that is refused or finds no rest
FAR, STEP = 8, 3  # steps (eighths of an inch) that a value goes from the file at most, and at once

# When what came down arrived. `performance.now()` everywhere.
LISTEN = """
window.came = 0;
const Plain = WebSocket;
window.WebSocket = class extends Plain {
  constructor(...given) {
    super(...given);
    this.addEventListener("message", ({data}) => { if (typeof data !== "string") window.came = performance.now(); });
  }
};
"""
STANDS = """
const stands = () => {
  const gl = document.getElementById("view").getContext("webgl2");
  gl.readPixels(0, 0, 1, 1, gl.RGBA, gl.UNSIGNED_BYTE, new Uint8Array(4));
  return performance.now();
};
const slide = (place, steps) => {
  const slider = document.querySelector(`.control[data-place="${place}"] input[type=range]`);
  slider.value = steps;
  slider.dispatchEvent(new Event("input"));
};
"""
# One move, and then none until all of it is told: [ms until it came, until its picture stood, until its words did].
MOVE = f"""async ([place, steps]) => {{ {STANDS}
  const began = performance.now();
  return await new Promise((done) => {{
    setTimeout(() => done([NaN, NaN, NaN]), {LONGEST});
    const found = [];
    document.addEventListener("cage-shown", () => found.push(window.came - began, stands() - began), {{once: true}});
    document.addEventListener("cage-said", () => done([...found, performance.now() - began]), {{once: true}});
    slide(place, steps);
  }});
}}"""
# A slider that never rests: how old a picture was when it stood, and when the next one took its place.
DRAG = f"""async ([place, seconds]) => {{ {STANDS}
  const ages = [];
  let asked = null;
  const note = ({{detail}}) => {{
    const now = stands();
    if (asked !== null) ages.push([now - detail.since, now - asked]);
    asked = detail.since ?? asked;
  }};
  document.addEventListener("cage-shown", note);
  const began = performance.now();
  for (let at = 0; performance.now() - began < seconds * 1000; at += 1) {{
    slide(place, Math.round({FAR} * Math.sin(at / 20)));
    await new Promise((next) => requestAnimationFrame(next));
  }}
  document.removeEventListener("cage-shown", note);
  return ages;
}}"""


@dataclass(frozen=True)
class Move:
    place: str
    steps: int


def moves_of(places: list[str]) -> list[Move]:
    """One value after another by lot, each taken on from where it stands, as a hand does between two pictures."""
    lot = np.random.default_rng(SEED)
    stand, moves = dict.fromkeys(places, 0), []
    while len(moves) < MOVES:
        place = str(lot.choice(places))
        steps = int(np.clip(stand[place] + lot.choice([-1, 1]) * lot.integers(1, STEP + 1), -FAR, FAR))
        if steps != stand[place]:
            stand[place] = steps
            moves.append(Move(place, steps))
    return moves


def told(what: str, values: Any, goal: float | None = None) -> None:
    values = np.asarray(values, float)
    values = values[np.isfinite(values)]
    aim = "" if goal is None else f"{goal:>8.0f}"
    print(f"{what:36}{np.median(values):9.1f}{np.quantile(values, 0.9):9.1f}{values.max():9.1f}{aim}")


PARTS = ("rules", "settling", "meshing", "encoding", "figures, words")
BEFORE = 4  # of these, what a picture waits for; words follow it


def parts(path: Path, moves: list[Move]) -> tuple[Any, Any]:
    """ms of every move in this process, (moves, 5) as PARTS: what one waits, and what the processor works."""
    opened = open_file(path)
    hung = settle(lay_out(opened.design))
    shown = Shown()
    shown.whole(hung, shown.stage_of(hung))
    values: dict[str, str] = {}
    wall, work = [], []
    for move in moves:
        control = opened.controls[move.place]
        values[move.place] = control.text_of(control.value + move.steps * control.step)
        marks = [(perf_counter(), process_time())]
        design = opened.design_with(values)
        marks.append((perf_counter(), process_time()))
        again = settle(lay_out(design), hung)
        marks.append((perf_counter(), process_time()))
        hung = again if again.trusted else hung
        drawn = shown.parts_of(hung)
        marks.append((perf_counter(), process_time()))
        frame(drawn, shown.moved(drawn) or set(), 1)
        marks.append((perf_counter(), process_time()))
        words_told(1, shown.stage_of(hung, drawn))
        marks.append((perf_counter(), process_time()))
        waited, worked = (np.diff(column) * 1e3 for column in zip(*marks, strict=True))
        wall.append(waited)
        work.append(worked)
    return np.array(wall[WARM:]), np.array(work[WARM:])


def bench(letter: str, running: Any, folder: Path) -> None:
    sample = next((ROOT / "samples").glob(f"{letter}-*.yaml"))
    path = folder / sample.name
    path.write_bytes(sample.read_bytes())
    controls = open_file(path).controls
    places = [place for place in controls if place.endswith(".length") or place.startswith("tapes.drops")]
    moves = moves_of([place for place in places if not place.startswith("ties")])
    print(f"\n{sample.stem}: {MOVES} moves; load {os.getloadavg()[0]:.1f} on {os.cpu_count()} cores")
    print(f"{'ms':36}{'median':>9}{'90 %':>9}{'most':>9}{'goal':>8}")
    with served(path) as address:
        tab = Tab.opened(running, address)
        tab.page.wait_for_timeout(6000)  # what is foretold of the opened design is told
        timed = []
        for move in moves:
            timed.append(tab.page.evaluate(MOVE, [move.place, move.steps]))
        came, stood, said = np.array(timed[WARM:]).T
        ages = tab.page.evaluate(DRAG, [places[0], DRAGGED])
        tab.page.close()
    told("drag to picture", stood, GOALS.get(letter))
    of_drops = np.array(["drops" in move.place for move in moves[WARM:]])
    told("  of a length", stood[~of_drops])
    told("  of one tape's drop", stood[of_drops])
    told("  and to its words", said)
    fresh, old = np.array(ages).T
    told("age of a picture in a drag", fresh, OLDEST)
    told("  when the next takes its place", old)
    print(f"{'':36}{len(ages) / DRAGGED:9.1f} pictures a second")
    wall, work = parts(path, moves)
    for number, what in enumerate(PARTS):
        told(f"  {what}", wall[:, number])
        told("    of that the processor", work[:, number])
        if what == "settling":
            told("    the same, of a length", work[~of_drops, number])
    told("  travel, and what else waits", came - float(np.median(wall[:, :BEFORE].sum(axis=1))))
    told("  drawing", stood - came)


def main() -> None:
    letters = sys.argv[1:] or ["a", "c"]
    with browsers() as start, tempfile.TemporaryDirectory() as folder:
        running = start()
        context = running.new_context()
        context.add_init_script(LISTEN)
        for letter in letters:
            bench(letter, context, Path(folder))
        running.close()


if __name__ == "__main__":
    main()

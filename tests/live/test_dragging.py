"""Minutes of random dragging, by those who ask for it: CAGE3D_DRAG_MINUTES=20 pytest --slow tests/live/test_dragging.py

Every slider as a hand would: dragged to and fro, far, and where it cannot be; rested, saved now and then. Nothing is
ever raised, memory grows by a fifth at most, and what is told at rest is what `check` says of the saved file.
"""

from __future__ import annotations

import os
import time
from collections.abc import Iterator
from pathlib import Path
from random import Random
from typing import Any

import pytest
from fitted import Page, page_of, served

from cage3d.flow import settle_file
from cage3d.live.tab import Tab
from cage3d.report import measure, report_json

SAMPLES = Path(__file__).parents[2] / "samples"
MINUTES = float(os.environ.get("CAGE3D_DRAG_MINUTES", "0"))
GROWS = 0.2


@pytest.mark.slow
@pytest.mark.skipif(not MINUTES, reason="minutes of dragging; CAGE3D_DRAG_MINUTES=20 asks for them")
@pytest.mark.parametrize(
    "sample", ["a-short-petticoat.yaml", "d-back-weighted-egg.yaml", "i-gored-petticoat.yaml"]
)
def test_minutes_of_dragging(sample: str, tmp_path: Path):
    path = tmp_path / "petticoat.yaml"
    written = (SAMPLES / sample).read_bytes()
    path.write_bytes(written)
    lot, until, kinds, held = (
        Random(sample),
        time.monotonic() + 30.0 * MINUTES,
        dict[str, int](),
        list[float](),
    )
    farthest = 0.0
    with served(path) as fitting, page_of(fitting) as page:
        (tab,) = fitting.tabs
        while time.monotonic() < until:
            for told in drag(page, lot):
                kinds[told["kind"]] = kinds.get(told["kind"], 0) + 1
                held.append(memory(tab))
            rested = rest_and_save(page, lot)
            if rested is not None:
                farthest = max(farthest, apart(rested, report_json(measure(settle_file(path)))))
                kinds["as check says"] = kinds.get("as check says", 0) + 1
            if path.read_bytes() != written:  # an editor beside the page, which takes it up
                path.write_bytes(written)
                page.until("opened")
    quarter = len(held) // 4
    first, last = max(held[:quarter]), max(held[-quarter:])
    print(f"\n{sample}: {kinds}, memory {first:.0f} then {last:.0f} MB; apart {farthest:.1e} m")
    assert "failed" not in kinds
    assert last < (1.0 + GROWS) * first
    assert farthest < 1e-6
    assert kinds["as check says"] > 5


def drag(page: Page, lot: Random) -> Iterator[dict[str, Any]]:
    """A few sliders one after the other, each by several moves; what every move was answered with."""
    page.values = {}
    for _ in range(lot.randrange(1, 4)):
        control = lot.choice(list(page.controls.values()))
        way = lot.choice((-1.0, 1.0)) * control["step"] * lot.choice((1, 1, 2, 5, 40))
        kept = dict(page.values)
        for step in range(1, lot.randrange(2, 14)):
            value = (control["value"] + step * way) / control["scale"]
            page.values[control["place"]] = f"{value:.4f}{control['suffix']}"
            told = page.move(page.values)
            yield told
            if told["kind"] == "refused":
                page.values = kept
                break


def rest_and_save(page: Page, lot: Random) -> dict[str, Any] | None:
    """The figures at rest, saved; None where it finds no rest. Now and then a newer move takes the rest over."""
    if lot.random() < 0.2:
        page.send({"seq": page.seq + 1, "values": page.values, "rest": True})
        page.seq += 1
        page.move(page.values)
    if page.move(page.values, rest=True)["kind"] not in ("shape", "parts"):
        page.ask("reload")
        return None
    told = page.until("figures", seq=page.seq, foretold=False)
    assert page.ask("save")["kind"] == "done"
    return told["report"]


def apart(one: Any, other: Any) -> float:
    """How far the lengths of two reports are apart, m; of what is no length only its sort is compared."""
    if isinstance(one, dict):
        assert one.keys() == other.keys()
        return max(
            (apart(one[key], other[key]) for key in one if key.endswith("_m") or nested(one[key])),
            default=0.0,
        )
    if isinstance(one, list):
        assert len(one) == len(other)
        return max(map(apart, one, other), default=0.0)
    return abs(one - other) if isinstance(one, int | float) else 0.0


def nested(value: Any) -> bool:
    return isinstance(value, dict | list)


def memory(tab: Tab) -> float:
    """MB that the processes of a tab hold (Linux)."""
    helpers = [one for one in (tab.hand, tab.foreteller) if one is not None]
    pages = [int(Path(f"/proc/{one.process.pid}/statm").read_text("ascii").split()[1]) for one in helpers]
    return sum(pages) * os.sysconf("SC_PAGE_SIZE") / 1e6

"""A fitting that is served to the tests: the server itself, in a thread of theirs, and a page without a browser."""

from __future__ import annotations

import asyncio
import json
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from threading import Event, Thread
from typing import Any

import numpy as np
from websockets.sync.client import ClientConnection, connect

from cage3d.live.serving import Fitting

SAMPLES = sorted((Path(__file__).parents[1] / "samples").glob("*.yaml"))
ON_TAPES = [path for path in SAMPLES if "\ncloth:" not in path.read_text("utf-8")]
ON_CLOTH = [path for path in SAMPLES if path not in ON_TAPES]
LONGEST_WAIT = 120.0  # s, on a machine with much else to do


@contextmanager
def served(path: Path, folder: Path | None = None, port: int = 0) -> Iterator[Fitting]:
    """The server of a design, over real sockets; its tabs and their processes are gone afterwards."""
    fitting = Fitting(path, folder or path.with_suffix(""), port)
    ready, held = Event(), {}

    async def run() -> None:
        held["loop"], held["stop"] = asyncio.get_running_loop(), asyncio.Event()
        await fitting.run(ready.set, held["stop"])

    thread = Thread(target=asyncio.run, args=(run(),))
    thread.start()
    try:
        assert ready.wait(LONGEST_WAIT)
        yield fitting
    finally:
        held["loop"].call_soon_threadsafe(held["stop"].set)
        thread.join(LONGEST_WAIT)


class Page:
    """What the page does, without a browser: sends moves and asks, and reads what comes."""

    def __init__(self, socket: ClientConnection) -> None:
        self.socket, self.seq, self.ids = socket, 0, 0
        self.values: dict[str, str] = {}
        self.opened: dict[str, Any] = {}

    def next(self) -> dict[str, Any]:
        data = self.socket.recv(timeout=LONGEST_WAIT)
        return framed(data) if isinstance(data, bytes) else json.loads(data)

    def until(self, *kinds: str, **more: Any) -> dict[str, Any]:
        """The first message of one of these kinds that says this; what comes before is passed over."""
        while True:
            told = self.next()
            if told["kind"] == "opened":
                self.opened = told
            if told["kind"] in kinds and all(told.get(key) == value for key, value in more.items()):
                return told

    def send(self, told: Any) -> None:
        self.socket.send(told if isinstance(told, str | bytes) else json.dumps(told))

    def move(self, values: dict[str, str], rest: bool = False) -> dict[str, Any]:
        """What a move is answered with."""
        self.seq += 1
        self.send({"seq": self.seq, "values": values, "rest": rest})
        return self.until("shape", "parts", "refused", "no rest", "failed", seq=self.seq)

    def ask(self, do: str, **more: Any) -> dict[str, Any]:
        """What comes of something asked for."""
        self.ids += 1
        self.send({"do": do, "id": self.ids, **more})
        return self.until("done", "failed", id=self.ids)

    def figures(self, foretold: bool = False) -> dict[str, Any]:
        return self.until("figures", foretold=foretold)

    @property
    def controls(self) -> dict[str, dict[str, Any]]:
        return {one["place"]: one for group in self.opened["groups"] for one in group["controls"]}


@contextmanager
def page_of(fitting: Fitting) -> Iterator[Page]:
    """A page that has opened the design."""
    with connected(fitting) as socket:
        page = Page(socket)
        page.until("opened", "unreadable")
        yield page


@contextmanager
def connected(fitting: Fitting) -> Iterator[ClientConnection]:
    gate = fitting.gate
    with connect(
        f"ws://{gate.hosts[0]}/{gate.secret}/live", origin=gate.origins[0], max_size=None, compression=None,
        proxy=None, open_timeout=LONGEST_WAIT,
    ) as socket:  # fmt: skip
        yield socket


def framed(data: bytes) -> dict[str, Any]:
    """A frame as the page reads it: its head, with `vertices` (n, 3) m and `normals` of every part that moved."""
    size = int.from_bytes(data[:4], "little")
    head = json.loads(data[4 : 4 + size])
    for part in head["parts"]:
        if part["moved"]:
            places = array_at(data, 4 + size, part["positions"], "<u2")
            part["vertices"] = np.array(part["low"]) + np.array(part["size"]) * places / 65535.0
            part["normals"] = array_at(data, 4 + size, part["normals"], "i1") / 127.0
    return head


def array_at(data: bytes, start: int, told: list[int], kind: str) -> np.ndarray[Any, Any]:
    offset, count = told
    return np.frombuffer(data, kind, count, start + offset).reshape(-1, 4)[:, :3]

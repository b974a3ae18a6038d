"""The server of one design: its page and the tabs that are open on it, until it is stopped."""

from __future__ import annotations

import asyncio
import logging
import socket
from collections.abc import Callable, Mapping
from contextlib import suppress
from http import HTTPStatus
from pathlib import Path

from websockets.asyncio.server import ServerConnection, serve
from websockets.datastructures import Headers
from websockets.http11 import Request, Response

from cage3d.live.gate import LARGEST_MESSAGE, LOOPBACK, SOCKET, Gate
from cage3d.live.hand import follow
from cage3d.live.helper import Helper
from cage3d.live.page import live_page
from cage3d.live.shelf import Shelf
from cage3d.live.tab import LOOK, Tab
from cage3d.live.watching import watch

# Nothing of it is kept, guessed at, framed by another page or told to one.
CAREFUL = {
    "Cache-Control": "no-store",
    "X-Content-Type-Options": "nosniff",
    "X-Frame-Options": "DENY",
    "Referrer-Policy": "no-referrer",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Connection": "close",
}
NOTHING: Mapping[str, str] = {}
SILENT = logging.getLogger("cage3d.live")
SILENT.addHandler(logging.NullHandler())
SILENT.propagate = False  # what a stranger sends is no matter for the terminal


def free_socket(port: int) -> socket.socket:
    """Listening on this machine alone; on another port where that one is in use, or may not be had."""
    with suppress(OSError):
        return socket.create_server((LOOPBACK, port))
    return socket.create_server((LOOPBACK, 0))


class Fitting:
    """One design, served."""

    def __init__(self, path: Path, folder: Path, port: int = 0) -> None:
        """folder: of the results that are made from the page."""
        self.path, self.folder = path, folder
        self.listening = free_socket(port)
        self.gate = Gate(self.listening.getsockname()[1])
        self.shelf = Shelf(f"/{self.gate.secret}")
        self.tabs: set[Tab] = set()
        self.early: Helper | None = None  # for the first page, begun before anybody opens it
        self.said: list[bytes] = []  # by that

    async def run(self, ready: Callable[[], object], stop: asyncio.Event) -> None:
        """Serves until it is told to stop; ready: called once it listens."""
        async with serve(
            self.tab, sock=self.listening, process_request=self.answer, max_size=LARGEST_MESSAGE,
            compression=None, server_header=None, logger=SILENT, close_timeout=1,
        ):  # fmt: skip
            watching = asyncio.create_task(watch(self.path, self.touched))
            ready()
            self.early = Helper(follow, (str(self.path), False), self.said.append, self.take_early)
            await stop.wait()
            watching.cancel()
            if self.early is not None:
                await asyncio.to_thread(self.early.end)

    def touched(self) -> None:
        for tab in self.tabs:
            tab.look()
        if self.early is not None:
            self.early.say(LOOK)

    def take_early(self) -> Helper | None:
        early, self.early = self.early, None
        return early

    async def tab(self, connection: ServerConnection) -> None:
        early = self.take_early()
        tab = Tab(connection, self.path, self.folder, self.shelf, early, self.said if early else ())
        self.tabs.add(tab)
        try:
            await tab.serve()
        finally:
            self.tabs.discard(tab)

    def answer(self, _connection: ServerConnection, request: Request) -> Response | None:
        """The answer to a request; None where a websocket may be opened."""
        headers: dict[str, list[str]] = {}
        for name, value in request.headers.raw_items():
            headers.setdefault(name.lower(), []).append(value)
        refused = self.gate.refusal(getattr(request, "method", "GET"), request.path, headers)
        if refused is not None:
            return response(refused.status, f"{refused.why}\n".encode())
        asked = self.gate.rest_of(request.path)
        if asked == SOCKET:
            return None
        if asked == "":
            page = live_page(f"ws://{headers['host'][0].lower()}/{self.gate.secret}/{SOCKET}")
            return response(HTTPStatus.OK, page, "text/html; charset=utf-8")
        if asked is not None and (found := self.shelf.at(asked)) is not None:
            return response(HTTPStatus.OK, found.data, found.kind, {"Content-Disposition": found.disposition})
        return response(HTTPStatus.NOT_FOUND, b"there is nothing here\n")


def response(
    status: HTTPStatus,
    body: bytes,
    kind: str = "text/plain; charset=utf-8",
    more: Mapping[str, str] = NOTHING,
) -> Response:
    headers = {"Content-Type": kind, "Content-Length": str(len(body)), **CAREFUL, **more}
    return Response(status.value, status.phrase, Headers(headers), body)

"""One open page: what it sends up goes to the process that follows its hand, what comes down goes to it."""

from __future__ import annotations

import asyncio
import json
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from websockets.asyncio.server import ServerConnection
from websockets.exceptions import ConnectionClosed

from cage3d.live.foreteller import foretell
from cage3d.live.hand import follow
from cage3d.live.helper import Helper
from cage3d.live.line import FRAME, RESTED, TEXT
from cage3d.live.messages import Ask, MalformedError, Move, message_in

MOST_RESTARTS = 3  # of a process that was ended from outside, for want of memory perhaps


class Tab:
    """From the opening of a page to its closing."""

    def __init__(self, socket: ServerConnection, path: Path) -> None:
        self.socket, self.path = socket, path
        self.down: asyncio.Queue[str | bytes] = asyncio.Queue()
        self.restarts = 0
        self.newest = 0  # seq of the newest move
        self.foreteller: Helper | None = None
        self.hand = self.begin_hand(keep=False)

    def begin_hand(self, keep: bool) -> Helper:
        return Helper(follow, (str(self.path), keep), self.heard, self.hand_ended)

    async def serve(self) -> None:
        """Until the page is closed; its processes are gone then."""
        sending = asyncio.create_task(self.send())
        try:
            async for data in self.socket:
                self.take(data)
        except ConnectionClosed:
            pass
        finally:
            sending.cancel()
            helpers = [one for one in (self.hand, self.foreteller) if one is not None]
            await asyncio.gather(*(asyncio.to_thread(one.end) for one in helpers))

    async def send(self) -> None:
        try:
            while True:
                await self.socket.send(await self.down.get())
        except ConnectionClosed:
            return

    def tell(self, told: Mapping[str, Any]) -> None:
        self.down.put_nowait(json.dumps(told, ensure_ascii=False, separators=(",", ":")))

    def take(self, data: str | bytes) -> None:
        """What came up; what is no message is answered, and nothing comes of it."""
        try:
            message = message_in(data)
        except MalformedError as fault:
            self.tell({"kind": "failed", "text": f"This is no message: {fault}."})
            return
        if isinstance(message, Move):
            self.newest = message.seq
            self.hand.say(vars(message))
        else:
            self.do(message)

    def do(self, ask: Ask) -> None:
        self.tell({"kind": "failed", "id": ask.id, "text": f"There is nothing here that is called {ask.do}."})

    def heard(self, data: bytes) -> None:
        kind, rest = data[:1], data[1:]
        if kind == FRAME:
            self.down.put_nowait(rest)
        elif kind == TEXT:
            self.down.put_nowait(rest.decode())
        elif kind == RESTED:
            self.ask_foreteller(json.loads(rest))

    def ask_foreteller(self, rested: Mapping[str, Any]) -> None:
        if self.foreteller is None:
            self.foreteller = Helper(foretell, (str(self.path),), self.foretold, self.foreteller_ended)
        self.foreteller.say(rested)

    def foretold(self, data: bytes) -> None:
        """Only what is foretold of the newest move still counts."""
        if json.loads(data[1:])["seq"] >= self.newest:
            self.heard(data)

    def foreteller_ended(self) -> None:
        self.foreteller = None

    def hand_ended(self) -> None:
        self.restarts += 1
        why = "The process that settles was ended from outside, for want of memory perhaps."
        if self.restarts > MOST_RESTARTS:
            self.tell({"kind": "failed", "text": f"{why} Close this page and open it again."})
            return
        self.tell({"kind": "failed", "text": f"{why} It has begun again."})
        self.hand = self.begin_hand(keep=True)

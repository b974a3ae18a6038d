"""One open page: what it sends up goes to the process that follows its hand, what comes down goes to it."""

from __future__ import annotations

import asyncio
import json
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

from websockets.asyncio.server import ServerConnection
from websockets.exceptions import ConnectionClosed

from cage3d.design.faults import printable
from cage3d.live.foreteller import foretell
from cage3d.live.hand import follow
from cage3d.live.helper import Helper
from cage3d.live.job import JOBS, work
from cage3d.live.line import FILE, FRAME, HEAD_ENDS, JOB, RESTED, TEXT
from cage3d.live.messages import Ask, MalformedError, Move, message_in
from cage3d.live.shelf import Shelf

BY_HAND = ("save", "save over", "reload")  # by the process that follows the hand
LOOK = {"do": "look"}
UNDER_WAY = "Something else is still under way: stop that first."
STOPS = ("stop", "aim stop")
MOST_RESTARTS = 3  # of a process that was ended from outside, for want of memory perhaps


class Tab:
    """From the opening of a page to its closing."""

    def __init__(
        self,
        socket: ServerConnection,
        path: Path,
        folder: Path,
        shelf: Shelf,
        hand: Helper | None = None,
        said: Sequence[bytes] = (),
    ) -> None:
        """folder: of results made from here; shelf: of files to fetch; hand: one that has begun, with what it said."""
        self.socket, self.path, self.folder, self.shelf = socket, path, folder, shelf
        self.down: asyncio.Queue[str | bytes] = asyncio.Queue()
        self.restarts = 0
        self.newest = 0  # seq of the newest move
        self.moved_since = False  # what the foreteller was asked about last
        self.foreteller: Helper | None = None
        self.job: Helper | None = None
        self.asked = 0  # id of what the job is to answer
        self.hand = self.begin_hand(keep=False) if hand is None else hand
        if hand is not None:
            hand.on_heard, hand.on_ended = self.heard, self.hand_ended
            for data in said:
                self.heard(data)

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
            self.shelf.clear(self)
            helpers = [one for one in (self.hand, self.foreteller, self.job) if one is not None]
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
            self.newest, self.moved_since = message.seq, True
            self.hand.say(vars(message))
        else:
            self.do(message)

    def do(self, ask: Ask) -> None:
        if ask.do in STOPS:
            self.stop_job(ask.id)
        elif ask.do in JOBS and self.job is not None:
            self.tell(
                {
                    "kind": "failed",
                    "id": ask.id,
                    "text": UNDER_WAY,
                }
            )
        elif ask.do in JOBS or ask.do in BY_HAND:
            self.hand.say({"do": ask.do, "id": ask.id, **ask.more})
        else:
            said = printable(ask.do)
            self.tell(
                {"kind": "failed", "id": ask.id, "text": f"There is nothing here that is called {said}."}
            )

    def look(self) -> None:
        """The file was touched."""
        self.hand.say(LOOK)

    def heard(self, data: bytes) -> None:
        kind, rest = data[:1], data[1:]
        if kind == FRAME:
            self.down.put_nowait(rest)
        elif kind == TEXT:
            self.down.put_nowait(rest.decode())
        elif kind == RESTED:
            self.ask_foreteller(json.loads(rest))
        elif kind == JOB:
            self.begin_job(**json.loads(rest))
        elif kind == FILE:
            head, _, content = rest.partition(HEAD_ENDS)
            told = json.loads(head)
            self.tell(told | {"href": self.shelf.put(self, told["name"], content)})

    def begin_job(self, ask: dict[str, Any], text: str, values: dict[str, str]) -> None:
        if self.job is not None:
            self.tell({"kind": "failed", "id": ask["id"], "text": UNDER_WAY})
            return
        self.asked = ask["id"]
        given = (str(self.path), str(self.folder), ask, text, values)
        self.job = Helper(work, given, self.job_heard, self.job_ended, daemon=False)

    def job_heard(self, data: bytes) -> None:
        """Once it has answered, the next may begin."""
        self.heard(data)
        if data[:1] == FILE or json.loads(data[1:])["kind"] in ("done", "failed"):
            self.put_away_job()

    def stop_job(self, number: int) -> None:
        """Ends it, whatever it does."""
        if self.job is None:
            self.tell({"kind": "failed", "id": number, "text": "Nothing is under way."})
            return
        self.put_away_job()
        self.tell({"kind": "failed", "id": self.asked, "text": "Stopped.", "stopped": True})
        self.tell({"kind": "done", "id": number, "text": "Stopped."})

    def job_ended(self) -> None:
        """Without an answer."""
        self.put_away_job()
        why = "The process that did it was ended from outside, for want of memory perhaps."
        self.tell({"kind": "failed", "id": self.asked, "text": why})

    def put_away_job(self) -> None:
        ended, self.job = self.job, None
        if ended is not None:
            self.ending = asyncio.create_task(asyncio.to_thread(ended.end))

    def ask_foreteller(self, rested: Mapping[str, Any]) -> None:
        if self.foreteller is None:
            self.foreteller = Helper(foretell, (str(self.path),), self.foretold, self.foreteller_ended)
        self.moved_since = False
        self.foreteller.say(rested)

    def foretold(self, data: bytes) -> None:
        """Only what is foretold of the newest move still counts."""
        seq = json.loads(data[1:])["seq"]
        if not self.moved_since and (seq == 0 or seq >= self.newest):
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

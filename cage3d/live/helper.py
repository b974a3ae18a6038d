"""A process that works for a tab, as the server holds it: nothing that it does can keep the server waiting."""

from __future__ import annotations

import asyncio
import multiprocessing
from collections import deque
from collections.abc import Callable, Mapping
from contextlib import suppress
from multiprocessing.connection import Connection
from threading import Condition, Thread
from typing import Any

from cage3d.live.line import as_bytes


class Helper:
    """One process, begun at once. What it says comes to `heard` in the server's loop, then that it `ended`."""

    def __init__(
        self,
        work: Callable[..., None],
        given: tuple[Any, ...],
        heard: Callable[[bytes], object],
        ended: Callable[[], object] = lambda: None,
        daemon: bool = True,
    ) -> None:
        """work(pipe, *given) runs in the process; daemon: it begins no processes of its own."""
        self.loop, self.on_heard, self.on_ended = asyncio.get_running_loop(), heard, ended
        self.unsaid: deque[Mapping[str, Any]] = deque()
        self.changed, self.closed = Condition(), False
        context = multiprocessing.get_context("spawn")
        self.pipe, theirs = context.Pipe()
        self.process = context.Process(target=work, args=(theirs, *given), daemon=daemon)
        self.process.start()
        theirs.close()
        for task in (self.listen, self.speak):
            Thread(target=task, daemon=True).start()

    def say(self, message: Mapping[str, Any]) -> None:
        """Never waits; of moves that it has not heard yet the newest alone is said."""
        with self.changed:
            if "seq" in message and self.unsaid and "seq" in self.unsaid[-1]:
                self.unsaid.pop()
            self.unsaid.append(message)
            self.changed.notify()

    def speak(self) -> None:
        while True:
            with self.changed:
                self.changed.wait_for(lambda: self.unsaid or self.closed)
                if self.closed:
                    return
                message = self.unsaid.popleft()
            with suppress(OSError, ValueError):
                self.pipe.send_bytes(as_bytes(message))

    def listen(self) -> None:
        while (data := received(self.pipe)) is not None:
            self.in_loop(self.deliver, data)
        self.in_loop(self.deliver, None)

    def in_loop(self, what: Callable[..., None], *given: Any) -> None:
        with suppress(RuntimeError):  # the server has ended meanwhile
            self.loop.call_soon_threadsafe(what, *given)

    def deliver(self, data: bytes | None) -> None:
        """In the loop, to whoever listens by then."""
        if not self.closed:
            self.on_ended() if data is None else self.on_heard(data)

    def end(self) -> None:
        """Ends the process at once, whatever it does; nothing is heard of it any more."""
        with self.changed:
            self.closed = True
            self.changed.notify()
        self.process.kill()
        self.process.join()
        self.pipe.close()


def received(pipe: Connection) -> bytes | None:
    """The next message, None where there will be none."""
    try:
        return pipe.recv_bytes()
    except (EOFError, OSError, ValueError):
        return None

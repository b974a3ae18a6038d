"""The line between a process that works for a tab and the server: whole messages, told apart by their first byte."""

from __future__ import annotations

import json
from collections.abc import Mapping
from multiprocessing.connection import Connection
from typing import Any

TEXT, FRAME = b"t", b"b"  # for the page
RESTED, JOB, FILE = b"r", b"j", b"f"  # for the foreteller; for a process of its own; for the shelf
HEAD_ENDS = b"\n"  # between the head of a file, in JSON, and its bytes


class Line:
    """The working end of it."""

    def __init__(self, pipe: Connection) -> None:
        self.pipe = pipe

    def waiting(self, within: float = 0.0) -> bool:
        """Whether something was said that was not heard yet, or comes within so many s."""
        return self.pipe.poll(within)

    def heard(self) -> dict[str, Any]:
        """The next message. Raises EOFError where the server has hung up."""
        told: dict[str, Any] = json.loads(self.pipe.recv_bytes())
        return told

    def say(self, told: Mapping[str, Any]) -> None:
        """To the page."""
        self.pipe.send_bytes(TEXT + as_bytes(told))

    def show(self, frame: bytes) -> None:
        """To the page."""
        self.pipe.send_bytes(FRAME + frame)

    def rested(self, told: Mapping[str, Any]) -> None:
        """To the foreteller: what hangs now, as check would be asked about it."""
        self.pipe.send_bytes(RESTED + as_bytes(told))

    def begin_job(self, told: Mapping[str, Any]) -> None:
        """What takes longer, with the design and the values that it is to be done with."""
        self.pipe.send_bytes(JOB + as_bytes(told))

    def hand_over(self, head: Mapping[str, Any], data: bytes) -> None:
        """A file for the shelf; the head is what the page is then told, with the address added."""
        self.pipe.send_bytes(FILE + as_bytes(head) + HEAD_ENDS + data)


def as_bytes(told: Mapping[str, Any]) -> bytes:
    return json.dumps(told, ensure_ascii=False, separators=(",", ":"), allow_nan=False).encode()

"""Who is let in: browsers of this machine that were given the address, and no page of another site through them."""

from __future__ import annotations

import secrets
from collections.abc import Mapping
from dataclasses import dataclass, field
from http import HTTPStatus

LOOPBACK = "127.0.0.1"
SECRET_BYTES = 24  # 192 bits: nobody guesses them
LARGEST_MESSAGE = 64 * 1024  # bytes; all values of a design of forty hoops on thirty tapes take half of it
SOCKET = "live"  # the last part of the websocket's address


@dataclass(frozen=True)
class Refusal:
    """Why a request is turned away: a status of HTTP, and a word for who reads it."""

    status: HTTPStatus
    why: str


@dataclass(frozen=True)
class Gate:
    """The door of one server. port: on which it listens; secret: what the address holds and nobody else knows."""

    port: int
    secret: str = field(default_factory=lambda: secrets.token_urlsafe(SECRET_BYTES))

    @property
    def hosts(self) -> tuple[str, ...]:
        """What a browser of this machine calls the server."""
        return f"{LOOPBACK}:{self.port}", f"localhost:{self.port}"

    @property
    def origins(self) -> tuple[str, ...]:
        return tuple(f"http://{host}" for host in self.hosts)

    @property
    def address(self) -> str:
        """Of the page."""
        return f"http://{LOOPBACK}:{self.port}/{self.secret}/"

    def refusal(self, method: str, path: str, headers: Mapping[str, list[str]]) -> Refusal | None:
        """Why a request may not come in; None where it may.

        headers: all values by their names in small letters. A name of another host is how a foreign site reaches this
        machine (rebinding), a foreign or hidden origin is how its scripts do. A page that is opened by its address has
        no origin; a websocket always has one.
        """
        host, origin = headers.get("host", []), headers.get("origin", [])
        if len(host) != 1 or host[0].lower() not in self.hosts:
            return Refusal(HTTPStatus.MISDIRECTED_REQUEST, "this server answers to its own address alone")
        socket = "websocket" in ",".join(headers.get("upgrade", [])).lower() or self.asks_for_socket(path)
        if (origin or socket) and (len(origin) != 1 or origin[0].lower() not in self.origins):
            return Refusal(HTTPStatus.FORBIDDEN, "another page asked for this")
        if self.rest_of(path) is None:
            return Refusal(HTTPStatus.FORBIDDEN, "this is not the address that was given")
        if method != "GET":
            return Refusal(HTTPStatus.METHOD_NOT_ALLOWED, "nothing can be sent here")
        return None

    def rest_of(self, path: str) -> str | None:
        """What follows the secret in a path, None where that is not in it; compared in a time that tells nothing."""
        begin, _, rest = path.partition("?")[0].removeprefix("/").partition("/")
        return rest if secrets.compare_digest(begin.encode(), self.secret.encode()) else None

    def asks_for_socket(self, path: str) -> bool:
        return path.partition("?")[0].endswith(f"/{SOCKET}")

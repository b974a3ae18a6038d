"""cage3d fitting: the design on a page of this machine, where lengths are moved while she looks."""

from __future__ import annotations

import asyncio
import signal
import sys
import webbrowser
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from threading import Thread
from typing import TYPE_CHECKING, Annotated, Any

import typer

from .options import File, Into, folder_for
from .telling import say

if TYPE_CHECKING:
    from cage3d.live.serving import Fitting


def fitting(
    file: File,
    into: Into = None,
    browser: Annotated[
        bool,
        typer.Option(
            "--browser/--no-browser",
            help="Open the page. Without, its address is printed, the only line on stdout.",
        ),
    ] = True,
    port: Annotated[
        int,
        typer.Option(min=0, max=65535, metavar="N", help="Where it listens; another where that is in use. 0: any."),
    ] = 0,
) -> None:  # fmt: skip
    """Fit the design on a page of this machine: move lengths, drops and ties, and watch how the cage hangs.

    Nothing leaves this machine, and nothing is written before it is saved there. Ctrl-C ends it.
    """
    from cage3d.live.serving import Fitting

    refuse_what_is_no_text(file)
    served = Fitting(file, folder_for(file, into, force=False).path, port)
    if port not in (0, served.gate.port):
        say(f"cage3d: port {port} is in use, so it is {served.gate.port}", sys.stderr)
    asyncio.run(serve_until_stopped(served, browser))


def refuse_what_is_no_text(file: Path) -> None:
    """A name that is none. A design's faults are told on the page, until they are mended."""
    from cage3d.design.text_files import text_of

    text_of(file)


async def serve_until_stopped(served: Fitting, browser: bool) -> None:
    stop = asyncio.Event()

    def ready() -> None:
        if browser:
            Thread(target=open_page, args=(served.gate.address,), daemon=True).start()
        else:
            say(served.gate.address)
            sys.stdout.flush()
        say("cage3d: Ctrl-C ends the fitting", sys.stderr)

    with told_to_stop(asyncio.get_running_loop(), stop):
        await served.run(ready, stop)


def open_page(address: str) -> None:
    """In the browser; where there is none, its address is said."""
    if not webbrowser.open(address):
        say(address)
        sys.stdout.flush()


@contextmanager
def told_to_stop(loop: asyncio.AbstractEventLoop, stop: asyncio.Event) -> Iterator[None]:
    """While this lasts Ctrl-C, or the end of the session, only tells the server to stop."""

    def told(*_: Any) -> None:
        loop.call_soon_threadsafe(stop.set)

    before = {kind: signal.signal(kind, told) for kind in (signal.SIGINT, signal.SIGTERM)}
    try:
        yield
    finally:
        for kind, handler in before.items():
            signal.signal(kind, handler)

"""The command `cage3d`: every fault told in plain words, Ctrl-C obeyed from the first moment.

Nothing that takes time to load is imported before Ctrl-C has been made quiet.
"""

from __future__ import annotations

import signal
import sys

from .ending import STOPPED, Stopped, Unprinted, checked_streams, end_quietly, forget_unprinted, stopping


def main() -> None:
    """Runs the command line; ends the process with its exit status and never with a traceback."""
    before = signal.signal(signal.SIGINT, end_quietly)
    try:
        status = status_at_end()
        forget_unprinted()
    finally:
        signal.signal(signal.SIGINT, end_quietly if __name__ == "__main__" else before)
    sys.exit(status)


def status_at_end() -> int:
    from .commands import answered
    from .telling import tell_unprinted

    for stream in (sys.stdout, sys.stderr):
        # A terminal that lacks a sign gets a question mark instead of an error.
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="replace")
    try:
        with stopping(), checked_streams():
            return answered()
    except Stopped:
        return STOPPED
    except Unprinted as fault:
        tell_unprinted(fault)
        return 1


if __name__ == "__main__":
    main()

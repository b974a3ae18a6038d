"""What `--json` prints: one JSON text on stdout, whatever happens."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager
from typing import Any

from cage3d.errors import CageError, Problem

from .ending import Unprinted
from .telling import PLEASE_REPORT, what_happened


def print_json(data: Mapping[str, Any]) -> None:
    """In plain ASCII, so that no name can steer a terminal. Raises ValueError for what is no number."""
    print(json.dumps(data, indent=1, allow_nan=False))


@contextmanager
def faults_as_json(wanted: bool) -> Iterator[None]:
    """Problems go to stdout as JSON too, where that is wanted; they are raised on, to be told in words."""
    try:
        yield
    except Unprinted:
        raise
    except CageError as fault:
        if wanted:
            print_problems(fault.problems)
        raise
    except Exception as fault:
        if wanted:
            print_problems([Problem("cage3d", "", what_happened(fault), PLEASE_REPORT)])
        raise


def print_problems(problems: Iterable[Problem]) -> None:
    from cage3d.report.as_json import problems_json

    print_json(problems_json(problems))

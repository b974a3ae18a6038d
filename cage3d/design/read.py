"""From a file to a Design: every fault at once, each with its line and column."""

from __future__ import annotations

import os
import stat
from collections.abc import Iterable
from itertools import islice
from pathlib import Path
from typing import Any

from pydantic import ValidationError

from cage3d.design import rules
from cage3d.design.faults import NO_SUCH_KEY, located, place_of, printable, problems_of, without_tags
from cage3d.design.models import Design
from cage3d.design.tree import Place, parse, repeated_keys
from cage3d.errors import DesignError, Problem
from cage3d.units import unit_name

LARGEST_FILE = 1_000_000  # bytes; a design with every drop written out has some 20,000
MOST_TOLD = 200  # faults told at once; nobody mends more before reading again


def read(path: str | Path) -> Design:
    """The design in a file, in SI units. Raises DesignError with every Problem found."""
    return read_as_written(path)[0]


def read_as_written(path: str | Path) -> tuple[Design, dict[str, Any]]:
    """The design, and the same as plain dicts and lists of texts as they were written. Raises DesignError."""
    return text_as_written(_text_of(Path(path)), str(path))


def read_text(text: str, name: str = "design") -> Design:
    """The design in a YAML text; `name` stands for the file in messages. Raises DesignError."""
    return text_as_written(text, name)[0]


def text_as_written(text: str, name: str) -> tuple[Design, dict[str, Any]]:
    """As `read_as_written`, of a YAML text."""
    root = parse(text, name)
    if root.kind != "mapping":
        raise DesignError(
            Problem(
                name,
                "",
                "the file is not a list of keys and values",
                "Write lines such as name: Short petticoat, with a blank after the :",
                root.line,
                root.column,
            )
        )
    problems = _first(repeated_keys(root, name))
    data: dict[str, Any] = root.data()
    design, faults = _validated(data)
    problems += [located(fault, root, name, of_key=fault.why == NO_SUCH_KEY) for fault in faults]
    _raise_in_order(problems)
    assert design is not None
    return design, data


def _first(problems: Iterable[Problem]) -> list[Problem]:
    """As many as are told, and one more where there are more."""
    return list(islice(problems, MOST_TOLD + 1))


def read_data(data: dict[str, Any], units: str | None = None) -> Design:
    """The design in a dict as YAML would give it; `units` where the dict does not say them.

    Raises DesignError whose problems name the part of the design instead of a line.
    """
    design, faults = _validated(({"units": units} if units else {}) | data)
    _raise_in_order(faults)
    assert design is not None
    return design


def _validated(data: dict[str, Any]) -> tuple[Design | None, list[Problem]]:
    """The design, and what is wrong with it (places as parts of the design)."""
    written = data.get("units")
    # A wrong word for the units is one fault, and not one more for every bare number.
    known = None if written is None else unit_name(str(written)) or "in"
    try:
        design = Design.model_validate(data, context={"units": known})
    except ValidationError as error:
        errors = error.errors(include_url=False)
        further = _further(data, known, errors) if len(errors) <= MOST_TOLD else []
        return None, [*_first(problems_of(errors)), *further]
    return design, _first(rules.problems(design))


def _further(data: dict[str, Any], units: str | None, errors: list[Any]) -> list[Problem]:
    """What the rules say of a design with faulty values, once those that may be left out are left out."""
    places = [without_tags(error["loc"]) for error in errors]
    try:
        design = Design.model_validate(_leaving_out(data, places), context={"units": units})
    except ValidationError:
        return []
    known_keys = [
        place for place, error in zip(places, errors, strict=True) if error["type"] != "extra_forbidden"
    ]
    # Beside a value that was left out a rule would judge the default in its place.
    beside = {place[:-1] for place in known_keys}
    found = _first(rules.problems(design))
    return [
        one for one in found if not any(place_of(one.where)[: len(part)] == part for part in beside if part)
    ]


def _leaving_out(data: Any, places: list[Place]) -> Any:
    """A copy of the data without the keys at these places; items of lists stay."""
    if isinstance(data, list):
        return [_leaving_out(item, [p[1:] for p in places if p[:1] == (n,)]) for n, item in enumerate(data)]
    if not isinstance(data, dict):
        return data
    left_out = {place[0] for place in places if len(place) == 1}
    return {
        key: _leaving_out(item, [p[1:] for p in places if p[:1] == (key,)])
        for key, item in data.items()
        if key not in left_out
    }


def _raise_in_order(problems: list[Problem]) -> None:
    once = list(dict.fromkeys(problems))
    if not once:
        return
    told = sorted(once, key=lambda problem: (problem.line or 0, problem.column or 0))[:MOST_TOLD]
    if len(once) > MOST_TOLD:
        last, why = told[-1], f"there are more faults than these {MOST_TOLD}"
        told.append(Problem(last.where, "", why, "Mend these, then look again", last.line, last.column))
    raise DesignError(told)


def _bytes_of(file: Path) -> bytes:
    """At most LARGEST_FILE bytes and one more. Raises OSError, also for what is no plain file."""
    # A pipe without a writer would keep a plain open() waiting for ever.
    handle = os.open(file, os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0))
    with os.fdopen(handle, "rb") as stream:
        if not stat.S_ISREG(os.fstat(handle).st_mode):
            raise OSError(0, "it is a device or a pipe, and no plain file")
        return stream.read(LARGEST_FILE + 1)


def _text_of(file: Path) -> str:
    """The text of a file. Raises DesignError where it is missing, too large or no text."""

    def refuse(why: str, try_this: str) -> DesignError:
        return DesignError(Problem(printable(str(file), 300), "", why, try_this))

    try:
        if file.is_dir():
            raise refuse(
                "this is a folder, and a design is a file", "Name the file in it, such as petticoat.yaml"
            )
        data = _bytes_of(file)
    except FileNotFoundError:
        raise refuse(
            "there is no such file", "Check the name, or begin a design with: cage3d new FILE"
        ) from None
    except PermissionError:
        raise refuse("this file may not be read by you", "Ask its owner for leave to read it") from None
    except (OSError, ValueError) as fault:
        reason = getattr(fault, "strerror", None) or "the name is not one a file can have"
        raise refuse(f"the file cannot be read ({reason})", "Name a design, such as petticoat.yaml") from None
    if len(data) > LARGEST_FILE:
        raise refuse("the file is larger than 1 MB, and no design is", "Name the design's own file")
    if b"\0" in data:
        raise refuse("this is not a text file", "Name the design, a text file such as petticoat.yaml")
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as fault:
        line = data.count(b"\n", 0, fault.start) + 1
        raise DesignError(
            Problem(str(file), "", "the file is not UTF-8 text", "Save it as UTF-8 in your editor", line)
        ) from None

"""From a file to a Design: every fault at once, each with its line and column."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import islice
from pathlib import Path
from typing import Any

from pydantic import ValidationError

from cage3d.design import rules
from cage3d.design.commas import decimal_commas
from cage3d.design.faults import located, place_of, problems_of, without_tags
from cage3d.design.keys import NO_SUCH_KEY
from cage3d.design.mending import lookalike_lines, mended
from cage3d.design.models import Design
from cage3d.design.node import Node, Place, repeated_keys
from cage3d.design.slips import slips_near
from cage3d.design.text_files import text_of
from cage3d.design.tree import parse
from cage3d.errors import DesignError, Problem
from cage3d.units import unit_name

MOST_TOLD = 200  # faults told at once; nobody mends more before reading again


def read(path: str | Path) -> Design:
    """The design in a file, in SI units. Raises DesignError with every Problem found."""
    return read_as_written(path)[0]


def read_as_written(path: str | Path) -> tuple[Design, dict[str, Any]]:
    """The design, and the same as plain dicts and lists of texts as they were written. Raises DesignError."""
    return text_as_written(text_of(Path(path)), str(path))


def read_text(text: str, name: str = "design") -> Design:
    """The design in a YAML text; `name` stands for the file in messages. Raises DesignError."""
    return text_as_written(text, name)[0]


def text_as_written(text: str, name: str) -> tuple[Design, dict[str, Any]]:
    """As `read_as_written`, of a YAML text."""
    root = tree_of(text, name)
    if root.kind != "mapping":
        raise DesignError(
            slips_near(text, root.line, name)
            or Problem(
                name,
                "",
                "the file is not a list of keys and values",
                "Write lines such as name: Short petticoat, with a blank after the :",
                root.line,
                root.column,
            )
        )
    problems = first(repeated_keys(root, name))
    problems += [*mended(root, name), *decimal_commas(root, name)]
    data: dict[str, Any] = root.data()
    design, faults = validated(data)
    problems += [located(fault, root, name, of_key=fault.why.startswith(NO_SUCH_KEY)) for fault in faults]
    raise_in_order(problems)
    assert design is not None
    return design, data


def tree_of(text: str, name: str) -> Node:
    """The tree of the text. Raises DesignError with the slips that broke it, or else with what YAML says."""
    try:
        root = parse(text, name)
    except DesignError as fault:
        line = fault.problems[0].line
        if line and (slips := slips_near(text, line, name)):
            raise DesignError(slips) from None
        raise
    if lookalikes := lookalike_lines(root, text.splitlines(), name):
        raise DesignError(lookalikes)
    return root


def first(problems: Iterable[Problem]) -> list[Problem]:
    """As many as are told, and one more where there are more."""
    return list(islice(problems, MOST_TOLD + 1))


def read_data(data: dict[str, Any], units: str | None = None) -> Design:
    """The design in a dict as YAML would give it; `units` where the dict does not say them.

    Raises DesignError whose problems name the part of the design instead of a line.
    """
    design, faults = validated(({"units": units} if units else {}) | data)
    raise_in_order(faults)
    assert design is not None
    return design


def validated(data: dict[str, Any]) -> tuple[Design | None, list[Problem]]:
    """The design, and what is wrong with it (places as parts of the design)."""
    written = data.get("units")
    # A wrong word for the units is one fault, and not one more for every bare number.
    known = None if written is None else unit_name(str(written)) or "in"
    try:
        design = Design.model_validate(data, context={"units": known})
    except ValidationError as error:
        errors = error.errors(include_url=False)
        further = further_problems(data, known, errors) if len(errors) <= MOST_TOLD else []
        return None, [*first(problems_of(errors)), *further]
    return design, first(rules.problems(design))


def further_problems(data: dict[str, Any], units: str | None, errors: list[Any]) -> list[Problem]:
    """What the rules say of a design with faulty values, once those that may be left out are left out."""
    places = [without_tags(error["loc"]) for error in errors]
    if any(place[-1] == "beside" for place in places):
        return []  # which hoops hang from which tapes is not known
    try:
        design = Design.model_validate(leaving_out(data, places), context={"units": units})
    except ValidationError:
        return []
    known_keys = [
        place for place, error in zip(places, errors, strict=True) if error["type"] != "extra_forbidden"
    ]
    # Beside a value that was left out a rule would judge the default in its place.
    beside = {place[:-1] for place in known_keys}
    found = first(rules.problems(design))
    return [
        one for one in found if not any(place_of(one.where)[: len(part)] == part for part in beside if part)
    ]


def leaving_out(data: Any, places: list[Place]) -> Any:
    """A copy of the data without the keys at these places; items of lists stay."""
    if isinstance(data, list):
        return [leaving_out(item, [p[1:] for p in places if p[:1] == (n,)]) for n, item in enumerate(data)]
    if not isinstance(data, dict):
        return data
    left_out = {place[0] for place in places if len(place) == 1}
    return {
        key: leaving_out(item, [p[1:] for p in places if p[:1] == (key,)])
        for key, item in data.items()
        if key not in left_out
    }


def raise_in_order(problems: list[Problem]) -> None:
    once = list(dict.fromkeys(problems))
    if not once:
        return
    told = sorted(once, key=lambda problem: (problem.line or 0, problem.column or 0))[:MOST_TOLD]
    if len(once) > MOST_TOLD:
        last, why = told[-1], f"there are more faults than these {MOST_TOLD}"
        told.append(Problem(last.where, "", why, "Mend these, then look again", last.line, last.column))
    raise DesignError(told)

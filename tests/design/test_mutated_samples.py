"""Every sample with keys left out, doubled, exchanged or of another kind reads, or is told in plain words."""

from __future__ import annotations

import copy
import json
import random
import re
from typing import Any

import pytest
from ruamel.yaml import YAML
from settled import SAMPLES

from cage3d.design import rules
from cage3d.design.read import read_text
from cage3d.errors import DesignError

FEW = 25  # of each sample
OF_ANOTHER_KIND = (
    -1, -5.5, float("nan"), float("inf"), 1e9, 0, "none", "word", True, None, [], [1, 2, 3], {}, {"a": 1}, "", "100 ft",
    "-3 in", "150 %", "1e-9", "7 1/0", "3 kg", "0.5 mm", "hoop 99 tape 99", "behind",
)  # fmt: skip
LIBRARY = r"[Ii]nput should|validator|pydantic|Error\b|NoneType|<class|object at 0x"
Place = tuple[str | int, ...]


def places(data: Any, above: Place = ()) -> list[Place]:
    steps: Any = data.items() if isinstance(data, dict) else enumerate(data) if isinstance(data, list) else ()
    return [place for key, item in steps for place in [(*above, key), *places(item, (*above, key))]]


def at(data: Any, place: Place) -> Any:
    for step in place:
        data = data[step]
    return data


def mutated(lot: random.Random, data: Any) -> Any:
    """A copy of the data with one thing done to it."""
    data = copy.deepcopy(data)
    place, other = lot.choice(places(data)), lot.choice(places(data))
    holder, key = at(data, place[:-1]), place[-1]
    done = lot.choice(("left out", "other kind", "other kind", "exchanged", "more", "larger"))
    if done == "left out":
        del holder[key]
    elif done == "exchanged" and place[: len(other)] != other and other[: len(place)] != place:
        theirs = at(data, other[:-1])
        holder[key], theirs[other[-1]] = theirs[other[-1]], holder[key]
    elif done == "more" and isinstance(holder, list):
        holder.append(copy.deepcopy(holder[key]))  # type: ignore[index]
    elif done == "more":
        holder["lenght"] = 5
    elif done == "larger" and isinstance(holder[key], (int, float)):
        holder[key] *= lot.choice((0.01, 0.3, 1.25, 4, 100))
    else:
        holder[key] = lot.choice(OF_ANOTHER_KIND)
    return data


def as_text(data: Any) -> str:
    """As YAML: JSON with YAML's words for what is no number."""
    return re.sub(r"\bNaN\b", ".nan", re.sub(r"\bInfinity\b", ".inf", json.dumps(data, ensure_ascii=False)))


@pytest.mark.parametrize("sample", SAMPLES, ids=[path.stem[0] for path in SAMPLES])
def test_a_sample_with_something_wrong_is_told_in_plain_words(sample: Any) -> None:
    data = YAML(typ="safe", pure=True).load(sample.read_text("utf-8"))
    refused = 0
    for seed in range(FEW):
        text = as_text(mutated(random.Random(f"{sample.stem} {seed}"), data))
        try:
            rules.remarks(read_text(text, "x.yaml"))
        except DesignError as fault:
            refused += 1
            for problem in fault.problems:
                assert problem.where == "x.yaml", (seed, str(problem))
                assert problem.line == 1, (seed, str(problem))
                assert problem.why, (seed, str(problem))
                assert problem.try_this, (seed, str(problem))
                assert not re.search(LIBRARY, str(problem)), (seed, str(problem))
    assert FEW / 2 < refused < FEW

"""The published schema says what may be written, and nothing in it is without a meaning."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from ruamel.yaml import YAML
from settled import SAMPLES

from cage3d.design.key_words import MEANINGS
from cage3d.design.keys import keys_at
from cage3d.design.models import Design
from cage3d.design.schema import schema


def sample(path: Path = SAMPLES[0]) -> Any:
    return json.loads(json.dumps(YAML(typ="safe", pure=True).load(path.read_text("utf-8"))))


def check(design: Any) -> None:
    jsonschema.Draft202012Validator(schema()).validate(design)


def test_the_schema_is_one() -> None:
    jsonschema.Draft202012Validator.check_schema(schema())


@pytest.mark.parametrize("path", SAMPLES, ids=[path.stem for path in SAMPLES])
def test_samples_conform(path: Path) -> None:
    check(sample(path))


@pytest.mark.parametrize(
    ("key", "value"),
    [
        ("tapes", {"count": 0, "drops": [8]}),
        ("hoops", [{"length": -48}]),
        ("hoops", [{"length": 48, "opening": "side"}]),
        ("hoops", [{"length": "long"}]),
        ("colour", "red"),
        ("name", ""),
        ("skirt", {"weight": 3}),
    ],
)
def test_wrong_designs_do_not(key: str, value: object) -> None:
    with pytest.raises(jsonschema.ValidationError):
        check(sample() | {key: value})


def test_every_key_has_a_meaning() -> None:
    made = schema()
    for part in [made, *made["$defs"].values()]:
        assert part["additionalProperties"] is False
        for value in part["properties"].values():
            assert value["description"]
    written = {name: set(part["properties"]) for name, part in {"Design": made, **made["$defs"]}.items()}
    assert {name: set(keys) for name, keys in MEANINGS.items()} == written


def test_no_default_in_other_units() -> None:
    assert '"default": 0' not in json.dumps(schema())


def test_keys_of_every_part_are_known() -> None:
    assert "drops" in keys_at(("tapes",))
    assert keys_at(("ties", 0)) == ["from", "to", "length", "name", "runs"]
    assert "tube" in keys_at(("hoops", 3, "join"))
    assert "front" in keys_at(("wearer", "waist_height"))
    assert keys_at(()) == list(Design.model_fields)


def test_the_published_file_is_of_these_models() -> None:
    """samples/design.schema.json; other versions of pydantic may order it otherwise, so keys are compared."""
    published = json.loads((SAMPLES[0].parent / "design.schema.json").read_text(encoding="utf-8"))
    made = schema()
    assert published["properties"].keys() == made["properties"].keys()
    assert {name: set(part.get("properties", {})) for name, part in published["$defs"].items()} == {
        name: set(part.get("properties", {})) for name, part in made["$defs"].items()
    }
    jsonschema.Draft202012Validator.check_schema(published)

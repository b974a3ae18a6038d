"""JSON Schema of the written design, so that editors complete and check it."""

from __future__ import annotations

import json
from typing import Any

from cage3d.design.key_words import MEANINGS
from cage3d.design.models import Design

DRAFT = "https://json-schema.org/draft/2020-12/schema"
TITLE = "A cage petticoat"
FILE = "design.schema.json"  # its name beside a design
FOR_EDITORS = f"# yaml-language-server: $schema={FILE}\n"  # the line by which editors find it


def schema() -> dict[str, Any]:
    """JSON Schema (2020-12) of what a maker may write: lengths as numbers or as text with their unit."""
    made = Design.model_json_schema(by_alias=True, mode="validation")
    for name, part in {"Design": made, **made["$defs"]}.items():
        part.pop("description", None)  # the models' own words speak of metres
        for key, value in part.get("properties", {}).items():
            value["description"] = MEANINGS[name][key]
    without_defaults(made)
    either(made, "tapes", "cloth")
    either(made["$defs"]["Panel"], "tapes", "seams")
    return {
        "$schema": DRAFT,
        **made,
        "title": TITLE,
        "description": "A written design for cage3d",
    }


def either(part: dict[str, Any], key: str, other: str) -> None:
    """One of two keys must be written: the models fill the first from the second."""
    part["required"] = [name for name in part["required"] if name != key]
    part["anyOf"] = [{"required": [key]}, {"required": [other]}]


def schema_text() -> str:
    """The schema as the JSON file that lies beside designs."""
    return json.dumps(schema(), indent=1, ensure_ascii=False) + "\n"


def is_schema(text: str) -> bool:
    """Whether a file is such a schema, of this version or another."""
    try:
        made = json.loads(text)
    except ValueError:
        return False
    return isinstance(made, dict) and made.get("title") == TITLE


def without_defaults(part: Any) -> None:
    """Defaults are in SI inside, and would read as the design's units."""
    if isinstance(part, dict):
        if not isinstance(part.get("default"), (str, bool)):
            part.pop("default", None)
        for value in part.values():
            without_defaults(value)
    elif isinstance(part, list):
        for value in part:
            without_defaults(value)

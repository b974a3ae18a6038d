"""Plain data as YAML writes it within a line."""

from __future__ import annotations

import json
from typing import Any

from ruamel.yaml import YAML
from ruamel.yaml.error import YAMLError

from cage3d.design.tree import NOTHING


def flow_text(value: Any, column: int = 0) -> str:
    """Lists in [ ] and groups in { }; keys without a value are left out.

    A list of lists has a line for each, which begins `column` blanks from the left.
    """
    if isinstance(value, dict):
        pairs = [(key, item) for key, item in value.items() if item is not None]
        return "{" + ", ".join(f"{scalar_text(key)}: {flow_text(item)}" for key, item in pairs) + "}"
    if isinstance(value, list):
        many = len(value) > 1 and all(isinstance(item, list) for item in value)
        between = ",\n" + " " * (column + 1) if many else ", "
        return "[" + between.join(flow_text(item, column + 1) for item in value) + "]"
    return scalar_text(value)


def scalar_text(value: Any, quote: str = "") -> str:
    """One value: in the quotes it had, and else in quotes only where YAML would read it otherwise."""
    if value is None:
        return "null"
    text = str(value)
    if quote == "'" and text.isprintable():
        return "'" + text.replace("'", "''") + "'"
    if quote == '"' or not plain(text):
        return json.dumps(text, ensure_ascii=False)
    return text


def plain(text: str) -> bool:
    """Whether a text stands for itself within a line of YAML."""
    if text in NOTHING or text != text.strip() or not text.isprintable():
        return False
    try:
        events = list(YAML(typ="safe", pure=True).parse(f"[{text}, {{k: {text}}}]"))
    except YAMLError:
        return False
    values = [getattr(event, "value", None) for event in events if hasattr(event, "value")]
    return values == [text, "k", text]

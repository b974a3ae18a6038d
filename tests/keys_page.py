"""The page of all keys of a design, and the schema for editors, both written from the models.

    python tests/keys_page.py

writes docs/keys.md and samples/design.schema.json; tests/test_keys_page.py compares.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

from readme import ROOT

from cage3d import units
from cage3d.design import models
from cage3d.design.forms import Written
from cage3d.design.key_words import MEANINGS
from cage3d.design.schema import schema_text
from cage3d.steady import fixed

PAGE, SCHEMA = ROOT / "docs" / "keys.md", ROOT / "samples" / "design.schema.json"
HEAD = """\
# Every key of a design

A design is a text file. Each line is a key, a colon, a blank and a value; what belongs to a key is indented below it
with the space bar, or stands in brackets: `{key: value, key: value}` for a group of keys, `[one, two]` for a list. A
list may stand in lines of its own too, each beginning with `- `. What follows a `#` is a remark.

Numbers are written as makers write them: `7 1/2`, `7½`, `7.5`, `1' 6"`. A bare number is in the `units` of the design;
any number may carry its own: `in`, `ft`, `yd`, `mm`, `cm` or `m`, and weights `g`, `kg`, `oz` or `lb` (`1 lb 12 oz`).
A weight always carries its unit. A share is `10 %` or `0.1`. A number has a point and no comma: `7.5 cm`.

Of all keys, `name`, `wearer` (with `waist` and `waist_height`), `steel` (with `width` and `thickness`), `tapes` (with
`count` and `drops`; or `cloth` in their place, with `gores`, `levels` and `fabric`) and `hoops` (each with its
`length`) must be written. What is taken where the others are left out stands beside them, and is common practice unless
said otherwise.

This page is written from the models of the program by `python tests/keys_page.py`.
"""
# One example for each key at the top, in the order of the models; the tests read every one.
EXAMPLES = {
    "wearer": "wearer:\n  waist: 26\n  waist_height: {front: 41 1/4, left: 41 1/2, back: 41 3/4, right: 41 1/2}\n"
    "  hip: 39\n  hip_drop: 8\n",
    "waistband": "waistband: {depth: 1, overlap: 6}\n",
    "steel": "steel: {width: 7 mm, thickness: 0.5 mm}\n",
    "tapes": "tapes:\n  count: 8\n  stations: between\n  casing: 1\n  drops: [8 1/4, 6, 5 1/2, 5]\n",
    "cloth": "cloth:\n  gores: 6\n  levels: [8 1/4, 14 1/4, 19 3/4, 24 3/4]\n  fabric: calico\n"
    "  width: 150 cm\n",
    "hoops": "hoops:\n  - {length: 48, join: {overlap: 2}}\n  - {length: 60, opening: front}\n"
    "  - {length: 69, carries: 0.2 kg}\n  - {length: 74, steel: {width: 10 mm}}\n",
    "ties": "ties:\n  - {name: behind the knees, from: hoop 3 tape 3, to: hoop 3 tape 6, length: 19}\n",
    "panels": "panels:\n  - {tapes: [4, 5], hoops: [1, 2], tightness: 10 %}\n",
    "skirt": "skirt: {weight: 0.8 kg}\n",
    "hem": "hem: {clearance: [17, 18 1/2]}\n",
    "stage": "stage: {door: 34, riser: 6 3/4, tread: 11 1/2}\n",
    "buying": "buying:\n  currency: EUR\n  steel: [{length: 25 m, price: 40}]\n"
    "  rolls: {ribbon: 25 m}\n  prices: {ribbon: 1.20, buckle: 3}\n"
    "  minutes: {tape: 9, casing: 3, hoop: 12, threading: 1.5 h}\n  hour: 24\n  contingency: 15 %\n",
    "printing": "printing: {scale: 1:8, process: resin}\n",
}
PLAIN_KINDS = ("a length", "a weight", "a share")
_SCALES = {
    "a length": ("m", 1.0),
    "a stress": ("GPa", 1e9),
    "a density": ("kg/m3", 1.0),
    "a share": ("%", 0.01),
}


def page() -> str:
    """docs/keys.md."""
    made = models.Design.model_json_schema(by_alias=True, mode="validation")
    sections = ["\n".join(_section(path, name, made)) for path, name in parts_of(made)]
    return "\n".join([HEAD, *sections])


def parts_of(made: dict[str, Any]) -> list[tuple[str, str]]:
    """(where it is written, name of the model) of every group of keys, in the order of the models."""
    found: dict[str, str] = {}

    def walk(name: str, path: str) -> None:
        found.setdefault(name, path)
        part = made if name == "Design" else made["$defs"][name]
        for key, value in part["properties"].items():
            for below in _refs(value):
                if below not in found:
                    walk(below, f"{path}: {key}" if path else key)

    walk("Design", "")
    return [(path, name) for name, path in found.items()]


def _refs(value: Any) -> Iterator[str]:
    if isinstance(value, dict):
        if "$ref" in value:
            yield value["$ref"].rsplit("/", 1)[-1]
        for below in value.values():
            yield from _refs(below)
    elif isinstance(value, list):
        for below in value:
            yield from _refs(below)


def _section(path: str, name: str, made: dict[str, Any]) -> Iterator[str]:
    part = made if name == "Design" else made["$defs"][name]
    yield f"## `{path}:`\n" if path else "## At the top\n"
    if path in EXAMPLES:
        yield f"```yaml\n{EXAMPLES[path]}```\n"
    yield "| key | what it is | what may be written | if left out |\n|---|---|---|---|"
    fields = {field.alias or key: field for key, field in getattr(models, name).model_fields.items()}
    for key, value in part["properties"].items():
        words = may_be(value, made)
        yield f"| `{key}` | {MEANINGS[name][key]} | {words} | {left_out(fields[key], value)} |"
    yield ""


def may_be(value: dict[str, Any], made: dict[str, Any]) -> str:
    """What may be written, in words."""
    described = re.match(r"(an? [a-z ]+|two [a-z]+), such as (.*)", value.get("description", ""))
    if described:
        return described[1] if described[1] in PLAIN_KINDS else described[0]
    if "$ref" in value:
        name = value["$ref"].rsplit("/", 1)[-1]
        path = next(path for path, other in parts_of(made) if other == name)
        return f"the keys of [`{path}:`](#{anchor(path)})"
    if "enum" in value or "const" in value:
        return " or ".join(f"`{word}`" for word in value.get("enum", [value.get("const")]))
    if "anyOf" in value or "oneOf" in value:
        parts = [
            may_be(one, made) for one in value.get("anyOf", value.get("oneOf")) if one.get("type") != "null"
        ]
        return "; or ".join(dict.fromkeys(parts)) if not _measure(value) else "a length"
    if value.get("type") == "array":
        inner = value.get("items") or (value.get("prefixItems") or [{}])[0]
        count = "two" if value.get("maxItems") == 2 else "a list of"
        return f"{count} {many(may_be(inner, made))}"
    plain = {
        "integer": "a whole number",
        "boolean": "`true` or `false`",
        "string": "text",
        "number": "a number",
    }
    if value.get("type") == "number" and "maximum" in value:
        return f"a number from {value.get('minimum', 0):g} to {value['maximum']:g}"
    if value.get("type") == "object":
        prices = value["additionalProperties"].get("type") == "number"
        return "names with their " + (
            "prices, such as `{ribbon: 1.20}`" if prices else "lengths, such as `{ribbon: 25 m}`"
        )
    return plain[value["type"]]


def many(one: str) -> str:
    """'a length' -> 'lengths'; what has no such plural stands after a colon."""
    if one.startswith("the keys of"):
        return f"groups with {one}"
    if one.startswith("a list of "):
        return f"lists of {one.removeprefix('a list of ')}"
    return (
        f"{one.removeprefix('a ')}s"
        if re.fullmatch("a (length|share|whole number)", one)
        else f"these: {one}"
    )


def _measure(value: dict[str, Any]) -> bool:
    """A bare number or a text that begins like one, without words of its own."""
    parts = value.get("anyOf", [])
    return (
        len(parts) == 2
        and {part.get("type") for part in parts} == {"number", "string"}
        and "pattern" in str(parts)
    )


def left_out(field: Any, value: dict[str, Any]) -> str:
    """What is taken where the key is left out, in words."""
    if field.is_required():
        return "**must be written**"
    default = field.default
    if default is None or default in ((), {}) or field.default_factory is not None:
        return ""
    if isinstance(default, Written):
        return "as below"
    if isinstance(default, (bool, str)):
        return f"`{str(default).lower() if isinstance(default, bool) else default}`"
    kind = re.match(r"a [a-z ]+(?=, such)", _descriptions(value))
    if isinstance(default, int) or not kind or default == 0.0:
        return f"{default:g}"
    if kind[0] == "a length":
        return units.both(default)
    unit, scale = _SCALES[kind[0]]
    return f"{fixed(default / scale, 3).rstrip('0').rstrip('.')} {unit}"


def _descriptions(value: dict[str, Any]) -> str:
    return value.get("description") or next(
        (one["description"] for one in value.get("anyOf", []) if "description" in one), ""
    )


def anchor(path: str) -> str:
    """The anchor of a section as GitHub makes it: letters, digits, _ and -."""
    return re.sub(r"[^\w -]", "", f"{path}:").replace(" ", "-")


def rewrite() -> None:
    PAGE.write_text(page(), encoding="utf-8")
    SCHEMA.write_text(schema_text(), encoding="utf-8")


if __name__ == "__main__":
    rewrite()

"""docs/keys.md tells of every key there is, as the models stand, and its examples are designs."""

from __future__ import annotations

import re

from keys_page import EXAMPLES, PAGE, page
from petticoat import GOOD
from ruamel.yaml import YAML

from cage3d.design.key_words import MEANINGS
from cage3d.design.read import read_data

TEXT = PAGE.read_text(encoding="utf-8")


def test_the_page_is_of_these_models() -> None:
    """Otherwise: python tests/keys_page.py"""
    assert page() == TEXT


def test_every_key_stands_in_the_section_of_its_group() -> None:
    rows = re.findall(r"^\| `([a-z_]+)` \| (.+?) \|", TEXT, re.MULTILINE)
    told = {(key, words) for keys in MEANINGS.values() for key, words in keys.items()}
    assert set(rows) == told
    assert len(rows) == sum(len(keys) for keys in MEANINGS.values())


def test_defaults_are_told_as_a_maker_writes_them() -> None:
    """One inch is 25.4 mm; the steel's figures are those of the handbooks."""
    for row in (
        "| `depth` | height of the band | a length | 1 in (25.4 mm) |",
        "| `count` | number of tapes | a whole number | **must be written** |",
        "| `density` | density of the steel; 7850 kg/m3 if left out | a density, such as 7850 kg/m3 | 7850 kg/m3 |",
        "| `spare` | bought beyond what is needed, such as 10 % | a share | 10 % |",
    ):
        assert f"\n{row}\n" in TEXT


def test_links_lead_to_sections() -> None:
    heads = {
        re.sub(r"[^\w -]", "", head).replace(" ", "-")
        for head in re.findall(r"^## (.+)$", TEXT, re.MULTILINE)
    }
    links = set(re.findall(r"\(#([^)]+)\)", TEXT))
    assert links
    assert links <= heads


def test_every_example_is_a_design() -> None:
    yaml = YAML(typ="safe", pure=True)
    plain = yaml.load(GOOD)
    for key, example in EXAMPLES.items():
        assert example in TEXT
        written = yaml.load(example)
        assert list(written) == [key]
        base = {name: part for name, part in plain.items() if (name, key) != ("tapes", "cloth")}
        assert read_data(base | written).name == "Short petticoat"

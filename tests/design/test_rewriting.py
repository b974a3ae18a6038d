"""Changed values in a written design: everything else stays as it was, sign by sign."""

from __future__ import annotations

import random
from typing import Any

import pytest
from settled import SAMPLES

from cage3d.design.rewriting import rewritten, same
from cage3d.design.tree import parse

TEXT = """\
# a cage
first: &one 7 1/2   # named
second: [1,  *one , "q r" ]   # keep the blanks
group: {k: v, empty: }
rows:
  - 'it''s'
  - - 1
    - 2   # two
    - *one
  - &pair {p: 1, q: 2}
  - *pair

# between
told: |
  in lines
  of its own
folded: plain two
  lines
nothing:
last:
  within: 1
  # a note
  list: &list [1, 2]   # and one more
  again: *list
"""


def changed(text: str, **values: Any) -> str:
    """The text with some of its first keys otherwise, by a path with dots."""
    data = parse(text, "design").data()
    for path, value in values.items():
        *way, last = path.split("__")
        node = data
        for step in way:
            node = node[int(step) if step.isdigit() else step]
        node[int(last) if last.isdigit() else last] = value
    return rewritten(text, data)


@pytest.mark.parametrize(
    ("path", "value", "old", "new"),
    [
        ("second__0", "5", "[1,  *one", "[5,  *one"),
        ("second__2", "r s", '"q r"', '"r s"'),
        ("rows__0", "she's", "'it''s'", "'she''s'"),
        ("group__k", "a: b", "k: v", 'k: "a: b"'),
        ("rows__1__1", "70", "- 2   # two", "- 70   # two"),
        ("nothing", "some", "nothing:\n", "nothing: some\n"),
        ("folded", "one", "plain two\n  lines", "one"),
        ("told", "short", "|\n  in lines\n  of its own", "short"),
        ("last__more", ["1", "2"], "  again: *list\n", "  again: *list\n  more: [1, 2]\n"),
        ("group__more", "x", "{k: v, empty: }", "{k: v, more: x, empty: }"),
        ("last__within", None, "  within: 1\n", ""),
        ("second", [["1"], ["2"]], '[1,  *one , "q r" ]', "[[1],\n         [2]]"),
        ("rows__4", "9", "  - *pair\n", "  - *pair\n  - 9\n"),
    ],
)  # fmt: skip
def test_one_value_changes_and_nothing_else(path: str, value: Any, old: str, new: str):
    assert TEXT.count(old) == 1
    data = parse(TEXT, "design").data()
    if path == "rows__4":
        data["rows"].append(value)
        result = rewritten(TEXT, data)
    else:
        result = changed(TEXT, **{path: value})
    assert result == TEXT.replace(old, new)


def test_a_named_value_changes_for_one_of_its_users_alone():
    """`first` is named and used twice more: where it changes, the others are written out as they were."""
    result = changed(TEXT, first="8")
    assert "first: &one 8   # named" in result
    assert "[1,  7 1/2 , " in result
    assert "    - 7 1/2\n" in result


def test_a_named_value_changes_for_all():
    result = changed(TEXT, first="8", second__1="8", rows__1__2="8")
    assert result == TEXT.replace("&one 7 1/2", "&one 8")


def test_nothing_changed_is_the_same_text():
    for path in SAMPLES:
        text = path.read_text("utf-8")
        assert rewritten(text, parse(text, "design").data()) == text


WORDS = [
    "7 1/2",
    "41 cm",
    "it's",
    "a: b",
    "# no",
    "null",
    "- x",
    "[q",
    "käse",
    "1:30",
    "",
    " lead",
    "*q",
    "two\nlines",
]


def drawn_value(draw: random.Random, depth: int = 0) -> Any:
    kind = draw.random()
    if kind < 0.7 or depth > 2:
        return draw.choice(WORDS)
    if kind < 0.85:
        return [drawn_value(draw, depth + 1) for _ in range(draw.randint(0, 3))]
    return {draw.choice("pqrs"): drawn_value(draw, depth + 1) for _ in range(draw.randint(0, 3))}


def places(data: Any) -> list[tuple[Any, Any]]:
    keys = list(data) if isinstance(data, dict) else range(len(data)) if isinstance(data, list) else []
    return [place for key in keys for place in [(data, key), *places(data[key])]]


def shaken(data: Any, draw: random.Random) -> None:
    """One value changed, taken away or put in, anywhere."""
    node, key = draw.choice(places(data))
    kind = draw.random()
    if kind < 0.2:
        del node[key]
    elif kind < 0.35 and isinstance(node, list):
        node.append(drawn_value(draw))
    elif kind < 0.35:
        node[draw.choice(["new", "other"])] = drawn_value(draw)
    else:
        node[key] = drawn_value(draw)


@pytest.mark.parametrize("seed", range(60))
def test_any_change_reads_as_it_was_meant(seed: int):
    draw = random.Random(seed)
    text = TEXT if seed % 2 else draw.choice(SAMPLES).read_text("utf-8")
    text = text.rstrip("\n") if seed % 7 == 0 else text.replace("\n", "\r\n") if seed % 7 == 1 else text
    data = parse(text, "design").data()
    for _ in range(draw.randint(1, 4)):
        shaken(data, draw)
    assert same(parse(rewritten(text, data), "design").data(), data)

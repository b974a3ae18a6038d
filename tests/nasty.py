"""Design texts drawn by lot to be read: samples with something done to them, trees, and values that bite.

The same seed gives the same text. `made(seed)` says too what the text must contain, so that a case
that lost what it was made to try is noticed.
"""

from __future__ import annotations

import json
import random
from dataclasses import dataclass

from settled import SAMPLES as SAMPLE_FILES

SAMPLES = tuple(path.read_text("utf-8") for path in SAMPLE_FILES)
VALUES = (
    "999999999", "1" * 3000, "1e400", "-0", "-0.0", ".nan", "nan", ".inf", "-.inf", "1e-400", "٣", "７ 1/2", "7½", "½",
    "1/0", "7 3/2", "0x1F", "1_000", "1:30", "~", "null", "no", "true", "[]", "{}", "[[]]", "[[[[1]]]]", "{a: {b: 1}}",
    '"\\U00110000"', '"\\UFFFFFFFF"', '"\\ud800"', '"\\0"', '"\\e[31m"', "\u202eabc", "''", "'1' 6\"", "5 elephants",
    "in", "7 in in", "1' 6' 2\"", "-5", "- 5", "+", "1e", "e5", "1" + " " * 150 + "in", "x" * 6000, "[1, 2", "{a: 1",
    "hoop 9999 tape 9999", "hoop ٣ tape 1", "waistband tape 1", "1:0", "1:1e9", "&a 5", "*a", "!!int 5", "!x 5",
    "<<: 1",
    "|\n    text\n", "[" + "1," * 1500 + "1]", "[" + "[1]," * 80 + "[1]]", "@x", "%x", "`x`", "1e308", "1e308 m",
    "0.00001",
    "0", "0.1", "1", "2", "60", "61", "front", "back", "none", "100 %", "101 %", "1e30 kg", "50 m", "taffeta",
    "{tube: 1}",
)  # fmt: skip
PIECES = (
    "\t", "\n", "\r", "\u2028", "\x85", "\ufeff", "\0", "\x1b", "#", ": ", "- ", "? ", "[", "]", "{", "}", '"',
    "'", "&a ",
    "*a ", "!t ", "%YAML 1.1\n", "---\n", "...\n", "|\n", ">\n", "<<: ", "\n<<: {a: 1}\n", "\nunits: in\n",
    "\nname: x\n",
    "\nhoops: []\n", "\\", "½", "٣", "\U0001f457", "e\u0301", "\n ", ",",
)  # fmt: skip
WHOLE = (
    "", "\ufeff", "\n" * 500, "- " * 400, "[" * 400, "{" * 400, "a: " * 400, "&a [*a]",
    "a: &a [1]\n" + "b: *a\n" * 40, "x",
    "? [a]\n: b", "%A b\n" * 40, "a: !" + "t" * 500, "a: &" + "t" * 500 + " 1", "k" * 2000 + ": 1",
    "--- a\n--- b\n", "\0",
    "".join(f"k{number}: 1\n" for number in range(400)), "- 1\n" * 3000, "# nothing but a comment\n",
    "a: &a0 [1, 1]\n" + "".join(f"b{n}: &a{n + 1} [*a{n}, *a{n}]\n" for n in range(30)), "a: 1\n" * 200,
)  # fmt: skip


@dataclass(frozen=True)
class Nasty:
    """A text, and what of it the lot put in."""

    text: str
    holds: str


def made(seed: int) -> Nasty:
    lot = random.Random(seed)
    kind = (_another_value, _pieces_put_in, _another_tree, _lines_moved, _two_values, _whole)[seed % 6]
    return kind(lot)


def _another_value(lot: random.Random) -> Nasty:
    """One value of a sample, of a line or inside brackets, replaced."""
    return _replaced(lot, lot.choice(SAMPLES))


def _replaced(lot: random.Random, text: str) -> Nasty:
    value = lot.choice(VALUES)
    places = [
        at
        for at, sign in enumerate(text[:-1])
        if sign in ":[,-"
        and text[at + 1] in " 0123456789"
        and "#" not in text[text.rfind("\n", 0, at) + 1 : at]
    ]
    at = lot.choice(places) + 1
    end = next((n for n in range(at + 1, len(text)) if text[n] in ",]}\n"), len(text))
    return Nasty(f"{text[:at]} {value}{text[end:]}", value)


def _two_values(lot: random.Random) -> Nasty:
    return _replaced(lot, _replaced(lot, lot.choice(SAMPLES)).text)


def _pieces_put_in(lot: random.Random) -> Nasty:
    text, piece = lot.choice(SAMPLES), ""
    for _ in range(lot.randint(1, 4)):
        piece, at = lot.choice(PIECES), lot.randrange(len(text))
        text = text[:at] + piece + text[at + lot.choice((0, 0, 1, 20)) :]
    return Nasty(text, piece)


def _lines_moved(lot: random.Random) -> Nasty:
    """Lines of two samples mixed, twice over, left out or indented otherwise."""
    lines = (lot.choice(SAMPLES) + lot.choice(SAMPLES)).splitlines()
    for _ in range(lot.randint(1, 6)):
        one, other = lot.randrange(len(lines)), lot.randrange(len(lines))
        lines[one] = lot.choice(
            (lines[other], "", " " + lines[one], lines[one].lstrip(), lines[one] + lines[other])
        )
    return Nasty("\n".join(lines), lines[one])


def _another_tree(lot: random.Random) -> Nasty:
    """A design of the right keys whose values are trees and texts of any kind."""
    value = lot.choice(VALUES[:30])
    tree = {key: _tree(lot, 3) for key in lot.sample(KEYS, lot.randint(1, len(KEYS)))}
    tree["notes"] = value
    return Nasty(json.dumps(tree, ensure_ascii=False), json.dumps(value, ensure_ascii=False)[1:-1])


KEYS = (
    "name", "units", "wearer", "steel", "tapes", "hoops", "ties", "panels", "skirt", "hem", "stage", "buying",
    "printing",
    "waist", "waist_height", "count", "drops", "stations", "length", "opening", "overhang", "width", "thickness",
    "from",
    "to", "tightness", "clearance", "prices", "currency", "rest", "join", "tube", "<<", "waistband",
)  # fmt: skip


def _tree(lot: random.Random, deep: int) -> object:
    choice = lot.randrange(6 if deep else 3)
    if choice < 3:
        return lot.choice(
            (lot.choice(VALUES), lot.randint(-5, 100), lot.uniform(-1, 60), None, True, "26 in", "7 mm")
        )
    if choice == 3:
        return [_tree(lot, deep - 1) for _ in range(lot.randint(0, 6))]
    return {key: _tree(lot, deep - 1) for key in lot.sample(KEYS, lot.randint(0, 8))}


def _whole(lot: random.Random) -> Nasty:
    text = lot.choice(WHOLE)
    return Nasty(text + lot.choice(("", lot.choice(SAMPLES), lot.choice(PIECES))), text)

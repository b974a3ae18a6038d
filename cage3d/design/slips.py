"""Slips of the pen that YAML tells lines later or not at all: a missing colon, a dash that only looks like one.

Word processors put long dashes, bullets, curly quotes and blanks that do not break where - , " and
plain blanks were typed; YAML takes all of these for letters.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import takewhile

from cage3d.design.key_words import MEANINGS
from cage3d.errors import Problem
from cage3d.units import LONG_DASHES
from cage3d.wording import nearest

KEYS = sorted({key for part in MEANINGS.values() for key in part})
CURLY = "“”„«»‘‚"
BULLETS = LONG_DASHES + "•◦▪●‣·"
LOOKING_BLANK = re.compile(r"[ \t]*(?:[^\S \t\r\n]|[\u200b\u2060\ufeff])")
LINE = re.compile(r"(?P<item>-?) *(?P<quote>[\"'“”„]?)(?P<key>[A-Za-z_]+)(?P<after>.*)", re.DOTALL)
LONGEST_LINE = 1_000  # signs; longer lines are no slips of a maker
MOST_BACK = 60  # lines looked at before the one that YAML stumbled over


def slips_near(text: str, line: int, where: str) -> list[Problem]:
    """Slips in the line that YAML stumbled over (from 1) and in those just above and below it, in their order.

    Going up and down ends at the first line that is as it should be.
    """
    lines = text.splitlines()
    found: list[Problem] = []
    for number in range(min(line, len(lines)), max(0, line - MOST_BACK), -1):
        written = lines[number - 1]
        if number < line and (not written.strip() or written.lstrip().startswith("#")):
            continue
        slip = slip_in(written, where, number)
        if slip is None and number < line:
            break
        found += [slip] if slip else []
    return [*found[::-1], *slips_from(lines, line + 1, where)] or any_key_before(lines, line, where)


def slips_from(lines: list[str], first: int, where: str) -> list[Problem]:
    """Slips in a line (from 1) and those below it, up to the first line that is as it should be."""
    slips = (slip_in(lines[number - 1], where, number) for number in range(first, len(lines) + 1))
    return list(takewhile(lambda slip: slip is not None, slips))  # type: ignore[arg-type]


def any_key_before(lines: list[str], line: int, where: str) -> list[Problem]:
    """The line just above as a key without its colon, where it has none and may be one."""
    for number in range(min(line - 1, len(lines)), max(0, line - MOST_BACK), -1):
        body = lines[number - 1].partition(" #")[0].strip()
        if body and not body.startswith("#"):
            word = body.split()[0]
            if word.isidentifier() and ":" not in body and len(body) < LONGEST_LINE:
                column = lines[number - 1].index(word) + 1
                return [Problem(where, body[:60], "a key without its :", "Write key: value", number, column)]
            break
    return []


def slip_in(written: str, where: str, line: int) -> Problem | None:
    """What is wrong with one line as it stands alone."""
    if len(written) > LONGEST_LINE:
        return None
    bare = written.partition(" #")[0].rstrip()
    body = bare.strip()
    column = len(bare) - len(bare.lstrip()) + 1
    for why, try_this in (*blank_at_the_start(bare), *wrong_sign(body), *colon(body)):
        return Problem(where, body[:60], why, try_this, line, column)
    return None


def blank_at_the_start(bare: str) -> Iterator[tuple[str, str]]:
    if LOOKING_BLANK.match(bare):
        yield (
            "the line begins with a non-breaking blank, which a program put in and which counts as a letter",
            "Take away all that stands before the first letter, and indent anew with the space bar",
        )


def wrong_sign(body: str) -> Iterator[tuple[str, str]]:
    """Dashes and bullets before an item; - without its blank."""
    rest = body[1:].strip()
    if body[:1] in BULLETS and body:
        yield f"{body[0]} is not the - that begins an item of a list", f"Write - {rest[:60]}"
    elif (body[:1] == "-" and body[1:2].isalpha()) or body.startswith("-{"):
        yield "a blank is missing after the -", f"Write - {rest[:60]}"
    opened = re.match(rf"[^:]*: *([{CURLY}])", body)
    if opened and ": " in body[opened.end() :]:
        yield (
            f"{opened[1]} is no quote to YAML, which knows straight ones alone",
            'Write " before and after the text',
        )


def colon(body: str) -> Iterator[tuple[str, str]]:
    """A key without its colon, or a colon without its blank."""
    line = LINE.fullmatch(body)
    if line is None or line["quote"] or not near_key(line["key"]):
        return
    key, after = known_words(line["key"] + line["after"])
    if ": " in after and after.lstrip()[:1] not in (":", "{", "["):
        return  # prose with a second colon
    dash = "- " if line["item"] else ""
    yield from colon_slip(key, after, dash)


def colon_slip(key: str, after: str, before: str = "") -> Iterator[tuple[str, str]]:
    """Why `after` cannot follow a key, and what to write; nothing where it can."""
    value = after.strip().lstrip(":：;=\u00a0").strip()[:60]
    instead = (
        f"Write {before}{key}: {value}" if value else f"Write {before}{key}: with the rest indented below it"
    )
    if after[:1] == ":" and after[1:2].strip(" "):
        blank = (
            "a non-breaking blank stands after the : and counts as a letter"
            if after[1].isspace()
            else "a blank is missing after the :"
        )
        yield blank, instead
    elif after.lstrip()[:1] in (";", "=", "："):
        yield f"{after.lstrip()[0]} stands after {key} where a : belongs", instead
    elif not after.lstrip().startswith(":"):
        yield f"a : is missing after {key}", instead


def known_words(text: str) -> tuple[str, str]:
    """(the key at the start of a text, what follows): 'waist height 41' -> ('waist_height', ' 41')."""
    for words in (3, 2):
        start = re.match(r"[A-Za-z_]+" + r"[ _-]+[A-Za-z]+" * (words - 1), text)
        key = re.sub(r"[ -]+", "_", start[0]).lower() if start else ""
        if start and key in KEYS:
            return key, text[start.end() :]
    word = re.match(r"[A-Za-z_]*", text)
    first = word[0] if word else ""
    return near_key(first) or first, text[len(first) :]


def near_key(word: str) -> str | None:
    """The key that a word is or was meant to be."""
    return nearest(word.lower(), KEYS, 0.8)

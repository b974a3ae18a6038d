"""Text from outside made fit to be shown: nothing in it moves a terminal's cursor or turns the line about."""

from __future__ import annotations

import unicodedata

# They turn the order of what follows: "gnp.exe" can be shown as "exe.png" (Unicode, annex 9).
TURNING = frozenset("\u061c\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")
JOINERS = frozenset("\u200c\u200d")  # written between letters in Persian and Hindi, and harmless
# Control, format, surrogate, private, unassigned, and the separators of lines and paragraphs.
UNSEEN = frozenset(("Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp"))

IN_ASCII = {
    "°": " deg",
    "±": "+-",
    "×": "x",
    "–": "-",
    "—": "-",
    "−": "-",
    "…": "...",
    "’": "'",
    "“": '"',
    "”": '"',
}


def legible(text: str) -> str:
    """The text on one line; signs that would steer a terminal are written as escapes, such as \\x1b."""
    return "".join(sign if shows(sign) else written_out(sign) for sign in text)


def shows(sign: str) -> bool:
    return sign in JOINERS or (sign not in TURNING and unicodedata.category(sign) not in UNSEEN)


def written_out(sign: str) -> str:
    if sign in "\n\t":
        return " "
    return ascii(sign)[1:-1].replace("\\r", "\\x0d")


def in_signs_of(encoding: str, text: str) -> str:
    """The text in signs that an encoding has: 'é' as e and '°' as deg in ASCII, '?' for what has no likeness."""
    try:
        text.encode(encoding)
    except UnicodeEncodeError:
        return "".join(alike(encoding, sign) for sign in text)
    return text


def alike(encoding: str, sign: str) -> str:
    bare = "".join(part for part in unicodedata.normalize("NFKD", sign) if not unicodedata.combining(part))
    for likeness in (sign, IN_ASCII.get(sign, sign), bare):
        try:
            likeness.encode(encoding)
        except UnicodeEncodeError:
            continue
        return likeness
    return "?"

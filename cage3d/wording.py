"""Lists and numbers in words."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from difflib import get_close_matches


def listed(words: Sequence[str], last: str = "and") -> str:
    """'1, 2 and 5'; last: the word before the last."""
    return f" {last} ".join([", ".join(words[:-1]), words[-1]]) if len(words) > 1 else "".join(words)


def numbered(word: str, numbers: Iterable[int]) -> str:
    """'tape 3' or 'tapes 1, 2 and 5'."""
    known = sorted(numbers)
    return f"{word}{'s' if len(known) > 1 else ''} {listed([str(number) for number in known])}"


def nearest(word: str, known: Iterable[str], likeness: float = 0.6) -> str | None:
    """The known word that is most like this one, None where none is; likeness: the least that counts (difflib)."""
    return next(iter(get_close_matches(word, list(known), 1, likeness)), None)


def capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def of_seams(text: str) -> str:
    """What is said of tapes and their drops, said of the seams of a petticoat whose cloth carries its hoops."""
    for tape, seam in (("tape", "seam"), ("Tape", "Seam")):
        text = re.sub(rf"\b{tape}(s?)\b", rf"{seam}\1", text)
    return re.sub(r"\bdrops\b", "cloth", text)

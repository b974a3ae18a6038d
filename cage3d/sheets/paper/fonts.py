"""The sheets' letters: an embedded font, a second one for what it lacks, and right-to-left scripts.

DejaVu Sans (see `cage3d.fonts`) holds Latin, Greek, Cyrillic, Armenian, Georgian,
Hebrew and Arabic letters. What neither font holds is drawn as an open box and said aloud.
"""

from __future__ import annotations

import unicodedata
from dataclasses import dataclass
from functools import cache, lru_cache
from hashlib import sha256
from html import escape
from io import BytesIO
from itertools import groupby
from pathlib import Path

from arabic_reshaper import reshape
from bidi import get_display
from reportlab.pdfbase.pdfmetrics import registerFont, stringWidth
from reportlab.pdfbase.ttfonts import TTFont

from cage3d.errors import CommandError, Problem
from cage3d.fonts import font_bytes

PLAIN, BOLD = "SheetsPlain", "SheetsBold"
MISSING = "□"
RIGHT_TO_LEFT = ("R", "AL")
BLANKS = str.maketrans("\n\r\t", "   ")  # a text of several lines stands on one


@dataclass(frozen=True)
class Letters:
    """Fonts by name, as reportlab knows them."""

    spare: str | None  # font for what the built-in one lacks

    def font_of(self, sign: str, bold: bool) -> str | None:
        """The font that holds a sign; None where none does."""
        own = BOLD if bold else PLAIN
        for name in (own, PLAIN, self.spare):
            if name is not None and ord(sign) in signs_of(name):
                return name
        return None

    def missing(self, text: str) -> tuple[str, ...]:
        """The signs of a text that no font holds, each once."""
        shown = visual(text)
        return tuple(dict.fromkeys(sign for sign in shown if self.font_of(sign, False) is None))

    def runs(self, text: str, bold: bool = False) -> list[tuple[str, str]]:
        """(font, letters) from left to right as they are drawn; text on one line."""
        return list(runs_of(self, text, bold))

    def width(self, text: str, size: float, bold: bool = False) -> float:
        """pt, of one line."""
        return sum(float(stringWidth(letters, font, size)) for font, letters in self.runs(text, bold))

    def markup(self, text: str, bold: bool = False) -> str:
        """A text for reportlab's paragraphs, every run in its font."""
        return "".join(f'<font name="{font}">{escape(run)}</font>' for font, run in self.runs(text, bold))

    def wrapped(self, text: str, size: float, width: float, bold: bool = False) -> list[str]:
        """Lines no wider than `width` (pt), broken at blanks, and inside a word that is too long."""
        lines, line = [], ""
        for word in text.split():
            while word:
                trial = f"{line} {word}".strip()
                if self.width(trial, size, bold) <= width:
                    line, word = trial, ""
                elif line:
                    lines.append(line)
                    line = ""
                else:
                    fits = max(1, self._fitting(word, size, width, bold))
                    lines.append(word[:fits])
                    word = word[fits:]
        return [*lines, line] if line else lines

    def shortened(self, text: str, size: float, width: float, bold: bool = False) -> str:
        """The text, or as much of it as fits with an ellipsis."""
        if self.width(text, size, bold) <= width:
            return text
        room = width - self.width("…", size, bold)
        return text[: self._fitting(text, size, room, bold)].rstrip() + "…"

    def smaller(self, text: str, size: float, least: float, width: float) -> tuple[str, float]:
        """The text at the largest size up to `size` at which it fits; shortened at `least` where none does."""
        while size > least and self.width(text, size) > width:
            size -= 0.5
        return self.shortened(text, size, width), size

    def _fitting(self, text: str, size: float, width: float, bold: bool) -> int:
        count = 0
        while count < len(text) and self.width(text[: count + 1], size, bold) <= width:
            count += 1
        return count


def letters(spare_font: str | Path | None = None) -> Letters:
    """The fonts, ready to draw with.

    spare_font: a TrueType file with the letters that the built-in font lacks.
    Raises CommandError where it cannot be used.
    """
    register_own()
    return Letters(None if spare_font is None else register_spare(Path(spare_font)))


@lru_cache(maxsize=10_000)  # each is measured before it is drawn, and pages are laid out twice
def runs_of(fonts: Letters, text: str, bold: bool) -> tuple[tuple[str, str], ...]:
    """As `Letters.runs`."""
    own = BOLD if bold else PLAIN
    signs = [(fonts.font_of(sign, bold), sign) for sign in visual(text)]
    whole = [(font or own, sign if font else MISSING) for font, sign in signs]
    return tuple(
        (font, "".join(sign for _, sign in run)) for font, run in groupby(whole, key=lambda pair: pair[0])
    )


def visual(text: str) -> str:
    """One line in the order in which it is drawn; Arabic letters in the forms they take when joined."""
    text = text.translate(BLANKS)
    if not any(unicodedata.bidirectional(sign) in RIGHT_TO_LEFT for sign in text):
        return text
    return str(get_display(reshape(text)))


def missing_signs(signs: tuple[str, ...]) -> str:
    """'U+88D9 (CJK UNIFIED IDEOGRAPH-88D9), …': what cannot be drawn, by its name."""
    named = [f"U+{ord(sign):04X} ({unicodedata.name(sign, 'no name').lower()})" for sign in signs[:6]]
    return ", ".join(named) + (f" and {len(signs) - 6} more" if len(signs) > 6 else "")


cover: dict[str, frozenset[int]] = {}


def signs_of(name: str) -> frozenset[int]:
    return cover[name]


def register(name: str, file: Path | BytesIO) -> None:
    # Shaping is ours: it must not depend on what else is installed.
    font = TTFont(name, str(file) if isinstance(file, Path) else file, shapable=False)
    registerFont(font)
    cover[name] = frozenset(font.face.charToGlyph)


@cache
def register_own() -> None:
    register(PLAIN, BytesIO(font_bytes()))
    register(BOLD, BytesIO(font_bytes(bold=True)))


def register_spare(path: Path) -> str:
    try:
        name = "Sheets" + sha256(path.read_bytes()).hexdigest()[:12]
        if name not in cover:
            register(name, path)
    except Exception as fault:  # a damaged font fails in the reader in many ways
        raise CommandError(
            Problem("--font", str(path), f"this font cannot be used ({fault})", "Give a TrueType file (.ttf)")
        ) from fault
    return name

"""The texts of a design as pydantic types: names, notes, and words that stand for a choice."""

from __future__ import annotations

import unicodedata
from typing import Annotated, Any, TypeVar

from pydantic import BeforeValidator, ValidationInfo, WithJsonSchema

from cage3d import units
from cage3d.design.quantities import measure
from cage3d.units import UnitError

LONGEST_TEXT = 5000  # letters


def known_units(written: Any) -> Any:
    """'inches' is as good as 'in'."""
    return units.unit_name(written) or written if isinstance(written, str) else written


AsUnit = BeforeValidator(known_units)


def plain_text(written: Any) -> str:
    """Any script, one line or more; control characters would garble sheets and terminals."""
    if isinstance(written, (bool, dict, list, tuple)) or written is None:
        raise UnitError("a text belongs here", "Write it in quotes if it holds : or #")
    if isinstance(written, int):
        units.refuse_long(written, "Write it shorter")
    if len(str(written)) > 2 * LONGEST_TEXT:  # a sign may be written as two that make one
        raise too_long()
    text = unicodedata.normalize("NFC", str(written)).strip()
    if any(unicodedata.category(sign) in ("Cc", "Cs", "Co", "Cn") and sign not in "\n\t" for sign in text):
        raise UnitError("the text holds control characters", "Write letters, digits and plain signs")
    if len(text) > LONGEST_TEXT:
        raise too_long()
    return text


def too_long() -> UnitError:
    return UnitError(f"the text is longer than {LONGEST_TEXT} letters", "Write it shorter")


def plain_name(written: Any) -> str:
    """A design's name: free text, but file names are made from it. Raises UnitError."""
    text = plain_text(written)
    if not text:
        raise UnitError("the name is empty", "Write name: Short petticoat, for instance")
    if any(sign in "\n\t" or unicodedata.category(sign) in ("Zl", "Zp") for sign in text):
        raise UnitError("the name must stand on one line", "Write it shorter; longer text belongs in notes")
    if "/" in text or "\\" in text:
        raise UnitError(
            "a name cannot hold a slash, because files are named after it", "Write a blank or - instead"
        )
    if ".." in text or text == ".":
        raise UnitError(
            "a name cannot hold '..', because files are named after it", "Write it without the dots"
        )
    if len(text) > 120:
        raise UnitError(
            "the name is longer than 120 letters", "Write it shorter; longer text belongs in notes"
        )
    return text


# Short and long words that makers write for a currency; the sheets print what was written.
CURRENCY_WORDS = (
    "kr", "kč", "zł", "ft", "fr", "lei", "euro", "euros", "pound", "pounds", "dollar", "dollars",
)  # fmt: skip


def currency(written: Any) -> str:
    """A currency's three letters (ISO 4217), its sign, or its sign with a country's letters as in US$."""
    text = plain_text(written)
    letters = text.rstrip(".")
    code = letters.isascii() and letters.isalpha() and len(letters) == 3
    signs = [sign for sign in text if unicodedata.category(sign) == "Sc"]
    lettered = text.strip("".join(signs) + " .") if len(signs) == 1 else "?"
    signed = not lettered or (lettered.isascii() and lettered.isalpha() and len(lettered) <= 3)
    if text and not (code or signed or letters.lower() in CURRENCY_WORDS):
        raise UnitError("this is no currency", "Write its three letters, such as EUR, or its sign, such as €")
    return text


Currency = Annotated[str, BeforeValidator(currency), WithJsonSchema({"type": "string", "maxLength": 8})]
Text = Annotated[str, BeforeValidator(plain_text), WithJsonSchema({"type": "string"})]
Name = Annotated[
    str,
    BeforeValidator(plain_name),
    WithJsonSchema({"type": "string", "minLength": 1, "maxLength": 120, "pattern": r"^[^/\\]*$"}),
]


def cloth(written: Any, info: ValidationInfo) -> float | str:
    """kg/m2, or the name of a cloth as text."""
    units.refuse_long(written, "Write a cloth such as taffeta, or a weight such as 120 g/m2")
    if isinstance(written, str) and written and not any(sign.isdigit() for sign in written):
        return plain_text(written)
    return measure(units.PER_AREA, 0.0, 20.0, "20 kg/m2", zero=False)(written, info)


Cloth = Annotated[
    float | str,
    BeforeValidator(cloth),
    WithJsonSchema({"type": "string", "description": "a cloth by name, or its weight such as 120 g/m2"}),
]
# Earlier designs name a way of printing by an abbreviation.
EARLIER_PROCESSES = {"fdm": "filament"}


def process_today(written: Any) -> Any:
    """A way of printing by its name of today, whichever was written; anything else as it is."""
    said = written.strip() if isinstance(written, str) else written
    return EARLIER_PROCESSES.get(said, said) if isinstance(said, str) else said


AsProcess = BeforeValidator(process_today)
Choice = TypeVar("Choice")
Word = Annotated[
    Choice, BeforeValidator(lambda written: written.strip() if isinstance(written, str) else written)
]

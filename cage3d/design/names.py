"""File names out of free text."""

from __future__ import annotations

import unicodedata

# Windows: "Naming Files, Paths, and Namespaces". The raised 1, 2, 3 are reserved as well.
RESERVED = {"con", "prn", "aux", "nul", *(f"{port}{n}" for port in ("com", "lpt") for n in "0123456789¹²³")}


def file_stem(name: str, longest: int = 120) -> str:
    """A file name's stem: letters, marks and digits of any script, everything else a single '-'.

    longest: bytes in UTF-8 (file systems allow 255 with the ending). Never empty, never a
    name that Windows keeps for itself.
    """
    plain = unicodedata.normalize("NFC", name.lower())
    kept = "".join(sign if unicodedata.category(sign)[0] in "LMN" else "-" for sign in plain)
    stem = "-".join(part for part in kept.split("-") if part)
    stem = stem.encode()[:longest].decode(errors="ignore").strip("-")
    return f"{stem}-cage" if stem in RESERVED else stem or "cage"

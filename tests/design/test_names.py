"""Names of files from names of designs."""

from __future__ import annotations

import unicodedata

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cage3d.design.names import file_stem

WINDOWS_KEEPS = ["con", "prn", "aux", "nul", "com0", "com1", "com9", "com²", "lpt1", "lpt9", "lpt³"]


@pytest.mark.parametrize(
    ("name", "stem"),
    [
        ("Short petticoat on four hoops", "short-petticoat-on-four-hoops"),
        ("  Act II: ball (W-07)  ", "act-ii-ball-w-07"),
        ("Über-Krinoline №2", "über-krinoline-2"),
        ("Zoe\u0308", "zoë"),
        ("裙撑 一", "裙撑-一"),
        ("हूप", "हूप"),
        ("...", "cage"),
        ("!!!", "cage"),
        (" . a . ", "a"),
        ("Act II...", "act-ii"),
        ("console", "console"),
        ("\x1b[31mred\u202e", "31mred"),
        ("x" * 300, "x" * 120),
        ("裙" * 120, "裙" * 40),
        ("x" + "裙" * 120, "x" + "裙" * 39),
    ],
)
def test_stems_in_any_script(name: str, stem: str) -> None:
    assert file_stem(name) == stem


@pytest.mark.parametrize("name", WINDOWS_KEEPS)
def test_what_windows_keeps_for_itself_gets_another_name(name: str) -> None:
    assert file_stem(name) == file_stem(f" {name.upper()}. ") == f"{name}-cage"


@settings(deadline=None)
@given(st.text(max_size=200))
def test_any_text_makes_a_safe_stem(name: str) -> None:
    stem = file_stem(name)
    assert stem
    assert len(stem.encode()) <= 120 + len("-cage")
    assert not set(stem) & set('/\\:*?"<>|. \n\0')
    assert stem == unicodedata.normalize("NFC", stem)
    assert file_stem(stem) in (stem, f"{stem}-cage")

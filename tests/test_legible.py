"""Text from files and names on its way to a terminal."""

from __future__ import annotations

import pytest

from cage3d.legible import in_signs_of, legible


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("Zoë 裙撑 हूप ½", "Zoë 裙撑 हूप ½"),
        ("\x1b[31mred", "\\x1b[31mred"),
        ("\x9b2J\x7f\a\b\r", "\\x9b2J\\x7f\\x07\\x08\\x0d"),
        ("a\nb\tc", "a b c"),
        ("exe\u202egnp\u2066", "exe\\u202egnp\\u2066"),
        ("\u2028\ufeff\ud800", "\\u2028\\ufeff\\ud800"),
        ("می\u200cخواهم", "می\u200cخواهم"),
        ("'quoted' \\x", "'quoted' \\x"),
    ],
)
def test_nothing_steers_the_terminal(text: str, shown: str) -> None:
    assert legible(text) == shown


@pytest.mark.parametrize(
    ("encoding", "shown"),
    [("ascii", "4.4 deg Zoe ?"), ("latin-1", "4.4° Zoë ?"), ("utf-8", "4.4° Zoë 裙")],
)
def test_signs_that_an_encoding_lacks(encoding: str, shown: str) -> None:
    assert in_signs_of(encoding, "4.4° Zoë 裙") == shown

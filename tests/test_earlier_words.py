"""Designs of earlier versions are read, silently, and made as they were: words that have changed since."""

from __future__ import annotations

import pytest
from calling import Caller
from made import hung_design, sample

from cage3d import results
from cage3d.design import rules
from cage3d.design.read import read, read_text
from cage3d.errors import DesignError


@pytest.fixture
def cage3d(tmp_path, monkeypatch, capsys) -> Caller:
    return Caller(tmp_path, monkeypatch, capsys)


def printed_as(word: str) -> str:
    """The short petticoat with its way of printing written out."""
    return sample("a").read_text("utf-8") + f'printing: {{scale: "1:6", process: {word}}}\n'


@pytest.mark.parametrize("word", ["fdm", '" fdm "'])
def test_an_old_sample_is_the_design_of_today(word: str) -> None:
    old = read_text(printed_as(word))
    assert old == read_text(printed_as("filament")) == read(sample("a"))
    assert rules.remarks(old) == []


def test_other_abbreviations_were_never_words_of_a_design() -> None:
    with pytest.raises(DesignError, match="filament, resin, powder"):
        read_text(printed_as("sls"))


def test_the_miniature_of_an_old_sample_is_the_same_bytes() -> None:
    old, new = (results.miniature(*hung_design(read_text(printed_as(word)))) for word in ("fdm", "filament"))
    assert "{stem}-1-6-filament-flat.txt" in old
    assert old == new
    assert not any(b"fdm" in held.lower() for held in old.values())


def test_the_command_line_reads_the_old_word(cage3d: Caller) -> None:
    said = cage3d("maquette", cage3d.write(), "--process", "FDM", "-o", "out")
    assert (said.status, said.err) == (0, "")
    assert all(name.startswith("out/small-cage-1-6-filament-flat") for name in said.out.split())

"""cage3d sheets --measuring: no design, one file, nothing written over."""

from __future__ import annotations

import pytest
from calling import Caller


def test_it_needs_no_design(cage3d: Caller) -> None:
    said = cage3d("sheets", "--measuring")
    assert (said.status, said.out, said.err) == (0, "measuring-sheet.pdf\n", "")
    assert (cage3d.folder / "measuring-sheet.pdf").read_bytes().startswith(b"%PDF")


def test_into_a_folder_and_never_over_another(cage3d: Caller) -> None:
    assert cage3d("sheets", "--measuring", "-o", "bench", "--paper", "letter").status == 0
    kept = cage3d.folder / "bench/measuring-sheet.pdf"
    kept.write_bytes(b"hers")
    said = cage3d("sheets", "--measuring", "-o", "bench")
    assert said.status == 2
    assert "there is such a file already" in said.err
    assert kept.read_bytes() == b"hers"
    assert cage3d("sheets", "--measuring", "-o", "bench", "--force").status == 0
    assert kept.read_bytes().startswith(b"%PDF")


@pytest.mark.parametrize(
    ("asked", "why"),
    [
        (("sheets",), "the sheets of a cage need its design"),
        (("sheets", "cage.yaml", "--measuring"), "is made without a design"),
        (("sheets", "--measuring", "--paper", "a5"), "this paper is not known here"),
    ],
)
def test_what_is_asked_wrongly_is_told(cage3d: Caller, asked: tuple[str, ...], why: str) -> None:
    said = cage3d(*asked)
    assert (said.status, said.out) == (2, "")
    assert why in said.err

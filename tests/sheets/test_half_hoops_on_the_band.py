"""What is sewn and printed where a half hoop ends on the waistband and not in a casing of its tapes."""

from __future__ import annotations

from half_hoop import half_hoop

from cage3d.miniature.maquette import build_maquette
from cage3d.miniature.order import Order
from cage3d.sheets.assembly.threading import threading_steps
from cage3d.sheets.steel import cutting_list
from cage3d.sheets.tapes import tape_sets


def test_its_ends_are_sewn_to_the_band_and_not_into_casings() -> None:
    cuts = cutting_list(half_hoop().cage)
    upper, lower = threading_steps(cuts)
    assert upper.title == "Thread hoop 1"
    assert "sew both ends fast to the waistband where these two begin" in upper.text
    assert "thread from tape 1 to tape 3, sew both ends fast there" in lower.text
    assert [mark.at for mark in cuts[0].marks if mark.names[0] in {"tape 1", "tape 3"}] == [0.0, 0.66]
    # The side tapes have one casing, that of hoop 2; the one at the back has two.
    casings = {one.tapes: [casing.hoop for casing in one.casings] for one in tape_sets(half_hoop().cage)}
    assert sorted(casings.values()) == [[1, 2], [2]]


def test_a_miniature_has_its_openings() -> None:
    """By hand, with the band as one place: hoop 1 and the tapes at the sides, each from the band; the tape at the
    back, over hoop 1 to hoop 2. Edges 2 + 1 + 1 + 2, and 2 of hoop 2; places 1 + 1 + 3: 8 - 5 + 1 openings.
    """
    (body,) = build_maquette(
        half_hoop(112), Order("1:6", "resin", parts=("hoops", "tapes", "waistband"))
    ).bodies
    assert body.genus == 4

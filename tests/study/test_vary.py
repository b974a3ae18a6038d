"""A sweep gives what each of its designs gives alone, whoever settles it and however often it is stopped."""

from __future__ import annotations

from concurrent.futures import ProcessPoolExecutor, ThreadPoolExecutor
from functools import cache
from multiprocessing import get_context

import numpy as np
import pytest
from calling import SMALL

from cage3d.design.models import Design
from cage3d.design.read import text_as_written
from cage3d.settle import settle
from cage3d.shape.lay_out import lay_out
from cage3d.study.sweeping import vary as varying
from cage3d.study.sweeping.ranges import steps_of
from cage3d.study.sweeping.sweep import Sweep
from cage3d.study.sweeping.vary import Varied, evenly, vary

INCH = 0.0254
NODES = 24


def sweep(*words: str, text: str = SMALL) -> Sweep:
    design, data = text_as_written(text, "small.yaml")
    return Sweep(design, data, steps_of(design, words))


@cache
def lengths() -> Varied:
    return vary(sweep("hoop 2 length", "60..70", "by", "2"), nodes=NODES)


def column(varied: Varied, name: str) -> np.ndarray:
    return np.array([told.figures[name] for told in varied.told])


def same(one: Varied, other: Varied) -> bool:
    places = [(one.settled(at).positions, other.settled(at).positions) for at in one.answers]
    return one.told == other.told and all(np.array_equal(a, b) for a, b in places)


def test_a_variant_hangs_as_its_design_does_alone():
    varied = lengths()
    assert varied.answers == list(range(6))
    for variant in range(6):
        design = varied.sweep.variant(variant)
        assert isinstance(design, Design)
        assert design.hoops[1].length == pytest.approx((60 + 2 * variant) * INCH, abs=1e-12)
        alone = settle(lay_out(design, NODES))
        assert np.abs(varied.settled(variant).positions - alone.positions).max() < 1e-6
        assert varied.settled(variant).trusted


def test_a_higher_waist_lifts_every_hoop_by_as_much():
    varied = vary(sweep("waist height", "41..43", "by", "1/2"), nodes=NODES)
    for name in ("hem_lowest_m", "hoop_1_height_back_m"):
        assert np.diff(column(varied, name)) == pytest.approx([INCH / 2] * 4, abs=2e-6)
    assert np.ptp(column(varied, "width_side_side_m")) < 2e-6


def test_a_heavier_skirt_hangs_on_the_waist_whole():
    skirted = vary(
        sweep("skirt weight", "0.5..1.5 kg by 0.5", text=SMALL + "skirt: {weight: 1 kg}\n"), nodes=NODES
    )
    assert np.diff(column(skirted, "weight_kg")) == pytest.approx([0.5, 0.5], abs=1e-6)
    assert column(skirted, "skirt_kg") == pytest.approx([0.5, 1.0, 1.5], abs=1e-6)


def test_a_grid_counts_along_the_first_figure():
    varied = vary(sweep("hoop 2 length", "62..66", "by", "2", "drop 1", "-1..+1", "by", "2"), nodes=NODES)
    assert [varied.sweep.name(variant) for variant in range(6)][2:4] == ["66 in, -1 in", "62 in, +1 in"]
    assert column(varied, "hoop_2_length_m") == pytest.approx(np.array([62, 64, 66] * 2) * INCH, abs=1e-6)
    hem = column(varied, "hem_lowest_m").reshape(2, 3)
    # The tape to hoop 1 leans by less than 30 degrees, so 2 in of it are 1.7 to 2.3 in of height.
    assert np.all((hem[0] - hem[1] > 1.7 * INCH) & (hem[0] - hem[1] < 2.3 * INCH))


def test_one_tape_alone_out_of_a_list_for_all():
    design = sweep("tape 2 drop 1", "9..10", "by", "1/2").variant(2)
    assert isinstance(design, Design)
    assert [row[0] / INCH for row in design.tapes.drops] == pytest.approx([9, 10, 9, 9, 9, 9])


def test_other_tapes_are_other_cages():
    varied = vary(sweep("tape count", "5..7", "by", "1"), nodes=NODES)
    counts = [varied.settled(variant).cage.connectivity.tape_count for variant in varied.answers]
    assert counts == [5, 6, 7]


def test_what_cannot_be_stands_in_its_place():
    """A waist at 15 in lays a cage of 17 in of drops on the floor, where nothing holds it."""
    free = SMALL.replace("hem: {clearance: [22, 28]}\n", "")
    low, high = vary(sweep("waist height", "15..41", "by", "26", text=free), nodes=NODES).told
    assert not low.figures
    assert "on the floor" in low.why
    assert not low.refused
    assert high.figures
    refused = vary(sweep("hoop 2 length", "10..62", "by", "52"), nodes=NODES).told
    assert refused[0].refused
    assert "hoops[1].length" in refused[0].why
    assert refused[1].figures


def test_whoever_settles_them_they_are_the_same():
    words = ("hoop 2 length", "60..70", "by", "2")
    with ThreadPoolExecutor(3) as threads:
        assert same(vary(sweep(*words), threads, nodes=NODES), lengths())
    with ProcessPoolExecutor(2, get_context("spawn")) as processes:
        assert same(vary(sweep(*words), processes, nodes=NODES), lengths())


class Shelf(dict[str, bytes]):
    put = dict.__setitem__


def test_a_sweep_goes_on_where_it_was(monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr("cage3d.study.sweeping.sweep.LONGEST_STRETCH", 2)
    shelf, all_of_it = Shelf(), sweep("hoop 2 length", "60..66", "by", "2")
    first = vary(all_of_it, keep=shelf, nodes=NODES)
    assert len(shelf) == 2
    broken = next(iter(shelf))
    shelf[broken] = shelf[broken][:1000]  # as no whole file is, but another program's might be
    worked: list[int] = []
    settle_stretch = varying.settle_stretch
    monkeypatch.setattr(
        varying, "settle_stretch", lambda *given: (worked.append(1), settle_stretch(*given))[1]
    )
    assert same(vary(all_of_it, keep=shelf, nodes=NODES), first)
    assert len(worked) == 1
    other = sweep("hoop 2 length", "60..66", "by", "2", text=SMALL.replace("length: 52", "length: 51"))
    vary(other, keep=shelf, nodes=NODES)
    assert len(worked) == 3


def test_picked_evenly_with_both_ends():
    assert evenly(range(5), 9) == [0, 1, 2, 3, 4]
    assert evenly(range(100), 4) == [0, 33, 66, 99]

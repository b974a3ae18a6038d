"""Variants from Python: as on the command line, by any executor, a cluster's too."""

from __future__ import annotations

import warnings
from concurrent.futures import ThreadPoolExecutor
from importlib.util import find_spec
from pathlib import Path

import numpy as np
import pytest
from calling import SMALL
from judges import missing

import cage3d
from cage3d import CageError, DesignError, VariedCages, WrittenCage
from cage3d.design.read import text_as_written

INCH = 0.0254
NODES = 24
LENGTHS = "hoop 2 length 60..70 by 2"


@pytest.fixture(scope="module")
def small() -> WrittenCage:
    return WrittenCage(*text_as_written(SMALL, "small.yaml"))


@pytest.fixture(scope="module")
def varied(small: WrittenCage) -> VariedCages:
    return cage3d.vary(small, LENGTHS, nodes=NODES)


def same(one: VariedCages, other: VariedCages) -> bool:
    pairs = [(a.hung.crossings, b.hung.crossings) for a, b in zip(one, other, strict=True)]
    return one.data == other.data and all(np.array_equal(a, b) for a, b in pairs)


def test_each_variant_is_the_cage_written_so(small: WrittenCage, varied: VariedCages) -> None:
    assert (len(varied), varied.shape) == (6, (6,))
    assert [one.name for one in varied][::5] == ["60 in", "70 in"]
    assert varied[2].values == (pytest.approx(64 * INCH),)
    longer = small.with_hoop(2, length="64 in")
    assert varied[2].cage == longer
    alone = longer.settle(NODES)
    assert varied[2].hung.heights() == pytest.approx(alone.heights(), abs=1e-6)
    assert varied.figure("hem_lowest_m", "in")[2] == pytest.approx(alone.report.hem.lowest_m / INCH, abs=1e-3)
    assert varied[-1].name == "70 in"
    with pytest.raises(IndexError):
        varied[6]


def test_a_grid_has_two_dimensions(small: WrittenCage) -> None:
    grid = cage3d.vary(small, "hoop 2 length 60..64 by 2", "drop 1 -1..+1 by 2", nodes=NODES)
    assert grid.shape == (3, 2)
    found = grid.figure("hoop_2_length_m", "in")
    assert found == pytest.approx(np.array([[60, 60], [62, 62], [64, 64]]), abs=1e-3)
    hem = grid.figure("hem_lowest_m")
    assert np.all(hem[:, 0] > hem[:, 1])


def test_one_that_cannot_be_has_its_reason(small: WrittenCage) -> None:
    found = cage3d.vary(small, "hoop 2 length 10..60 by 50", nodes=NODES)
    assert not found[0].hangs
    assert "hoop 2 is shorter than the waist" in found[0].why
    assert "no answer" in repr(found[0])
    assert np.isnan(found.figure("hem_lowest_m")).tolist() == [True, False]
    with pytest.raises(DesignError):
        _ = found[0].hung
    assert found.data["variants"][0]["figures"] is None


def test_what_cannot_be_asked(small: WrittenCage, varied: VariedCages) -> None:
    with pytest.raises(CageError, match="Did you mean hoop 2 length"):
        cage3d.vary(small, "hop 2 length 60..64 by 2")
    with pytest.raises(CageError, match="no number of processes"):
        cage3d.vary(small, LENGTHS, jobs=0)
    with pytest.raises(CageError, match="no number of nodes"):
        cage3d.vary(small, LENGTHS, nodes=3)
    with pytest.raises(CageError, match="Did you mean hem_lowest_m"):
        varied.figure("hem_lowest")
    with pytest.raises(CageError, match="no unit of length"):
        varied.figure("hem_lowest_m", "kg")


def test_its_files(varied: VariedCages, tmp_path: Path) -> None:
    found = varied.write(tmp_path / "out")
    assert [path.suffix for path in found.written] == [".csv", ".svg", ".svg", ".html"]
    assert all(path.stat().st_size > 1000 for path in found.written)


def test_an_executor_of_any_kind(
    small: WrittenCage, varied: VariedCages, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("cage3d.study.sweeping.sweep.LONGEST_STRETCH", 3)
    with ThreadPoolExecutor(2) as threads:
        in_two = cage3d.vary(small, LENGTHS, executor=threads, nodes=NODES)
    monkeypatch.setattr("cage3d.study.sweeping.vary.AHEAD", 1)
    with ThreadPoolExecutor(2) as threads:
        assert same(cage3d.vary(small, LENGTHS, executor=threads, nodes=NODES), in_two)
    assert same(cage3d.vary(small, LENGTHS, nodes=NODES), in_two)
    assert np.abs(in_two.figure("hem_lowest_m") - varied.figure("hem_lowest_m")).max() < 2e-6


def test_a_cluster_of_two_workers(small: WrittenCage, monkeypatch: pytest.MonkeyPatch) -> None:
    """Two processes behind a scheduler give what this process gives; what is sent to them is small."""
    if find_spec("distributed") is None:
        missing('distributed (the extra "cluster")')
    monkeypatch.setattr("cage3d.study.sweeping.sweep.LONGEST_STRETCH", 3)
    here = cage3d.vary(small, LENGTHS, nodes=NODES)
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # of the cluster's own libraries
        from distributed import Client, LocalCluster

        with (
            LocalCluster(n_workers=2, threads_per_worker=1, dashboard_address=None) as cluster,  # type: ignore[no-untyped-call]
            Client(cluster) as client,  # type: ignore[no-untyped-call]
        ):
            there = cage3d.vary(small, LENGTHS, executor=client.get_executor(), nodes=NODES)
    assert same(there, here)

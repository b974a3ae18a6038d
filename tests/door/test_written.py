"""A cage that is changed in Python keeps the rules of the design, and says what is wrong in the same words."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path
from typing import Any

import numpy as np
import pytest

import cage3d
from cage3d import CageError, DesignError, WrittenCage

SAMPLES = Path(__file__).parents[2] / "samples"
SHORT = SAMPLES / "a-short-petticoat.yaml"
INCH = 0.0254


@pytest.fixture(scope="module")
def short() -> WrittenCage:
    return cage3d.read(SHORT)


@pytest.mark.parametrize(
    "length", [70, 70.0, "70", "70 in", "5 ft 10 in", "177.8 cm", np.float64(70), np.array(70)]
)
def test_a_length_is_read_as_in_a_file_and_a_bare_one_is_in_the_units_of_the_design(
    short: WrittenCage, length: Any
) -> None:
    longer = short.with_hoop(4, length=length)
    assert [hoop.length for hoop in longer.design.hoops] == pytest.approx(
        [n * INCH for n in (48, 60, 69, 70)]
    )
    assert short.design.hoops[3].length == pytest.approx(74 * INCH)
    assert short == cage3d.read(SHORT) != longer


def test_bare_numbers_of_a_metric_design_are_metric() -> None:
    data = {
        "name": "Metric",
        "wearer": {"waist": 66, "waist_height": 105},
        "steel": {"width": "12 mm", "thickness": "0.6 mm"},
        "tapes": {"count": 8, "drops": (23, 20)},
        "hoops": [{"length": 130}, {"length": 155}],
    }
    with pytest.raises(DesignError, match="does not say its units"):
        cage3d.read_data(data)
    for cage in (cage3d.read_data({"units": "cm", **data}), cage3d.read_data(data, units="cm")):
        assert cage.design.hoops[0].length == pytest.approx(1.30)
        assert cage.with_hoop(1, length=132.5).design.hoops[0].length == pytest.approx(1.325)


@pytest.mark.parametrize("wrong", ["70 parsecs", "70 m", "-3", "0", "1/0", "3 kg", "48 mm"])
def test_a_fault_is_said_as_of_a_file(short: WrittenCage, tmp_path: Path, wrong: str) -> None:
    file = tmp_path / "wrong.yaml"
    file.write_text(
        SHORT.read_text(encoding="utf-8").replace("length: 74", f"length: {wrong}"), encoding="utf-8"
    )
    with pytest.raises(DesignError) as of_file:
        cage3d.read(file)
    with pytest.raises(DesignError) as of_change:
        short.with_hoop(4, length=wrong)
    said, expected = (
        sorted((one.why, one.try_this) for one in fault.value.problems) for fault in (of_change, of_file)
    )
    assert said == expected
    assert "hoops[3]" in of_change.value.problems[0].where


def test_all_faults_of_a_change_come_at_once(short: WrittenCage) -> None:
    with pytest.raises(DesignError) as raised:
        short.with_values({"wearer.waist": "3 elephants", "steel.width": "-12 mm"})
    assert [problem.where for problem in raised.value.problems] == ["wearer.waist", "steel.width"]


@pytest.mark.parametrize(
    ("values", "where", "words"),
    [
        ({"hoops[3].lenght": 3}, "hoops[3].lenght", "Did you mean length"),
        ({"hoops[9].length": 3}, "hoops[9].length", "holds 4 values"),
        ({"hoops.length": 3}, "hoops.length", "a list stands above length"),
        ({"steel[0]": 3}, "steel[0]", r"a group of keys stands above \[0\]"),
        ({"wearer.waist.front": 3}, "wearer.waist.front", "one value stands above front"),
        ({"hoops[x]": 3}, "hoops[x]", "no place"),
        ({"": 3}, "", "no place"),
        ({4: 3}, "4", "no place"),
        ({"hoops": None}, "hoops", "hoops is missing"),
    ],
)
def test_a_place_that_there_is_not(short: WrittenCage, values: Any, where: str, words: str) -> None:
    with pytest.raises(DesignError, match=words) as raised:
        short.with_values(values)
    assert raised.value.problems[0].where == where


@pytest.mark.parametrize("number", [0, 5, -1, 2.0, "2", True, None])
def test_a_hoop_that_there_is_not(short: WrittenCage, number: Any) -> None:
    for change in (short.with_hoop, lambda hoop, length: short.with_drop(hoop, length)):
        with pytest.raises(DesignError, match=r"no such hoop.*from 1 to 4"):
            change(number, length="70 in")


def test_one_drop_of_all_tapes_and_of_one(short: WrittenCage) -> None:
    """The sample's drops are 8 1/4, 6, 5 1/2 and 5 in on each of eight tapes."""
    drops = np.tile(np.array([8.25, 6, 5.5, 5]) * INCH, (8, 1))
    drops[:, 1] = 7 * INCH
    assert short.with_drop(2, 7).design.tapes.drops == pytest.approx(drops)
    drops[2, 3] = 4.5 * INCH
    both = short.with_drop(2, 7).with_drop(4, "4 1/2 in", tape=3)
    assert both.design.tapes.drops == pytest.approx(drops)
    drops[:, 0] = 9 * INCH
    assert both.with_drop(1, 9).design.tapes.drops == pytest.approx(drops)
    with pytest.raises(DesignError, match="no such tape"):
        short.with_drop(2, 7, tape=9)


def test_a_tie_more_and_a_tie_changed(short: WrittenCage) -> None:
    tied = short.with_tie(1, from_="hoop 3 tape 3", to="hoop 3 tape 6", length=15)
    assert [(tie.from_, tie.to, tie.length) for tie in tied.design.ties] == [
        ("hoop 3 tape 3", "hoop 3 tape 6", pytest.approx(15 * INCH))
    ]
    shorter = tied.with_tie(1, length="14 in")
    assert (shorter.design.ties[0].from_, shorter.design.ties[0].length) == (
        "hoop 3 tape 3",
        pytest.approx(14 * INCH),
    )
    with pytest.raises(DesignError, match="no hoop 9"):
        tied.with_tie(2, from_="hoop 9 tape 3", to="hoop 3 tape 6", length=15)
    with pytest.raises(DesignError, match=r"no such tie.*from 1 to 2"):
        tied.with_tie(3, length=15)


def test_what_belongs_together_is_changed_together(short: WrittenCage) -> None:
    fifth = {"hoops[4]": {"length": 76}, "tapes.drops[4]": 3}
    assert len(short.with_values(fifth).design.hoops) == 5
    for place, value in fifth.items():
        with pytest.raises(DesignError):
            short.with_values({place: value})


def test_keys_that_were_not_written_are_begun_and_written_ones_taken_away(short: WrittenCage) -> None:
    changed = short.with_values({"hoops[1].steel.width": "9 mm", "skirt": None})
    assert changed.design.steel_of(1).width == pytest.approx(0.009)
    assert changed.design.steel_of(0).width == pytest.approx(0.007)
    assert changed.design.skirt is None
    assert short.design.skirt is not None


def test_what_is_given_is_copied(short: WrittenCage) -> None:
    hoops = [{"length": 48}, {"length": 60}, {"length": 69}, {"length": 74}]
    changed = short.with_values({"hoops": hoops})
    hoops[3]["length"] = 70_000
    assert changed.with_hoop(1, length=49).design.hoops[3].length == pytest.approx(74 * INCH)
    steel = {"width": "8 mm", "thickness": "0.5 mm"}
    short.with_values({"steel": steel, "steel.width": "9 mm"})
    assert steel["width"] == "8 mm"


@pytest.mark.parametrize("nodes", [3, 0, -1, 1e3, "many", True, 10**9])
def test_a_number_of_nodes_that_cannot_be(short: WrittenCage, nodes: Any) -> None:
    with pytest.raises(CageError, match=r"no number of nodes.*16 to 4096"):
        short.settle(nodes)


def test_it_shows_itself_in_one_line(short: WrittenCage) -> None:
    assert repr(short) == "<WrittenCage 'Short petticoat on four hoops': 4 hoops on 8 tapes>"


def test_importing_and_reading_load_no_more_than_they_need() -> None:
    asked = (
        "import sys, cage3d\n"
        "loaded = lambda *names: sorted(set(names) & set(sys.modules))\n"
        "print(loaded('numpy', 'scipy', 'pydantic', 'ruamel.yaml', 'rich'))\n"
        f"cage3d.read({str(SHORT)!r})\n"
        "print(loaded('scipy', 'rich', 'trimesh', 'pyvista', 'reportlab', 'manifold3d'))\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", asked], capture_output=True, text=True, check=True, timeout=60
    )
    assert done.stdout == "[]\n[]\n"


def test_every_name_of_the_front_door_is_there() -> None:
    assert {"read", "make", "WrittenCage", "HungCage", "CageError", "__version__"} <= set(cage3d.__all__)
    assert all(getattr(cage3d, name) is not None for name in cage3d.__all__)
    assert set(cage3d.__all__) <= set(dir(cage3d))
    with pytest.raises(AttributeError, match="no attribute 'reed'"):
        _ = cage3d.reed

"""First designs read back, meet the hem they were asked for, and clear the hips."""

from __future__ import annotations

import math
import unicodedata
from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from cage3d.design import rules
from cage3d.design.first.body import hip_half_breadth
from cage3d.design.first.brief import Brief
from cage3d.design.first.profile import SILHOUETTES, dome, levels
from cage3d.design.first.starter import first_design
from cage3d.design.first.text import hip_words
from cage3d.design.models import Design
from cage3d.design.read import read_text
from cage3d.errors import DesignError
from cage3d.units import INCH

SHORT = Brief(
    waist=26 * INCH, waist_height=41.5 * INCH, hip=39 * INCH, hip_drop=8 * INCH, hem=74 * INCH,
    clearance=(17 * INCH, 18.5 * INCH),
)  # fmt: skip
LONG = replace(
    SHORT, hem=110 * INCH, clearance=(8 * INCH, 10 * INCH), hoops=7, tapes=10, steel=(0.012, 0.0005)
)


def hem_height(design: Design) -> float:
    """m, the lowest hoop above the floor if all hoops are level and round: dz = sqrt(L^2 - dr^2)."""
    radii = [length / math.tau for length in (design.wearer.waist, *(hoop.length for hoop in design.hoops))]
    falls = [
        math.sqrt(drop**2 - (radii[n + 1] - radii[n]) ** 2) for n, drop in enumerate(design.tapes.drops[0])
    ]
    assert isinstance(design.wearer.waist_height, float)
    return design.wearer.waist_height - design.waistband.depth / 2 - sum(falls)


@pytest.mark.parametrize("units", ["in", "cm"])
@pytest.mark.parametrize("measures", [SHORT, LONG], ids=["short", "long"])
@pytest.mark.parametrize("silhouette", sorted(SILHOUETTES))
def test_reads_back_and_meets_its_hem(silhouette: str, measures: Brief, units: str) -> None:
    design = read_text(first_design(replace(measures, silhouette=silhouette, units=units)))
    assert rules.remarks(design) == []
    middle = sum(measures.clearance) / 2
    assert hem_height(design) == pytest.approx(middle, abs=0.005)
    assert design.hoops[-1].length == pytest.approx(measures.hem, abs=0.006)
    assert design.hem.clearance == pytest.approx(measures.clearance, abs=0.0016)


def test_the_dome_is_that_of_the_long_sample() -> None:
    """The long sample's hoops (48 ... 110 in) lie on the dome within 5 % of the hem."""
    depths, lengths = [6.63, 11.12, 15.42, 20.10, 24.42, 28.34, 32.08], [48, 68, 84, 95, 103, 108, 110]
    for depth, length in zip(depths, lengths, strict=True):
        assert dome(depth / depths[-1], 26 / 110) == pytest.approx(length / 110, abs=0.075)


@pytest.mark.parametrize("name", sorted(SILHOUETTES))
def test_profiles_end_at_the_hem(name: str) -> None:
    assert SILHOUETTES[name](1.0, 0.3) == pytest.approx(1.0)


def test_silhouettes_differ_as_their_names_say() -> None:
    at = {name: [profile(s, 0.3) for s in (0.25, 0.5, 0.75)] for name, profile in SILHOUETTES.items()}
    assert at["bell"] < at["cone"] < at["dome"] < at["drum"]
    assert max(at["lantern"]) > 1.1


def test_hoops_stand_closer_towards_the_hem() -> None:
    for hoops in range(1, 21):
        places = [0.0, *levels(hoops)]
        steps = [after - before for before, after in pairwise(places)]
        assert places[-1] == pytest.approx(1.0)
        assert steps == sorted(steps, reverse=True)


def test_hips_of_the_samples_wearer() -> None:
    """Hip 39 in measures 13 1/2 in side to side on the samples' wearer."""
    assert 2 * hip_half_breadth(39 * INCH) / INCH == pytest.approx(13.5, abs=0.3)


HIP_LONG = replace(SHORT, hem=90 * INCH, clearance=(8 * INCH, 10 * INCH), hoops=5)


def test_a_bell_flares_from_the_hip_where_the_hip_asks_for_it() -> None:
    """39 in round the hip and 1 in of room all round: 2 pi (6 3/4 + 1) = 48.7 in, so 49; then wider and wider."""
    text = first_design(replace(HIP_LONG, silhouette="bell"))
    rounds = [hoop.length / INCH for hoop in read_text(text).hoops]
    assert rounds[0] == pytest.approx(49)
    assert rounds[-1] == pytest.approx(90)
    steps = [after - before for before, after in pairwise(rounds)]
    assert all(step > 5 for step in steps), rounds
    assert steps == sorted(steps), rounds
    told = " ".join(line.removeprefix("# ") for line in text.splitlines() if line.startswith("#"))
    assert "Her hip decides hoops 1 and 2: a bell from the waist would measure" in told
    assert "inside her hip with its 1 in of room. The bell begins at the hip instead." in told


@pytest.mark.parametrize("silhouette", sorted(SILHOUETTES))
def test_nothing_is_told_of_a_hip_that_decides_nothing(silhouette: str) -> None:
    slim = replace(HIP_LONG, silhouette=silhouette, hip=None, hip_drop=None)
    assert hip_words(slim) is None
    assert (hip_words(replace(HIP_LONG, silhouette=silhouette)) is None) == (
        silhouette not in ("bell", "cone")
    )


def test_a_hem_narrower_than_the_hip_is_as_wide_as_the_hip_asks() -> None:
    narrow = replace(HIP_LONG, silhouette="cone", hem=45 * INCH)
    assert read_text(first_design(narrow)).hoops[-1].length == pytest.approx(49 * INCH)
    assert "as wide as the hip asks" in (hip_words(narrow) or "")


def test_hoops_clear_the_hips() -> None:
    design = read_text(first_design(replace(SHORT, silhouette="bell", hem=60 * INCH)))
    assert design.hoops[0].length / math.tau >= hip_half_breadth(39 * INCH) + 0.019


@pytest.mark.parametrize(
    ("change", "message"),
    [
        ({"silhouette": "cube"}, "silhouette is not known"),
        ({"hem": 20 * INCH}, "not longer than the waist"),
        ({"hoops": 0}, "1 to 20 hoops"),
        ({"tapes": 1}, "3 to 40 tapes"),
        ({"units": "ft"}, "inches or centimetres"),
        ({"hip_drop": None}, "go together"),
        ({"clearance": (0.3, 0.2)}, "more than the most"),
        ({"clearance": (1.0, 1.0)}, "at the waist or above"),
        ({"hem": 400 * INCH, "silhouette": "drum"}, "this wide on 4 hoops"),
    ],
)
def test_measures_that_make_no_cage(change: dict[str, object], message: str) -> None:
    with pytest.raises(DesignError, match=message):
        first_design(replace(SHORT, **change))  # type: ignore[arg-type]


@settings(deadline=None)
@given(
    st.floats(0.55, 1.2),
    st.floats(0.9, 1.2),
    st.floats(1.4, 4.0),
    st.floats(0.05, 0.5),
    st.sampled_from(sorted(SILHOUETTES)),
    st.integers(1, 12),
    st.integers(3, 24),
    st.sampled_from(["in", "cm"]),
)
def test_any_first_design_reads_back(
    waist: float,
    height: float,
    hem: float,
    low: float,
    silhouette: str,
    hoops: int,
    tapes: int,
    units: str,
) -> None:
    measures = Brief(waist, height, hem, (low, low + 0.05), silhouette, hoops=hoops, tapes=tapes, units=units)
    try:
        text = first_design(measures)
    except DesignError:
        assume(False)
    design = read_text(text)
    assert hem_height(design) == pytest.approx(low + 0.025, abs=0.03)


@settings(deadline=None)
@given(st.text(max_size=30))
def test_any_name_is_kept_or_refused(name: str) -> None:
    try:
        text = first_design(replace(SHORT, name=name))
    except DesignError:
        return
    assert read_text(text).name == unicodedata.normalize("NFC", name).strip()

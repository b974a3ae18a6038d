"""Whatever is in a file, reading it ends with a Design or with a DesignError, never with anything else."""

from __future__ import annotations

import contextlib
from pathlib import Path
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from cage3d.design.read import read_data, read_text
from cage3d.errors import DesignError

EGG = (Path(__file__).parents[2] / "samples" / "d-back-weighted-egg.yaml").read_text("utf-8")
PIECES = st.sampled_from(
    [
        "[",
        "]",
        "{",
        "}",
        ":",
        " : ",
        "-",
        "\n",
        "\n- ",
        "\t",
        '"',
        "'",
        "#",
        "&a",
        "*a",
        "!",
        "|",
        ">",
        "%",
        "@",
        "?",
        "0",
        "1e9",
        ".nan",
        "in",
        "½",
        "\0",
        "\x85",
        "\ufeff",
        "~",
        "hoop 1 tape 1",
        "front",
        "12345678901234567890",
    ]
)
VALUES = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=8) | PIECES,
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=4), inner, max_size=3),
    max_leaves=6,
)


@settings(deadline=None, max_examples=150)
@given(st.integers(0, len(EGG)), st.integers(0, 60), st.lists(PIECES, max_size=4))
def test_a_sample_with_a_hole_in_it(at: int, hole: int, pieces: list[str]) -> None:
    with contextlib.suppress(DesignError):
        read_text(EGG[:at] + "".join(pieces) + EGG[at + hole :])


@settings(deadline=None)
@given(st.text(max_size=60))
def test_any_text(text: str) -> None:
    with contextlib.suppress(DesignError):
        read_text(text)


def places_in(data: Any, above: tuple[str | int, ...] = ()) -> list[tuple[str | int, ...]]:
    steps: Any = data.items() if isinstance(data, dict) else enumerate(data) if isinstance(data, list) else ()
    return [place for key, item in steps for place in [(*above, key), *places_in(item, (*above, key))]]


RICH: dict[str, Any] = {
    "name": "rich",
    "units": "in",
    "wearer": {
        "waist": 26,
        "waist_breadth": 9.3,
        "waist_depth": 7.1,
        "waist_height": {"front": 41, "left": 41, "back": 41, "right": 41},
        "high_hip": 35,
        "high_hip_drop": 4,
        "hip": 39,
        "hip_drop": 8,
        "hip_breadth": 13,
        "hip_depth": 9,
        "knee": 14,
        "knee_height": 19,
    },
    "waistband": {"depth": 1, "overlap": 6},
    "padding": [{"place": "back", "thickness": 0.5, "height": 4, "drop": 5}],
    "steel": {
        "width": "7 mm",
        "thickness": "0.5 mm",
        "strands": 1,
        "coating": 0,
        "modulus": "205 GPa",
        "poisson": 0.3,
        "set_radius": "50 cm",
        "threaded": "against",
    },
    "tapes": {
        "count": 4,
        "stations": [0.1, 0.4, 0.6, 0.9],
        "rest": "top",
        "drops": [[8, 6]] * 4,
        "allowance": {"top": 1, "bottom": 1},
        "stretch": {"by": "1 %", "at": "1 kg"},
    },
    "hoops": [
        {"length": 48, "opening": "front", "overhang": 0.5, "rest": ["top", "top", 0.1, "bottom"]},
        {"length": 60, "join": {"tube": 1}, "carries": "0.1 kg", "steel": {"strands": 2}},
    ],
    "ties": [{"from": "hoop 2 tape 1", "to": "hoop 2 tape 2", "length": 9, "name": "a"}],
    "panels": [{"tapes": [2, 3], "hoops": [1, 2], "widths": [4, 5]}],
    "skirt": [
        {"cloth": "taffeta", "layers": 2, "fullness": 2, "below_hem": 1, "on_cage": 0.6, "hoops": [1, 2]},
        {"weight": "1 kg", "lies": {"front": 0.2, "sides": 0.4, "back": 0.4}},
        {"weight": "1 kg", "lies": [0.1, 0.2, 0.3, 0.4]},
    ],
    "hem": {"clearance": [8, 10]},
    "stage": {"door": 34},
    "buying": {
        "currency": "EUR",
        "spare": 0.1,
        "steel": [{"length": 999, "price": 9}],
        "prices": {"ribbon": 1},
    },
    "printing": {"scale": "1:6", "process": "filament"},
}
PLACES = places_in(RICH)


def with_value(data: Any, place: tuple[str | int, ...], value: Any) -> Any:
    """A copy of the data with another value at one place."""
    if not place:
        return value
    copy: Any = dict(data) if isinstance(data, dict) else list(data)
    copy[place[0]] = with_value(copy[place[0]], place[1:], value)
    return copy


def test_the_rich_design_is_right() -> None:
    assert read_data(RICH).panels[0].tapes == (2, 3)
    assert len(PLACES) > 80


@settings(deadline=None, max_examples=400)
@given(st.sampled_from(PLACES), VALUES)
def test_any_value_anywhere(place: tuple[str | int, ...], value: Any) -> None:
    with contextlib.suppress(DesignError):
        read_data(with_value(RICH, place, value))

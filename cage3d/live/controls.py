"""What can be moved while she looks, grouped as a maker thinks, each in the unit in which it is written."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np

from cage3d.design.faults import place_of
from cage3d.design.hoop_materials import one_stuff
from cage3d.design.models import Design
from cage3d.design.models.cage import Slide
from cage3d.steady import steady
from cage3d.study.aiming.way_back import usual_step
from cage3d.study.aiming.writing import FINEST
from cage3d.study.numbers import TIGHTEST
from cage3d.study.sweeping.varying import PLAIN, Varying, drops_written, levels_written, numbers_written
from cage3d.units import INCH, LENGTH, MASS, PER_AREA, PER_LENGTH, SHARE, Kind, UnitError, show_inches
from cage3d.units.kinds import factor, unit_word
from cage3d.units.showing import short
from cage3d.units.written import in_one_unit, in_two_units, tidied
from cage3d.wording import capital

# Groups in the order of the page: their name, a word on them, and which places of a design they hold. {0}: what the
# hoops are made of.
GROUPS = (
    ("Lengths", "Every hoop, finished, round or end to end", r"hoops\[\d+\]\.(length|overhang)"),
    ("Drops", "Tape from {0} to {0}; hoop 1 from the waistband", r"tapes\.drops\[\d+\]\[\d+\]"),
    ("Levels", "Down the cloth from the waistband to each hoop", r"cloth\.levels(\[\d+\]|\.\w+)\[\d+\]"),
    ("Cloth", "How much longer than its hoop a casing is (ease), how far an open hoop stands apart (gap), what it "
     "weighs. What is of the cutting is not moved here but written in the file: gores, seams, casings, allowances, the "
     "width in which it is bought, a fabric by name",
     r"cloth\.(ease|girths\[\d+\]|gap|fabric)"),
    ("Ties", "Ribbons inside the cage", r"ties\[\d+\]\.length"),
    ("Panels", "Laced panels", r"panels\[\d+\]\.(tightness|widths\[\d+\])"),
    ("Skirt", "What hangs on the cage", r"skirt(\[\d+\])?\.(weight|below_hem|fullness(\.top|\.hem)?|on_cage)"),
    ("Steel", "The strip of every hoop, and of those that have their own",
     r"(hoops\[\d+\]\.)?steel\.(width|thickness|diameter|wall|coating|set_radius)"),
)  # fmt: skip
# How far a slider goes either way as a share of what is written, our own judgement; what is typed may go further.
REACH = {
    "Lengths": 0.2, "Drops": 0.4, "Levels": 0.15, "Cloth": 0.5, "Ties": 0.25, "Panels": 0.4, "Skirt": 0.9, "Steel": 0.5,
}  # fmt: skip
# Steps: of widths and thicknesses those in which strip is sold, of the others our own judgement.
STEPS = {
    "steel.width": 5e-4, "steel.thickness": 5e-5, "steel.diameter": 5e-4, "steel.wall": 5e-4, "steel.set_radius": 0.01,
    "cloth.ease": 0.0025,
}  # fmt: skip
STEPS_OF_KIND = {
    MASS.name: 0.01,
    PER_LENGTH.name: 1e-3,
    PER_AREA.name: 5e-3,
    SHARE.name: 0.01,
    PLAIN.name: 0.05,
}
FROM_NOTHING = {
    LENGTH.name: 0.3,
    MASS.name: 2.0,
    PER_LENGTH.name: 0.02,
    SHARE.name: TIGHTEST,
    PLAIN.name: 3.0,
}
WORDS = {"length": LENGTH, "share": SHARE, "weight": MASS}
SELDOM = (
    r"\]\.(steel|overhang)|set_radius|coating|fullness|below_hem|on_cage"  # written: moved only where it is
)
DIGITS = 4
SAME = 1e-9


@dataclass(frozen=True)
class Control:
    """One number of the design: how it is called and written, and between what a slider moves it (SI)."""

    group: str
    place: str  # as faults name it
    name: str
    kind: Kind
    value: float
    text: str  # as it is written
    unit: str  # in which she writes it
    scale: float  # SI of one of it
    suffix: str  # what is written behind the number: " mm", or nothing for a bare one
    least: float
    most: float
    step: float

    def text_of(self, value: float) -> str:
        """A value (SI) as she writes it: '7 1/2', '0.5 mm', '5 %'."""
        if self.unit == "in" and abs(value / INCH * FINEST - round(value / INCH * FINEST)) < 1e-3:
            return show_inches(value, 1 / FINEST) + self.suffix
        return short(value / self.scale, DIGITS) + self.suffix

    @property
    def part(self) -> dict[str, Any] | None:
        """Which part of the picture it belongs to."""
        numbers = [step for step in place_of(self.place) if isinstance(step, int)]
        group = "tapes" if self.group == "Drops" else place_of(self.place)[0]
        if group == "cloth" and len(numbers) < 2:  # of one hoop all round, or of all the cloth
            return {"group": "hoops", "number": numbers[0] + 1} if numbers else None
        if group == "skirt":
            return {"group": "skirt", "number": 0}
        return {"group": group, "number": numbers[0] + 1} if numbers else None

    @property
    def as_json(self) -> dict[str, Any]:
        word = next((word for word, kind in WORDS.items() if kind is self.kind), "number")
        told = {key: getattr(self, key) for key in ("place", "name", "text", "unit", "suffix", "scale")}
        numbers = {key: steady(getattr(self, key), 9) for key in ("value", "least", "most", "step")}
        return told | numbers | {"kind": word, "part": self.part, "fractions": 16 if self.unit == "in" else 0}


def controls_of(design: Design, data: Mapping[str, Any]) -> list[Control]:
    """All of them in the order of the page; data: the design as it is written."""
    known = [*numbers_written(design), *down_written(design), *fabric_weighed(design)]
    known = [one for one in known if len(one.places) == 1 and counts(design, one.places[0])]
    found = []
    for group, _, places in GROUPS:
        own = [one for one in known if re.fullmatch(places, one.places[0]) and one.values[0] is not None]
        found += [control_of(design, data, group, one) for one in own if is_said(data, one.places[0])]
    return found


def down_written(design: Design) -> Iterator[Varying]:
    """How far down each hoop hangs: drops of tapes, or levels on the cloth that carries them."""
    return drops_written(design) if design.cloth is None else levels_written(design)


def fabric_weighed(design: Design) -> Iterator[Varying]:
    """The weight of the cloth that carries the hoops, where it is not written by the cloth's name."""
    if design.cloth is not None and not isinstance(design.cloth.fabric, str):
        yield Varying(("cloth weight",), PER_AREA, ("cloth.fabric",), (design.cloth.fabric,))


def counts(design: Design, place: str) -> bool:
    """Whether a number does something: no ease beside written girths, no gap where no hoop is open."""
    if design.cloth is None or place not in ("cloth.ease", "cloth.gap"):
        return True
    if place == "cloth.ease":
        return design.cloth.girths is None
    return any(hoop.opening != "none" for hoop in design.hoops)


def is_said(data: Mapping[str, Any], place: str) -> bool:
    """Whether it may be moved: what is seldom written only where it is."""
    return text_at(data, place) is not None or not re.search(SELDOM, place)


def is_one_row(rows: Any) -> bool:
    """Whether one list of drops or levels stands for every tape or seam."""
    return isinstance(rows, list) and not any(isinstance(row, list) for row in rows)


def text_at(data: Mapping[str, Any], place: str) -> str | None:
    """What is written there, None where nothing is; one list of drops or levels stands for all of them."""
    steps = place_of(place)
    if steps[:2] in (("tapes", "drops"), ("cloth", "levels")):
        rows = data[str(steps[0])][steps[1]]
        if is_one_row(rows):
            steps = (*steps[:2], steps[-1])
    held: Any = data
    for step in steps:
        try:
            held = held[step]
        except (KeyError, IndexError, TypeError):
            return None
    return None if held is None or isinstance(held, (dict, list)) else str(held)


def control_of(design: Design, data: Mapping[str, Any], group: str, one: Varying) -> Control:
    place, value = one.places[0], float(one.values[0] or 0.0)
    written = text_at(data, place)
    unit, suffix = unit_of(written, one.kind, design.units)
    scale = factor(unit, one.kind) if unit else 1.0
    step = next((size for end, size in STEPS.items() if place.endswith(end)), None)
    step = step or (usual_step(design) if one.kind is LENGTH else STEPS_OF_KIND.get(one.kind.name, 0.01))
    least, most = ends(value, step, REACH[group], one.kind)
    if (slide := slide_at(design, place)) is not None:
        least, most = max(least, slide.least), min(most, slide.most)
    bare = Control(
        group, place, capital(one.name), one.kind, value, "", unit, scale, suffix, least, most, step
    )
    own_unit = written is not None and tidied(written).endswith(unit)
    in_feet = design.units == "ft" and one.kind is LENGTH and not own_unit  # bare, and shown in inches
    text = bare.text_of(value) if written is None or in_feet else written
    return Control(**(vars(bare) | {"text": text}))


def slide_at(design: Design, place: str) -> Slide | None:
    """Between what a length can be moved: that of a hoop whose join slides, by no more than it slides."""
    found = re.fullmatch(r"hoops\[(\d+)\]\.length", place)
    return None if found is None else design.hoops[int(found[1])].slide


def unit_of(written: str | None, kind: Kind, units: str | None) -> tuple[str, str]:
    """(unit, what stands behind a number): as it is written, else the design's, else the kind's first."""
    usual = ("in" if units == "ft" else units or "mm") if kind is LENGTH else ""
    bare = usual, "" if units == usual else f" {usual}".rstrip()
    if written is None:
        first = next(iter(kind.units))
        return bare if kind is LENGTH else (first, f" {first}".rstrip()) if first != "g" else ("kg", " kg")
    plain = tidied(written)
    try:
        word = (in_two_units(plain.lower(), kind) or in_one_unit(plain, kind))[2]
    except UnitError:
        return bare
    return (unit_word(word), f" {unit_word(word)}") if word.strip() else bare


def ends(value: float, step: float, reach: float, kind: Kind) -> tuple[float, float]:
    """(least, most) of a slider, whole steps from where it stands; never below nothing, nor a share above the whole."""
    if value <= SAME:
        return 0.0, FROM_NOTHING.get(kind.name, 1.0)
    most = max(round(reach * value / step), 8)
    fewest = min(most, int(value / step - SAME))
    least = value - fewest * step
    return (least if least > SAME else step), min(value + most * step, 1.0 if kind is SHARE else np.inf)


def groups_json(controls: list[Control], stuff: str) -> list[dict[str, Any]]:
    """The groups that hold something, with their controls; stuff: what the hoops are made of."""
    told = [
        {
            "name": capital(one_stuff(stuff, "hoops")) if name == "Steel" else name,
            "words": words.format(one_stuff(stuff)),
            "controls": [one.as_json for one in controls if one.group == name],
        }
        for name, words, _ in GROUPS
    ]
    return [group for group in told if group["controls"]]

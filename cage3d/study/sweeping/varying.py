"""Every figure of a design that can be varied, by the name that a maker would say."""

from __future__ import annotations

import typing
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import Any

import numpy as np
from pydantic import BeforeValidator

from cage3d.design import counts, quantities
from cage3d.design.forms import Written
from cage3d.design.models import Design, LevelsBySide
from cage3d.design.points import station_fractions
from cage3d.design.routes import drops_in_play
from cage3d.units import DENSITY, LENGTH, MASS, PER_LENGTH, PRESSURE, SHARE, Kind

PLAIN = Kind("a plain number", {"": 1.0}, "0.3", "")
COUNT = Kind("a whole number", {"": 1.0}, "8", "")
KINDS = {
    quantities.Length: LENGTH,
    quantities.LengthOrZero: LENGTH,
    quantities.Mass: MASS,
    quantities.MassPerLength: PER_LENGTH,
    quantities.Pressure: PRESSURE,
    quantities.Density: DENSITY,
    quantities.Fraction: SHARE,
    counts.Poisson: PLAIN,
    counts.Friction: PLAIN,
    counts.Fullness: PLAIN,
    counts.Count: COUNT,
}
KIND_OF_READER = {typing.get_args(alias)[1]: kind for alias, kind in KINDS.items()}
PARTS = ("wearer", "waistband", "padding", "steel", "tapes", "hoops", "ties", "panels", "skirt")
SPOKEN = {"wearer": "", "tapes": "tape", "hoops": "hoop", "ties": "tie", "panels": "panel"}
SIDES = {"front": (0.0,), "left": (0.25,), "back": (0.5,), "right": (0.75,), "sides": (0.25, 0.75)}
NEAR = 1e-6  # share of the girth, within which two tapes are equally near to a side
Step = str | int  # a key, or a place in a list


@dataclass(frozen=True)
class Varying:
    """A figure: one number of the design, or several that are changed together."""

    names: tuple[str, ...]  # the first is shown, the others are understood too
    kind: Kind
    places: tuple[str, ...]  # in the design's data: "hoops[3].length"
    values: tuple[float | None, ...]  # as they are, in SI; None: not written
    shares: tuple[float, ...] = ()  # of a change, that each takes; none where all take the whole

    @property
    def name(self) -> str:
        return self.names[0]

    @property
    def uneven(self) -> bool:
        """Whether its numbers differ, so that no one value stands for them."""
        return len(set(self.values)) > 1


def varyings(design: Design) -> list[Varying]:
    """All of them: single numbers, then those that are changed together."""
    single = [
        *numbers_written(design),
        *(drops_written(design) if design.cloth is None else levels_written(design)),
    ]
    return [*single, *together(design, single)]


def numbers_written(design: Design) -> Iterator[Varying]:
    for part in parts_of(design):
        for path, kind, value in leaves(getattr(design, part), (part,)):
            names = names_of(design, path)
            yield Varying(names, kind, (place_of(path),), (inherited(design, path, value),))


def parts_of(design: Design) -> Iterator[str]:
    """Cloth in place of tapes where it carries the hoops."""
    return ("cloth" if part == "tapes" and design.cloth is not None else part for part in PARTS)


def leaves(value: Any, path: tuple[Step, ...]) -> Iterator[tuple[tuple[Step, ...], Kind, float | None]]:
    """Every number below a part of the design, as far as it has a kind; drops and counted places are none."""
    if isinstance(value, tuple) and all(isinstance(item, Written) for item in value):
        for number, item in enumerate(value):
            yield from leaves(item, (*path, number))
    if not isinstance(value, Written):
        return
    hints = typing.get_type_hints(type(value), include_extras=True)
    for key in type(value).model_fields:
        held = getattr(value, key)
        if isinstance(held, Written):
            yield from leaves(held, (*path, key))
        elif isinstance(held, tuple):
            if key in ("widths", "girths"):
                yield from (((*path, key, number), LENGTH, item) for number, item in enumerate(held))
        elif (kind := kind_of(hints[key])) and (held is None or isinstance(held, int | float)):
            yield (*path, key), kind, held


def kind_of(hint: Any) -> Kind | None:
    """The kind of quantity that a field holds, None for words, groups and lists."""
    if typing.get_origin(hint) is tuple:
        return None
    for reader in typing.get_args(hint)[1:] if typing.get_origin(hint) is typing.Annotated else ():
        if isinstance(reader, BeforeValidator) and reader in KIND_OF_READER:
            return KIND_OF_READER[reader]
    inner = (kind_of(part) for part in typing.get_args(hint) if not isinstance(part, str))
    return next((kind for kind in inner if kind is not None), None)


def inherited(design: Design, path: tuple[Step, ...], value: float | None) -> float | None:
    """A hoop's own steel, where it has none, is the design's."""
    if value is None and path[0] == "hoops" and path[2] == "steel":
        held = getattr(design.steel, str(path[3]))
        return None if held is None else float(held)
    return value


def place_of(path: tuple[Step, ...]) -> str:
    """'hoops[3].length'."""
    return "".join(f"[{step}]" if isinstance(step, int) else f".{step}" for step in path).lstrip(".")


def names_of(design: Design, path: tuple[Step, ...]) -> tuple[str, ...]:
    """'hoop 4 length', 'hip', 'panel 1 width at hoop 2'; a tie by its own name too."""
    part, *rest = path
    words = [SPOKEN.get(str(part), str(part))]
    if part == "panels" and rest[1] == "widths":
        panel = design.panels[int(rest[0])]
        return (f"panel {int(rest[0]) + 1} width at hoop {panel.hoops[int(rest[-1])]}",)
    if part == "cloth" and rest[0] == "girths":
        return (f"cloth girth at hoop {int(rest[1]) + 1}",)
    words += [str(step + 1) if isinstance(step, int) else step.replace("_", " ") for step in rest]
    name = " ".join(word for word in words if word)
    if part == "ties" and (own := design.ties[int(rest[0])].name):
        return name, f"{own} {rest[-1]}"
    return (name,)


def drops_written(design: Design) -> Iterator[Varying]:
    for tape, played in enumerate(drops_in_play(design)):
        for drop in played:
            place, value = f"tapes.drops[{tape}][{drop}]", design.tapes.drops[tape][drop]
            yield Varying((f"tape {tape + 1} drop {drop + 1}",), LENGTH, (place,), (value,))


def levels_written(design: Design) -> Iterator[Varying]:
    """Levels of casings on the cloth: by side, or on each seam and on all together."""
    cloth = design.cloth
    assert cloth is not None
    if isinstance(cloth.levels, LevelsBySide):
        for side in ("front", "sides", "back"):
            for hoop, level in enumerate(getattr(cloth.levels, side) or ()):
                place = f"cloth.levels.{side}[{hoop}]"
                yield Varying((f"level {hoop + 1} at the {side}",), LENGTH, (place,), (level,))
        return
    rows = cloth.levels_at_seams()
    for hoop in range(len(design.hoops)):
        places = tuple(f"cloth.levels[{seam}][{hoop}]" for seam in range(len(rows)))
        values = tuple(row[hoop] for row in rows)
        yield Varying((f"level {hoop + 1}",), LENGTH, places, values)
        for seam, (place, level) in enumerate(zip(places, values, strict=True), start=1):
            yield Varying((f"seam {seam} level {hoop + 1}",), LENGTH, (place,), (level,))


def together(design: Design, single: list[Varying]) -> Iterator[Varying]:
    """Numbers that are changed together: a row of drops, those at one side, the lengths of all hoops."""
    if design.cloth is None:
        yield from drops_together(design)

    def without_number(one: Varying) -> str:
        first, _, *rest = one.name.split(" ")
        return " ".join([first, *rest])

    listed = ("hoops[", "ties[", "panels[", "padding[", "skirt[")
    several = sorted((one for one in single if one.places[0].startswith(listed)), key=without_number)
    for name, found in groupby(several, without_number):
        members = [one for one in found if one.values[0] is not None]
        if members:
            places, values = (
                tuple(getattr(one, what)[0] for one in members) for what in ("places", "values")
            )
            first, rest = name.split(" ", 1)
            alone = (rest,) if first == "panel" else ()
            yield Varying((name, f"all {name}", *alone), members[0].kind, places, values)


def drops_together(design: Design) -> Iterator[Varying]:
    """Rows of drops, and those at one side."""
    played = drops_in_play(design)
    stations = np.asarray(station_fractions(design.tapes))
    every = range(len(played))
    for drop in sorted({drop for own in played for drop in own}):
        long = [tape for tape in every if drop in played[tape]]
        yield drop_row(design, f"drop {drop + 1}", [(tape, drop) for tape in long])
        for side, at in SIDES.items():
            tapes = [long[tape] for place in at for tape in nearest_tapes(stations[long], place)]
            yield drop_row(design, f"drop {drop + 1} at the {side}", [(tape, drop) for tape in tapes])
    for tape in every:
        yield drop_row(design, f"tape {tape + 1} drops", [(tape, drop) for drop in played[tape]])
    yield drop_row(design, "all drops", [(tape, drop) for tape in every for drop in played[tape]])


def drop_row(design: Design, name: str, pairs: Sequence[tuple[int, int]]) -> Varying:
    """pairs: (tape, its drop), both from 0."""
    places = tuple(f"tapes.drops[{tape}][{drop}]" for tape, drop in pairs)
    return Varying((name,), LENGTH, places, tuple(design.tapes.drops[tape][drop] for tape, drop in pairs))


def nearest_tapes(stations: Any, place: float) -> list[int]:
    """Tapes (from 0) nearest to a place round her: one, or two that are equally near."""
    off = np.abs((np.asarray(stations) - place + 0.5) % 1.0 - 0.5)
    return [int(tape) for tape in np.flatnonzero(off < off.min() + NEAR)]

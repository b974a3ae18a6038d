"""A named part of the model, and the kinds of part that can be shown or left out."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Set
from dataclasses import dataclass
from functools import cached_property

from cage3d.errors import CommandError, Problem
from cage3d.mesh.solid import Solid
from cage3d.shape.arrays import Floats, Ints
from cage3d.wording import nearest

# The one list of what a model is made of; the names are what `--parts` takes.
KINDS: Mapping[str, str] = {
    "hoops": "the steels",
    "joins": "where a closed hoop's ends meet",
    "tips": "the caps on the ends of open hoops",
    "tapes": "the vertical tapes",
    "cloth": "the gores of cloth that carry the hoops in place of tapes",
    "casings": "the casings the steels pass through",
    "waistband": "the band with its closure",
    "ties": "ties inside the cage",
    "panels": "the laces of panels",
    "form": "the wearer's form on a stand",
    "wearer": "the wearer whole, instead of the form",
    "skirt": "the surface of the skirt over the hoops",
    "floor": "the floor",
}
ALL_KINDS = frozenset(KINDS)
USUAL_KINDS = ALL_KINDS - {"wearer"}  # she is shown where she is asked for
CAGE_KINDS = USUAL_KINDS - {"form", "skirt", "floor"}  # what is made of steel and cloth by the maker


def with_wearer(kinds: Set[str]) -> frozenset[str]:
    """The same kinds, her form replaced by herself."""
    return frozenset(kinds) - {"form"} | {"wearer"}


@dataclass(frozen=True)
class Part:
    """One part: its shape, what it is called, and its measures.

    name: unique in a model ("hoop 3"); kind: a key of KINDS; number: its hoop, tape, tie or
    panel counted from 1, 0 where it has none; material: a key of scene.looks.LOOKS;
    told: gives its measures, in SI (the unit ends the key) and as text in the design's units; asked where a file or a
    table has them, since putting them into words takes longer than the shape.
    """

    name: str
    kind: str
    solid: Solid
    material: str
    number: int = 0
    told: Callable[[], Mapping[str, object]] = dict

    @cached_property
    def extras(self) -> Mapping[str, object]:
        """Its measures; nothing for a part that has none of its own."""
        return self.told()

    @property
    def vertices(self) -> Floats:
        """(n, 3) m, as drawn: a point on a sharp edge comes once for every side."""
        return self.solid.drawn[0]

    @property
    def faces(self) -> Ints:
        """(m, 3) indices of vertices, counter-clockwise seen from outside."""
        return self.solid.drawn[1]

    @property
    def normals(self) -> Floats:
        """(n, 3) unit, outward."""
        return self.solid.drawn[2]

    @property
    def flat(self) -> Floats:
        """(n, 2) m, along and across: where the vertices lie in the surface laid flat, as a cloth's weave runs."""
        return self.solid.flat


def wanted_kinds(written: str | None) -> frozenset[str]:
    """The kinds that `--parts` asks for: 'hoops,tapes' only these, 'no-skirt,no-form' all but these.

    None or 'all': every usual kind. Raises CommandError for a name that is none, with the list of names.
    """
    names = [name.strip().lower() for name in (written or "all").split(",") if name.strip()]
    left_out = {name.removeprefix("no-") for name in names if name.startswith("no-")}
    shown = {name for name in names if not name.startswith("no-")}
    unknown = sorted((left_out | shown) - ALL_KINDS - {"all"})
    if unknown:
        raise CommandError([unknown_kind(name) for name in unknown])
    kinds = (USUAL_KINDS if "all" in shown or not shown else frozenset(shown)) - left_out
    if not kinds:
        raise CommandError(
            Problem("--parts", written or "", "leaves nothing to show", f"Parts are: {', '.join(KINDS)}")
        )
    return kinds


def unknown_kind(name: str) -> Problem:
    near = nearest(name, KINDS)
    perhaps = f"Did you mean {near}? " if near else ""
    return Problem("--parts", name, "is not a part of the model", f"{perhaps}Parts are: {', '.join(KINDS)}")

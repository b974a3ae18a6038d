"""What hoops are made of, by the names under which it is sold, and where each number is from.

[from memory]: not looked up in print; bend, weigh and measure your own. [common practice]: how workrooms do it,
without a published source.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, NamedTuple

Form = Literal["flat", "round", "hollow"]
MaterialName = Literal[
    "flat steel", "covered steel", "round cane", "plastic rod", "plastic hose", "plastic strip"
]
FLAT_STEEL: MaterialName = "flat steel"


class Between(NamedTuple):
    """What is usual, and the ends between which a piece from a shop lies."""

    low: float
    usual: float
    high: float


NO_COVER = Between(0.0, 0.0, 0.0)


@dataclass(frozen=True)
class HoopMaterial:
    """One material of hoops."""

    form: Form
    stuff: str  # what it is in the middle of a sentence: steel, cane, plastic
    modulus: Between  # Pa
    density: Between  # kg/m3
    cover: Between = NO_COVER  # kg/m
    poisson: float = 0.29
    yield_stress: float | None = None  # Pa; None where a least radius tells how far it may be bent
    least_radius: float = 0.0  # the same, in thicknesses or diameters
    overbent: str = "keep a kink"  # what it will do where it is bent farther
    creeps: bool = False  # keeps a part of the curve that it is held in

    @property
    def is_steel(self) -> bool:
        return self.stuff == "steel"


def steel(cover: Between) -> HoopMaterial:
    return HoopMaterial(
        form="flat",
        stuff="steel",
        modulus=Between(200e9, 205e9, 210e9),
        density=Between(7850.0, 7850.0, 7850.0),
        cover=cover,
        yield_stress=1200e6,
    )


def polyester(form: Form) -> HoopMaterial:
    return HoopMaterial(
        form=form,
        stuff="plastic",
        modulus=Between(2e9, 2.5e9, 3e9),
        density=Between(1380.0, 1380.0, 1380.0),
        poisson=0.40,
        least_radius=40.0,
        overbent="crease",
        creeps=True,
    )


# All numbers are [from memory], the least radii [common practice]. Cane is softer in twist than what is alike all ways,
# as it is taken here. Strip and rod are polyester, hose is polyethylene.
HOOP_MATERIALS: dict[MaterialName, HoopMaterial] = {
    "flat steel": steel(NO_COVER),
    "covered steel": steel(Between(0.003, 0.005, 0.008)),
    "round cane": HoopMaterial(
        form="round",
        stuff="cane",
        modulus=Between(1e9, 2e9, 3e9),
        density=Between(400.0, 525.0, 650.0),
        poisson=0.30,
        least_radius=30.0,
        overbent="crack",
    ),
    "plastic rod": polyester("round"),
    "plastic hose": HoopMaterial(
        form="hollow",
        stuff="plastic",
        modulus=Between(0.8e9, 0.95e9, 1.1e9),
        density=Between(950.0, 950.0, 950.0),
        poisson=0.42,
        least_radius=15.0,
        overbent="crease",
        creeps=True,
    ),
    "plastic strip": polyester("flat"),
}

SOURCE = "from memory"  # of all these numbers; stands beside each that is told


def one_stuff(stuff: str, several: str = "hoop") -> str:
    """'steel', 'cane'; several: what is said where hoops are of several things."""
    return several if " and " in stuff else stuff


def one_hoop(stuff: str) -> str:
    """What a hoop is called at the bench: 'steel', or 'hoop' where one of them is of anything else."""
    return "steel" if stuff == "steel" else "hoop"


def what_it_bears(stuff: str) -> str:
    """'what steel bears before it keeps a kink'; stuff: what hoops are made of, one or several listed."""
    verbs = {of.stuff: of.overbent for of in HOOP_MATERIALS.values()}
    if stuff not in verbs:
        return f"what {stuff} bear before they are spoilt"
    verb, *rest = verbs[stuff].split(" ", 1)
    return " ".join([f"what {stuff} bears before it {verb}s", *rest])

"""The strip of the design and of one hoop, key by key: the arithmetic written out."""

from __future__ import annotations

import math

from cage3d.shape.cage import Cage
from hand.cage import RADIUS, Figure, hoop, mass, masses, reported, stiffness, two_hoops

# Strip 10 x 0.5 mm at 200 GPa: E b t^3/12, E t b^3/12, and with G = 200 / 2.5 = 80 GPa G b t^3/3 (1 - 0.63 t/b).
EASY, STIFF, TWIST = 0.25 / 12, 100 / 12, 0.1 / 3 * (1 - 0.63 / 20)

RESTED = {
    "wearer": {"waist": 1000},
    "tapes": {"count": 8},
}  # hangs straight down, so that the ring stays round
FREED, AGAINST = ((0.00025 / RADIUS + sign * 0.00025 / 0.5) / 0.006 for sign in (-1, 1))


# Round, 10 mm through: E pi d^4 / 64 both ways and G pi d^4 / 32, d^4 = 1e-8; a bore of 6 mm takes 0.6^4 of it.
ROD = {"material": "round cane", "diameter": 10, "width": None, "thickness": None}
ROUND, ROUND_TWIST, BORED = 2000 * math.pi / 64, 800 * math.pi / 32, 1 - 0.6**4


def strain(cage: Cage) -> float:
    return reported(cage).hoops[0].strain_used


STEEL = [
    Figure(
        "steel.width", {"steel": {"width": 20}}, stiffness, (2 * EASY, 8 * STIFF, 0.2 / 3 * (1 - 0.63 / 40)),
    ),
    Figure(
        "steel.thickness", {"steel": {"thickness": 1}}, stiffness, (8 * EASY, 2 * STIFF, 0.8 / 3 * (1 - 0.063)),
    ),
    Figure("steel.strands", {"steel": {"strands": 2}}, stiffness, (2 * EASY, 2 * STIFF, 2 * TWIST)),
    Figure("steel.strands", {"steel": {"strands": 2}}, mass, 2 * 0.040),
    Figure("steel.coating", {"steel": {"coating": "5 g/m"}}, mass, 0.040 + 0.005),
    Figure("steel.modulus", {"steel": {"modulus": "100 GPa"}}, stiffness, (EASY / 2, STIFF / 2, TWIST / 2)),
    Figure("steel.poisson", {"steel": {"poisson": 0}}, stiffness, (EASY, STIFF, TWIST * 1.25)),
    Figure("steel.density", {"steel": {"density": 7000}}, mass, 7000 * 0.010 * 0.0005),
    # On tapes that hang straight down a ring stays round: strain t/2R, yielding at 500 MPa / 200 GPa.
    Figure(
        "steel.yield_stress",
        {"steel": {"yield_stress": "500 MPa"}, "wearer": {"waist": 1000}, "tapes": {"count": 8}},
        lambda cage: reported(cage).hoops[0].strain_used, 0.00025 / RADIUS / 0.0025, 0.02,
    ),
    # Strain t/2 (1/R -+ 1/R0) over 1200 MPa / 200 GPa.
    Figure("steel.set_radius", RESTED | {"steel": {"set_radius": 500}}, strain, FREED, 0.01),
    Figure(
        "steel.threaded", RESTED | {"steel": {"set_radius": 500, "threaded": "against"}}, strain, AGAINST, 0.01,
    ),
    Figure("steel.material", {"steel": {"material": "covered steel"}}, mass, 0.040 + 0.005),
    Figure("steel.diameter", {"steel": ROD}, stiffness, (ROUND, ROUND, ROUND_TWIST)),
    Figure("steel.diameter", {"steel": ROD}, mass, 8000 * math.pi * 0.005**2),
    Figure(
        "steel.wall", {"steel": ROD | {"material": "plastic hose", "wall": 2}}, stiffness,
        (BORED * ROUND, BORED * ROUND, BORED * ROUND_TWIST),
    ),
    Figure("steel.layers", {"steel": {"layers": 2}}, stiffness, (2 * EASY, 2 * STIFF, 2 * TWIST)),
    Figure("steel.layers", {"steel": {"layers": 3}}, mass, 3 * 0.040),
    # Bent to 1/2pi m of the 100 mm that it bears.
    Figure("steel.least_radius", RESTED | {"steel": {"least_radius": 100}}, strain, 0.1 / RADIUS, 0.01),
    # Of another material, with its own stiffness (2 GPa), twist (over 2 x 1.3) and weight (1380 and 950 kg/m3).
    Figure(
        "hoops.steel.diameter", two_hoops(steel={"material": "round cane", "diameter": 10}), stiffness,
        (ROUND / 100, ROUND / 100, 20 / 2.6 * math.pi / 32),
    ),
    Figure(
        "hoops.steel.material", two_hoops(steel={"material": "plastic strip"}), masses,
        [0.040, 1.2 * 1380 * 0.010 * 0.0005],
    ),
    Figure(
        "hoops.steel.wall", two_hoops(steel={"material": "plastic hose", "diameter": 10, "wall": 2}), masses,
        [0.040, 1.2 * 950 * math.pi * (0.005**2 - 0.003**2)],
    ),
    Figure("hoops.steel.layers", two_hoops(steel={"layers": 2}), masses, [0.040, 1.2 * 0.080]),
    Figure("hoops.steel.least_radius", RESTED | hoop(steel={"least_radius": 80}), strain, 0.08 / RADIUS, 0.01),
    Figure(
        "hoops.steel.width", two_hoops(steel={"width": 20}), stiffness,
        (2 * EASY, 8 * STIFF, 0.2 / 3 * (1 - 0.63 / 40)),
    ),
    Figure("hoops.steel.thickness", two_hoops(steel={"thickness": 1}), masses, [0.040, 1.2 * 0.080]),
    Figure("hoops.steel.strands", two_hoops(steel={"strands": 3}), masses, [0.040, 1.2 * 0.120]),
    Figure("hoops.steel.coating", two_hoops(steel={"coating": "10 g/m"}), masses, [0.040, 1.2 * 0.050]),
    Figure(
        "hoops.steel.modulus", two_hoops(steel={"modulus": "100 GPa"}), stiffness,
        (EASY / 2, STIFF / 2, TWIST / 2),
    ),
    Figure("hoops.steel.poisson", two_hoops(steel={"poisson": 0}), stiffness, (EASY, STIFF, TWIST * 1.25)),
    Figure("hoops.steel.density", two_hoops(steel={"density": 7000}), masses, [0.040, 1.2 * 0.035]),
    Figure(
        "hoops.steel.yield_stress",
        {"wearer": {"waist": 1000}, "tapes": {"count": 8}} | hoop(steel={"yield_stress": "500 MPa"}),
        lambda cage: reported(cage).hoops[0].strain_used, 0.00025 / RADIUS / 0.0025, 0.02,
    ),
    Figure("hoops.steel.set_radius", RESTED | hoop(steel={"set_radius": 500}), strain, FREED, 0.01),
    Figure(
        "hoops.steel.threaded", RESTED | hoop(steel={"set_radius": 500, "threaded": "against"}), strain,
        AGAINST, 0.01,
    ),
]  # fmt: skip

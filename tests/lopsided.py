"""A cage whose four sides hang at four known heights, so that an exchange of sides shows anywhere.

Eight tapes hang straight down from a waist as wide as the hoops, and their drops are those of a
plane: 200 mm, 40 more at her left and 40 less at her right, 30 more at the front and 30 less at
the back. Round the girth by her left from 22.5 degrees in steps of 45 that is
200 + 40 sin + 30 cos, with sin, cos 0.38268 and 0.92388 or the other way round. A ring of steel
then hangs in that plane, and each height is that of the waistband's lower edge (1000 - 20 / 2 mm)
less the drop. Hoop 2 hangs 100 mm lower.
"""

from __future__ import annotations

from functools import cache

from cage3d.design.read import read_data
from cage3d.report import Report, measure
from cage3d.settle import SettledCage, settle
from cage3d.shape.lay_out import lay_out

DROPS = [243.0, 248.4, 225.5, 187.6, 157.0, 151.6, 174.5, 212.4]  # mm, tapes 1 to 8
LEFT_TAPES, RIGHT_TAPES = (1, 2, 3, 4), (5, 6, 7, 8)
FRONT_TAPES, BACK_TAPES = (1, 2, 7, 8), (3, 4, 5, 6)
# m above the floor: hoop 1 at front, left, back and right, where the drops are 230, 240, 170 and 160 mm.
SIDES = {"front": 0.760, "left": 0.750, "back": 0.820, "right": 0.830}
AT_TAPES = [0.990 - drop / 1000 for drop in DROPS]
RADIUS = 0.15915  # m, of a girth of 1 m
NEAR = 0.003  # m; the tilted ring is a little narrower than the waist above it, and steel gives


@cache
def lopsided() -> tuple[SettledCage, Report]:
    """Hoop 1 lapped at centre back, hoop 2 in a tube at centre front; a slack tie at her left."""
    design = read_data({
        "name": "Lopsided",
        "units": "mm",
        "wearer": {"waist": 1000, "waist_height": 1000, "waist_breadth": 318, "waist_depth": 318},
        "waistband": {"depth": 20},
        "steel": {"width": 10, "thickness": 0.6},
        "tapes": {"count": 8, "casing": 20, "drops": [[drop, 100] for drop in DROPS]},
        "hoops": [
            {"length": 1000, "join": {"overlap": 50}},
            {"length": 1000, "join": {"tube": 30}, "join_at": "front"},
        ],
        "ties": [{"from": "hoop 1 tape 2", "to": "hoop 1 tape 3", "length": 140, "name": "left tie"}],
    })  # fmt: skip
    settled = settle(lay_out(design, 48))
    return settled, measure(settled)

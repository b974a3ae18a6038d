"""The written design as data: every value in SI units (m, kg, N, Pa, rad).

The models say what may be written; `design.read` turns YAML into them and gives
every fault its line and column; `design.rules` holds what one value demands of
another.
"""

from cage3d.design.models.around import Buying, Hem, Minutes, Printing, Stage, Stock
from cage3d.design.models.cage import (
    Allowance,
    AtOnePlace,
    Hoop,
    Join,
    Opening,
    Panel,
    Rest,
    Route,
    Stretch,
    Tapes,
    Tie,
)
from cage3d.design.models.design import Design
from cage3d.design.models.gores import GoreAllowance, Gores, LevelsBySide, Seams
from cage3d.design.models.skirt import FullnessAtEnds, Skirt, SkirtSides
from cage3d.design.models.steel import Steel, SteelOfHoop, Threaded
from cage3d.design.models.wanted import WantedHoop
from cage3d.design.models.wearer import Padding, Place, Waistband, WaistHeights, Wearer

__all__ = [
    "Allowance",
    "AtOnePlace",
    "Buying",
    "Design",
    "FullnessAtEnds",
    "GoreAllowance",
    "Gores",
    "Hem",
    "Hoop",
    "Join",
    "LevelsBySide",
    "Minutes",
    "Opening",
    "Padding",
    "Panel",
    "Place",
    "Printing",
    "Rest",
    "Route",
    "Seams",
    "Skirt",
    "SkirtSides",
    "Stage",
    "Steel",
    "SteelOfHoop",
    "Stock",
    "Stretch",
    "Tapes",
    "Threaded",
    "Tie",
    "WaistHeights",
    "Waistband",
    "WantedHoop",
    "Wearer",
]

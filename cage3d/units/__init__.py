"""Lengths, weights and the like as makers write them, to SI floats and back; the only room that knows inches."""

from cage3d.units.kinds import (
    DENSITY,
    INCH,
    LENGTH,
    LONGEST,
    MASS,
    OUNCE,
    PER_AREA,
    PER_LENGTH,
    POUND,
    PRESSURE,
    SHARE,
    Kind,
    NoUnitsError,
    UnitError,
    unit_name,
)
from cage3d.units.reading import inches, length, length_range, mass, money, quantity, share
from cage3d.units.showing import both, show_inches, show_length, show_mm
from cage3d.units.written import LONG_DASHES, refuse_long, with_point

__all__ = [
    "DENSITY",
    "INCH",
    "LENGTH",
    "LONGEST",
    "LONG_DASHES",
    "MASS",
    "OUNCE",
    "PER_AREA",
    "PER_LENGTH",
    "POUND",
    "PRESSURE",
    "SHARE",
    "Kind",
    "NoUnitsError",
    "UnitError",
    "both",
    "inches",
    "length",
    "length_range",
    "mass",
    "money",
    "quantity",
    "refuse_long",
    "share",
    "show_inches",
    "show_length",
    "show_mm",
    "unit_name",
    "with_point",
]

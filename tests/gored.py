"""A gored petticoat of round numbers: a cone of cloth on a round waist, and what may be written otherwise."""

from __future__ import annotations

from typing import Any

from cage3d.design.models import Design
from cage3d.design.read import read_data

# A waist of 800 mm round, hoops of 1.2, 1.6 and 2.0 m, 250 mm of cloth from each to the next: a cone.
CONE: dict[str, Any] = {
    "name": "Cone of cloth",
    "units": "mm",
    "wearer": {"waist": 800, "waist_height": 1000, "waist_breadth": 250, "waist_depth": 250},
    "waistband": {"depth": 20},
    "steel": {"width": 10, "thickness": 0.7},
    "cloth": {"gores": 6, "levels": [250, 500, 750], "fabric": "150 g/m2", "ease": 0, "gap": 150},
    "hoops": [{"length": 1200, "join": "none"}, {"length": 1600, "join": "none"}, {"length": 2000, "join": "none"}],
}  # fmt: skip


# The same as a maker writes it, with a skirt; its cloth is a hundredth longer round each hoop.
TEXT = """\
# A cone of cloth; its girths are written.
name: Cone of cloth
units: mm
wearer: {waist: 800, waist_height: 1000, waist_breadth: 250, waist_depth: 250}
waistband: {depth: 20}
steel: {width: 10, thickness: 0.7}
cloth:
  gores: 6
  levels: [250, 500, 750]    # down the cloth
  girths: [1212, 1616, 2020]
  fabric: 150 g/m2
hoops:
  - {length: 1200, join: none}
  - {length: 1600, join: none}
  - {length: 2000, join: none}   # the hem
skirt: {weight: 1 kg}
"""


def written(cloth: dict[str, Any] | None = None, **others: Any) -> dict[str, Any]:
    """The cone's plain data with keys of its cloth, and others at the top, written otherwise; None leaves one out."""
    own = {key: value for key, value in (CONE["cloth"] | (cloth or {})).items() if value is not None}
    return {key: value for key, value in (CONE | {"cloth": own} | others).items() if value is not None}


def gored(cloth: dict[str, Any] | None = None, **others: Any) -> Design:
    return read_data(written(cloth, **others))

"""The waistband: marks along its ribbon from the cut end, with the turning for the buckle."""

from __future__ import annotations

from dataclasses import dataclass

from cage3d.design import trade
from cage3d.design.models import Design
from cage3d.design.routes import ways
from cage3d.shape.arrays import Floats
from cage3d.sheets.steel import SteelMark, gathered
from cage3d.sheets.writing import Writing


@dataclass(frozen=True)
class BandCut:
    """The ribbon of the waistband, one layer."""

    opens: str  # front or back: where the buckle sits
    cut: float  # m, as written on the list
    turning: float  # m turned under round the buckle's bar
    tongue: float  # m beyond the waist's girth, which goes through the buckle
    marks: tuple[SteelMark, ...]  # rising, m from the cut end at the buckle

    @property
    def direction(self) -> str:
        """Where the buckle sits and which way the ribbon runs from it."""
        if self.opens == "front":
            return "from the buckle at centre front by her left to the back, on by her right"
        return "from the buckle at centre back by her right to the front, on by her left"


def band_cut(design: Design, stations: Floats) -> BandCut:
    """The waistband's ribbon. stations: (T,) of the tapes, as shares of the girth from centre front.

    The turning at the buckle comes off the overlap; what is left of that is the tongue.
    """
    waist, overlap = design.wearer.waist, design.waistband.overlap
    turning = min(trade.BAND_TURNING, overlap / 2.0)
    start, here, across = (0.0, "CF", "CB") if design.band_opens == "front" else (0.5, "CB", "CF")
    places = [(f"{here}, buckle", 0.0), (across, 0.5 * waist), (f"{here} again", waist)]
    places += [
        (f"{design.line} {number}", float((at - start) % 1.0) * waist)
        for number, (at, way) in enumerate(zip(stations, ways(design), strict=True), 1)
        if way.from_band
    ]
    marks = gathered([(name, turning + along) for name, along in places])
    cut = Writing.of(design.units).rounded(waist + overlap)
    return BandCut(design.band_opens, cut, turning, overlap - turning, marks)

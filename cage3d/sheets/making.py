"""Everything the sheets say, worked out once; pages and tables only set it down."""

from __future__ import annotations

from dataclasses import dataclass, replace
from hashlib import sha256

from cage3d.design.models import Design
from cage3d.report.how_sure import legend
from cage3d.report.record import Report
from cage3d.shape.arrays import Floats
from cage3d.shape.cage import Cage
from cage3d.sheets.cloth_layout import ClothLayout, laid_on_cloth
from cage3d.sheets.cutting import CuttingPlan, plan_cutting
from cage3d.sheets.effects import Effect, effect_rows
from cage3d.sheets.gores import GoreSet, gore_sets
from cage3d.sheets.material import Material
from cage3d.sheets.materials import BAND, materials
from cage3d.sheets.steel import SteelCut, cutting_list
from cage3d.sheets.tapes import TapeSet, side_of, tape_sets
from cage3d.sheets.waistband import BandCut, band_cut
from cage3d.sheets.writing import Writing, typeset
from cage3d.wording import of_seams


@dataclass(frozen=True)
class Making:
    """One cage, ready to be made."""

    design: Design
    stations: Floats  # (T,) of the tapes, as shares of the girth from centre front
    report: Report  # as it hangs with its skirt
    bare: Report | None  # as it hangs without, on the stand; None where it has none or would not settle
    writing: Writing
    checksum: str
    cuts: tuple[SteelCut, ...]
    plans: tuple[CuttingPlan, ...]
    tapes: tuple[TapeSet, ...]  # of cloth its seams, which carry the same marks
    gores: tuple[GoreSet, ...]  # none on tapes
    layout: ClothLayout | None  # how these lie on the cloth
    band: BandCut
    materials: tuple[Material, ...]
    effects: tuple[Effect, ...]  # what a mark that is off does to the cage

    def says(self, text: str) -> str:
        """A text about tapes, or about the seams that stand in their place."""
        return of_seams(text) if self.gores else text

    def tapes_at(self, tape: int) -> TapeSet:
        """The set of one tape or seam (from 1)."""
        return next(one for one in self.tapes if tape in one.tapes)

    @property
    def sewn_kg(self) -> float:
        """Every line of the materials together."""
        return sum(row.weight for row in self.materials)

    @property
    def weight_kg(self) -> float:
        """The cage as it is lifted, with what its hoops carry."""
        return self.sewn_kg + sum(hoop.carries for hoop in self.design.hoops)

    @property
    def band_kg(self) -> float:
        """What rests on the waist and pulls on no hoop."""
        return sum(row.weight for row in self.materials if row.key in BAND)

    @property
    def heights_within(self) -> str:
        """' Heights ±¹⁄₈ in, nine times in ten.', to follow what is said of them; empty where it was not asked."""
        told = legend(replace(self.report, units=self.writing.unit), widths="")
        return "".join(f" {typeset(line)}." for line in told)

    @property
    def small_kg(self) -> float:
        """What hangs on the hoops beside steel, tubes and tapes."""
        known = (*BAND, "steel", "tube", "ribbon", "cloth", "casing")
        return sum(row.weight for row in self.materials if row.key not in known)


def prepared(cage: Cage, report: Report, bare: Report | None) -> Making:
    """Cuts, plans, tapes and materials of a cage. Raises DesignError where it cannot be made."""
    design = cage.design
    writing = Writing.of(design.units)
    gores = gore_sets(cage) if design.cloth is not None else ()
    layout = laid_on_cloth(gores, design.cloth.width) if design.cloth is not None else None
    cuts, tapes = cutting_list(cage), tape_sets(cage)
    plans = plan_cutting(cuts, design.buying.steel, design.buying.spare, writing)
    return Making(
        design=design,
        stations=cage.stations,
        report=report,
        bare=bare,
        writing=writing,
        checksum=checksum(design),
        cuts=cuts,
        plans=plans,
        tapes=tapes,
        gores=gores,
        layout=layout,
        band=band_cut(design, cage.stations),
        materials=materials(design, cuts, plans, tapes, layout),
        effects=effect_rows(report, [side_of(float(fraction)) for fraction in cage.stations]),
    )


def checksum(design: Design) -> str:
    """Eight letters that change with anything in the design."""
    return sha256(design.model_dump_json(by_alias=True).encode()).hexdigest()[:8]

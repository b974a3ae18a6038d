"""What to buy: every material with the maker's own spare share, its weight, and its price where given."""

from __future__ import annotations

from collections.abc import Sequence
from math import hypot

import numpy as np

from cage3d.design import trade
from cage3d.design.models import Design, Panel
from cage3d.design.routes import drop_table
from cage3d.shape.gores import area_mass, cloth_girths, gap_of
from cage3d.shape.weights import tape_mass_per_length
from cage3d.sheets.cloth_layout import ClothLayout
from cage3d.sheets.cutting import CuttingPlan
from cage3d.sheets.flattening import area
from cage3d.sheets.gores import GoreSet
from cage3d.sheets.material import Material, counted, measured
from cage3d.sheets.steel import SteelCut
from cage3d.sheets.steel_materials import joins_and_tips, steel_rows
from cage3d.sheets.tapes import TapeSet
from cage3d.sheets.writing import Writing, plural

BAND = ("waistband", "belting", "buckle")  # keys of what rests on her waist and pulls on no hoop


def materials(
    design: Design,
    cuts: Sequence[SteelCut],
    plans: Sequence[CuttingPlan],
    tapes: Sequence[TapeSet],
    layout: ClothLayout | None = None,
) -> tuple[Material, ...]:
    """The whole list, steel first. layout: of a petticoat's gores, whose seams `tapes` are."""
    rows = [*steel_rows(design, plans), *joins_and_tips(design, cuts)]
    rows += ribbon_rows(design, tapes) if layout is None else cloth_rows(design, layout)
    rows += [*band_rows(design), *(web_rows(design, tapes) if layout is None else ())]
    rows += [*tie_rows(design), *panel_rows(design)]
    rows.append(thread(design, tapes) if layout is None else thread_of_cloth(design, layout))
    return tuple(row for row in rows if row.amount > 0.0)


def ribbon_rows(design: Design, tapes: Sequence[TapeSet]) -> list[Material]:
    """Ribbon of the tapes."""
    own, writing = design.tapes, Writing.of(design.units)
    ribbon = sum(len(one.tapes) * one.ribbon for one in tapes)
    sewn = sum(len(one.tapes) * one.cut for one in tapes) * tape_mass_per_length(design)
    doubled = "doubled, " if own.doubled else ""
    detail = f"{doubled}{writing.full(own.width)} wide"
    return [measured(design, "Ribbon for the tapes", "ribbon", detail, ribbon, sewn)]


def cloth_rows(design: Design, layout: ClothLayout) -> list[Material]:
    """The cloth of the gores, as long as they lie on it, and the strips of their casings."""
    cloth, writing = design.cloth, Writing.of(design.units)
    assert cloth is not None
    count = len(layout.gores)
    sewn = sum(area(laid.outline) for laid in layout.gores) * area_mass(design)
    strips = sum(
        float(girth) - gap_of(design, hoop) + 2.0 * trade.TAPE_ALLOWANCE
        for hoop, girth in enumerate(cloth_girths(design)[1:])
    )
    wide = cloth.casing + 2.0 * trade.CASING_TURNING
    of = f"{1e3 * area_mass(design):.0f} g/m²"
    return [
        measured(
            design, "Cloth for the gores", "cloth", f"{plural(count, 'gore')}, {of}, {writing.full(cloth.width)} wide",
            layout.length, sewn,
        ),
        measured(
            design, "Strips for the casings", "casing", f"cloth or cotton tape, {writing.full(wide)} wide", strips,
            strips * wide * area_mass(design),
        ),
    ]  # fmt: skip


def band_rows(design: Design) -> list[Material]:
    """Waistband, its belting and buckle."""
    band, writing = design.waistband, Writing.of(design.units)
    band_cut = design.wearer.waist + band.overlap
    band_area = band_cut * band.depth
    return [
        measured(
            design,
            "Ribbon for the waistband",
            "waistband",
            f"doubled, {writing.full(band.depth)} deep, with {writing.full(band.overlap)} for the buckle",
            2.0 * band_cut,
            2.0 * band_area * trade.RIBBON_AREA,
        ),
        measured(
            design, "Belting", "belting", "inside the waistband", band_cut, band_area * trade.BELTING_AREA
        ),
        counted(design, "Buckle", "buckle", f"for {writing.full(band.depth)}", 1, trade.BUCKLE, spare=False),
    ]


def web_rows(design: Design, tapes: Sequence[TapeSet]) -> list[Material]:
    """What holds the two layers of doubled tapes together."""
    own = design.tapes
    if not own.doubled:
        return []
    web = sum(len(one.tapes) * max(one.fold - len(one.casings) * own.casing, 0.0) for one in tapes)
    mass = web * own.width * trade.WEB_AREA
    return [measured(design, "Fusible web, strip", "web", "between the casings, not in them", web, mass)]


def tie_rows(design: Design) -> list[Material]:
    """Ribbon for the ties, each with what its knots take."""
    length = sum(tie.length + trade.TIE_EXTRA for tie in design.ties)
    extra = Writing.of(design.units).full(trade.TIE_EXTRA)
    detail = f"{plural(len(design.ties), 'tie')}, {extra} extra on each for knots"
    return [measured(design, "Tie tape", "tie", detail, length, length * trade.TIE_WIDTH * trade.RIBBON_AREA)]


def panel_rows(design: Design) -> list[Material]:
    """Eyelets and lace of laced panels."""
    count, each = len(design.panels), trade.EYELETS_PER_PANEL
    lace = sum(lace_length(design, panel) for panel in design.panels)
    eyelets = each * count
    return [
        counted(design, "Eyelets", "eyelet", f"{each} to each panel", eyelets, eyelets * trade.EYELET),
        measured(design, "Lacing", "lacing", plural(count, "panel"), lace, lace * trade.LACE_MASS),
    ]


def lace_length(design: Design, panel: Panel) -> float:
    """m of lace, at most: criss-cross over the panel's whole width, and ends to tie."""
    first, last = min(panel.hoops) - 1, max(panel.hoops) - 1
    tall = float(np.nansum(drop_table(design)[panel.tapes[0] - 1, first + 1 : last + 1]))
    wide = max(panel.widths) if panel.widths else design.hoops[last].length / design.tapes.count
    rows = trade.EYELETS_PER_PANEL // 2 - 1
    return 2.0 * rows * hypot(wide, tall / rows) + trade.LACE_ENDS


def thread(design: Design, tapes: Sequence[TapeSet]) -> Material:
    """Thread for two lines at every casing, both edges of every tape, and round the waistband."""
    lines = sum(len(one.tapes) * 2.0 * len(one.casings) for one in tapes) * design.tapes.width
    edges = sum(len(one.tapes) * 2.0 * one.cut for one in tapes)
    band = 2.0 * (design.wearer.waist + design.waistband.overlap)
    length = trade.THREAD_PER_SEAM * (lines + edges + band)
    return measured(design, "Thread", "thread", "polyester, about", length, length * trade.THREAD_MASS)


def thread_of_cloth(design: Design, layout: ClothLayout) -> Material:
    """Thread for felled seams of two lines, both lines of every casing, the hem, and round the waistband."""
    seams = sum(2.0 * seam_length(laid.one) for laid in layout.gores)
    girths = cloth_girths(design)
    casings = 2.0 * float(girths[1:].sum()) + float(girths[-1])
    band = 2.0 * (design.wearer.waist + design.waistband.overlap)
    length = trade.THREAD_PER_SEAM * (seams + casings + band)
    return measured(design, "Thread", "thread", "polyester, about", length, length * trade.THREAD_MASS)


def seam_length(one: GoreSet) -> float:
    """m of the seam at which a gore begins."""
    return float(np.linalg.norm(np.diff(one.edges[0], axis=0), axis=1).sum())

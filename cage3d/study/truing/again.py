"""The design of a cage as it is believed to hang once it is mended: what the next measuring is held against."""

from __future__ import annotations

from collections.abc import Sequence

from cage3d.design.models import Design, Panel
from cage3d.design.routes import entry_of, ways
from cage3d.steady import steady
from cage3d.study.down import sides_of, with_lengths
from cage3d.study.truing.causes import DROP, HOOP, MARK, PANEL, TIE, Cause
from cage3d.study.truing.mending import Move


def left_over(errors: Sequence[Move], moves: Sequence[Move], step: float) -> list[Move]:
    """What is then other than written: errors and corrections together, on marks, but for what no rule shows.

    step: m from mark to mark of her rule.
    """
    amounts = {one.cause: 0.0 for one in (*errors, *moves)}
    for one in (*errors, *moves):
        amounts[one.cause] += one.amount
    return [
        Move(cause, steady(amount / step, 0) * step)
        for cause, amount in amounts.items()
        if abs(amount) > 0.75 * step
    ]


def shares_of(design: Design, cause: Cause) -> list[tuple[int, float]]:
    """(hoop, how much a metre of a mark or drop adds to the drop above it): a mark takes off what it adds, below."""
    way = [hoop for _, hoop in ways(design)[cause.tape].stretches]
    found = [(cause.hoop, 1.0)] if cause.hoop in way else []
    below = [hoop for hoop in way if hoop > cause.hoop]
    return [*found, (below[0], -1.0)] if cause.what == MARK and below else found


def with_marks(design: Design, left: Sequence[Move], step: float | None) -> Design:
    """The design with what is other than written of its marks and drops.

    Levels by side become those of the seams, each on the nearest mark (step, m; None: where it is).
    """
    cloth = design.cloth
    rows = [list(row) for row in (design.tapes.drops if cloth is None else cloth.levels_at_seams())]
    for one in left:
        cause = one.cause
        if cause.what not in (MARK, DROP):
            continue
        if cloth is not None:
            for hoop in range(cause.hoop, cause.hoop + 1 if cause.what == MARK else len(design.hoops)):
                rows[cause.tape][hoop] += one.amount
            continue
        for hoop, share in shares_of(design, cause):
            rows[cause.tape][entry_of(design, cause.tape, hoop)] += share * one.amount
    if sides_of(cloth) and step is not None:
        rows = [[steady(level / step, 0) * step for level in row] for row in rows]
    found = tuple(tuple(row) for row in rows)
    if cloth is None:
        return design.model_copy(update={"tapes": design.tapes.model_copy(update={"drops": found})})
    on_seams = cloth.model_copy(update={"levels": found})
    return design.model_copy(update={"cloth": on_seams, "tapes": on_seams.seams_as_tapes()})


def as_mended(design: Design, left: Sequence[Move], step: float | None = None) -> Design:
    """The design with these amounts in its drops or levels, hoops, ties and widths of panels.

    step: m, of levels that no side has any more. Raises ValueError for the lace of a panel that has a tightness.
    """
    marked = [one for one in left if one.cause.what in (MARK, DROP)]
    design = with_marks(design, marked, step) if marked else design
    lengths, ties, panels = [hoop.length for hoop in design.hoops], list(design.ties), list(design.panels)
    for one in left:
        cause = one.cause
        if cause.what == HOOP:
            lengths[cause.hoop] += one.amount
        elif cause.what == TIE:
            longer = ties[cause.number].length + one.amount
            ties[cause.number] = ties[cause.number].model_copy(update={"length": longer})
        elif cause.what == PANEL:
            panels[cause.number] = with_lace(panels[cause.number], cause.hoop + 1, one.amount)
    return with_lengths(design, lengths).model_copy(update={"ties": tuple(ties), "panels": tuple(panels)})


def with_lace(panel: Panel, hoop: int, longer: float) -> Panel:
    """The panel with its lace at a hoop (from 1) longer (m). Raises ValueError where it has no widths."""
    if panel.widths is None:
        raise ValueError("a lace that ends otherwise than its tightness says")
    pairs = zip(panel.hoops, panel.widths, strict=True)
    return panel.model_copy(update={"widths": tuple(w + longer * (at == hoop) for at, w in pairs)})

"""What to buy for the hoops themselves: steel by size, what holds its joins, tips for its ends."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from cage3d.design import trade
from cage3d.design.models import Design
from cage3d.shape.section import Section
from cage3d.sheets.cutting import CuttingPlan
from cage3d.sheets.material import Material, counted
from cage3d.sheets.steel import SteelCut
from cage3d.sheets.writing import Writing, hoops_named
from cage3d.wording import capital


def steel_rows(design: Design, plans: Sequence[CuttingPlan]) -> list[Material]:
    """Steel by size; its price is that of the coils and lengths that the cutting plan takes."""
    writing = Writing.of(design.units)
    return [steel_row(plan, hoops_named(plan.hoops), writing) for plan in plans]


def steel_row(plan: CuttingPlan, hoops: str, writing: Writing) -> Material:
    """One size of steel, as the plan buys it; hoops: which it is for, in words."""
    prices = [bar.price for bar in plan.bars]
    known = [price for price in prices if price is not None]
    return Material(
        name=bought_as(plan.section),
        key="steel",
        detail=f"for {hoops}{strips_to_each(plan)}; {lengths_bought(plan, writing)}",
        amount=plan.cut,
        buy=plan.bought,
        counted=False,
        weight=sum(cut.cut * cut.section.mass for cut in plan.cuts),
        cost=sum(known) if known and len(known) == len(prices) else None,
    )


def strips_to_each(plan: CuttingPlan) -> str:
    """', 2 strips to each', of hoops of several bare strips; nothing where every hoop is one."""
    counts = sorted(set(Counter(cut.hoop for cut in plan.cuts).values()))
    return "" if counts == [1] else f", {' or '.join(map(str, counts))} strips to each"


def bought_as(section: Section) -> str:
    """'Spring steel 7 × 0.5 mm', 'Round cane Ø 6 mm'."""
    return capital(section.words) if section.steel.material else f"Spring steel {section.words}"


def lengths_bought(plan: CuttingPlan, writing: Writing) -> str:
    """'bought as 2 × 10.00 m and 1 × 5.00 m', or the one coil that is assumed."""
    if not plan.written:
        return "bought as one coil"
    counts = Counter(bar.length for bar in plan.bars)
    lengths = [f"{count} × {writing.long(length)}" for length, count in sorted(counts.items(), reverse=True)]
    return f"bought as {' and '.join(lengths)}"


def joins_and_tips(design: Design, cuts: Sequence[SteelCut]) -> list[Material]:
    """Connectors for closed hoops, caps for the ends of open ones."""
    laps = [cut for cut in cuts if cut.overlap > 0.0 and cut.slide is None]
    keepers = 2 * sum(1 for cut in cuts if cut.slide is not None)
    butted = [cut for cut in cuts if cut.join is not None and not cut.join.lapped]
    tubes = [cut for cut in butted if cut.section.socket == "tube"]
    plugs = [cut for cut in butted if cut.section.socket == "plug"]
    tips = [cut for cut in cuts if cut.tips]
    many = sum(cut.tips for cut in tips)
    fit = "one to each lapped hoop, to suit strip and coating"
    return [
        counted(design, "Lap connectors", "join", fit, len(laps), len(laps) * trade.CONNECTOR),
        counted(
            design, "Keepers", "join", "two to each join that slides", keepers, keepers * trade.CONNECTOR
        ),
        sockets(design, "Tube connectors", "over", tubes),
        sockets(design, "Plugs", "inside", plugs),
        counted(
            design,
            "Tips",
            "tip",
            f"two to each open hoop{for_round_ends(tips, 'over')}",
            many,
            many * trade.TIP,
        ),
    ]


def sockets(design: Design, name: str, side: str, cuts: Sequence[SteelCut]) -> Material:
    """What holds butting ends, over them or inside."""
    writing = Writing.of(design.units)
    joins = [cut.join for cut in cuts if cut.join is not None]
    lengths = ", ".join(sorted({writing.full(join.length) for join in joins}))
    detail = f"long {lengths}{for_round_ends(cuts, side)}"
    return counted(design, name, "tube", detail, len(joins), sum(join.added for join in joins))


def for_round_ends(cuts: Sequence[SteelCut], side: str) -> str:
    """', over Ø 6 mm', of what is round; nothing for flat strip."""
    sizes = dict.fromkeys(cut.section.fitted for cut in cuts if cut.section.round)
    return f", {side} Ø {', '.join(f'{1e3 * size:g}' for size in sizes)} mm" if sizes else ""

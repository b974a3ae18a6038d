"""Measures that make no cage, each told with what to give instead."""

from __future__ import annotations

import math
from collections.abc import Iterator

from cage3d.design import trade
from cage3d.design.first.baskets import TUCKED, depths_of
from cage3d.design.first.body import hip_half_breadth, room_at
from cage3d.design.first.brief import UNITS, Brief, height_of
from cage3d.design.first.drawn import drawn_back, drawn_ovals
from cage3d.design.first.half_hoops import bow_depths
from cage3d.design.first.kinds import FEWEST_TIED_TAPES, KINDS
from cage3d.design.first.rounds import drops_for, hoop_lengths
from cage3d.design.quantities import LONGEST
from cage3d.design.texts import plain_name
from cage3d.errors import DesignError, Problem
from cage3d.steady import percent
from cage3d.units import UnitError, both

SIZES = ("waist", "waist_height", "hip", "hip_drop")
LEAST_BEHIND, MOST_BEHIND = 0.5, 0.68  # beyond, ties would lay the front of the hem on her shins
DEEPEST_BOW = 1.5  # of what is between its ends; beyond, it would swell out past them at her sides
FEWEST_HALF_TAPES, FEWEST_BASKET_TAPES = 4, 6
FARTHEST = 0.75  # of the way down to the hem, for the first hoop of a wide top


def refuse_impossible(brief: Brief) -> None:
    """Raise DesignError with everything that keeps these measures from making a cage."""
    for looked_at in (out_of_range, at_odds, of_the_kind, too_wide):
        if problems := list(looked_at(brief)):
            raise DesignError(problems)


def out_of_range(brief: Brief) -> Iterator[Problem]:
    """What can be said of each answer by itself."""
    try:
        plain_name(brief.name)
    except UnitError as fault:
        yield Problem("name", brief.name, fault.why, fault.try_this)
    kind = KINDS.get(brief.silhouette)
    if kind is None:
        known = f"Use {', '.join(KINDS)}"
        yield Problem("silhouette", brief.silhouette, "this silhouette is not known", known)
    if brief.units not in UNITS:
        why = "a first design is written in inches or centimetres"
        yield Problem("units", brief.units, why, f"Use {', '.join(UNITS[:-1])} or {UNITS[-1]}")
    if not 1 <= brief.hoops <= 20:
        yield Problem("hoops", str(brief.hoops), "a first design has 1 to 20 hoops", "4 to 7 are usual")
    gores = (trade.FEWEST_GORES, trade.MOST_GORES)
    if kind and kind.gored and not gores[0] <= (brief.gores or 0) <= gores[1]:
        why = f"the cloth has {gores[0]} to {gores[1]} gores"
        yield Problem("gores", str(brief.gores or ""), why, "4 to 8 are usual")
    if not 3 <= brief.tapes <= 40:
        yield Problem("tapes", str(brief.tapes), "a first design has 3 to 40 tapes", "8 to 12 are usual")
    own = [key for key in (kind.asks if kind else ()) if key not in ("behind", "gores")]
    for key in (*SIZES, *own):
        size = getattr(brief, key)
        if (size is None and key in own) or (size is not None and not 0.0 < size <= LONGEST):
            said = "" if size is None else f"{size:g} m"
            yield Problem(key, said, "no cage has this size", "Check the number and its unit")
    if not 0.0 < max(brief.clearance) <= LONGEST:
        yield Problem("clearance", f"{max(brief.clearance):g} m", "no cage hangs there", "Check the number")


def at_odds(brief: Brief) -> Iterator[Problem]:
    """Answers that do not go together, of any kind of cage."""
    least, most = brief.clearance
    if (brief.hip is None) != (brief.hip_drop is None):
        yield Problem("hip", "", "a hip and its depth below the waist go together", "Give both or neither")
    if "hem" in KINDS[brief.silhouette].asks and brief.hem <= brief.waist:
        advice = "Give the hem's girth; 74 in is small"
        yield Problem("hem", both(brief.hem), "the hem is not longer than the waist", advice)
    if least > most:
        yield Problem("clearance", both(least), "the least clearance is more than the most", "Exchange them")
    elif height_of(brief) < 0.1:
        advice = "Give its height above the floor; 8 to 10 in for a gown"
        yield Problem("clearance", both(most), "the hem would hang at the waist or above it", advice)


def of_the_kind(brief: Brief) -> Iterator[Problem]:
    """What the kind itself asks of its measures."""
    kind = KINDS[brief.silhouette]
    if kind.on_her and brief.hip is None:
        why = f"{kind.called} bears on the wearer, so her hip must be known"
        yield Problem("hip", "", why, "Measure round the hip, and how far that is below the waist")
    usual = "2 or 3 are usual" if kind.beside else "5 or 6 are usual"
    if brief.hoops < kind.fewest:
        why = f"{kind.called} has {kind.fewest} {kind.counted} or more{', for its ties' if kind.tied else ''}"
        yield Problem("hoops", str(brief.hoops), why, usual)
    if brief.hoops > kind.most:
        why = f"{kind.called} has {kind.most} {kind.counted} at most: more would lie on one another"
        yield Problem("hoops", str(brief.hoops), why, usual)
    if kind.tied and (brief.tapes < FEWEST_TIED_TAPES or brief.tapes % 2):
        why = f"{kind.called} has an even number of tapes, {FEWEST_TIED_TAPES} or more: ties go from one to another"
        yield Problem("tapes", str(brief.tapes), why, "8, 10 or 12 are usual")
    for looked_at in (dips_to_the_floor, too_shallow, out_of_reach, no_bow, no_basket):
        yield from looked_at(brief)


def dips_to_the_floor(brief: Brief) -> Iterator[Problem]:
    if brief.dip is not None and brief.dip >= min(brief.clearance):
        why = (
            f"the hem, {both(min(brief.clearance))} above the floor at the front, would lie on it at the back"
        )
        yield Problem("dip", both(brief.dip), why, "Use less; 2 in is usual")


def too_shallow(brief: Brief) -> Iterator[Problem]:
    """An oval goes round her, and is wider than deep."""
    if brief.wide is None or brief.deep is None:
        return
    room = room_at(brief, height_of(brief))
    for key, size, least in (
        ("wide", brief.wide, 2 * room.half_breadth),
        ("deep", brief.deep, 2 * room.front),
    ):
        if size < least:
            yield Problem(key, both(size), f"with room round her hip she needs {both(least)}", "Use more")
    if brief.deep > brief.wide:
        yield Problem("deep", both(brief.deep), "an oval is wider than deep", "Exchange wide and deep")


def out_of_reach(brief: Brief) -> Iterator[Problem]:
    if brief.behind is not None and not LEAST_BEHIND < brief.behind <= MOST_BEHIND:
        why = "ties draw a cage back so that more than half of its depth, and at most two thirds, lies behind the waist"
        yield Problem("behind", percent(brief.behind), why, "55 % to 65 % is usual")


def no_basket(brief: Brief) -> Iterator[Problem]:
    """A basket holds her from front to back at its ends, and is no farther out than steel can be drawn so."""
    if not KINDS[brief.silhouette].beside or brief.deep is None or brief.out is None:
        return
    room, hip = room_at(brief, height_of(brief)), hip_half_breadth(brief.hip or 0.0)
    most = DEEPEST_BOW * brief.deep - (1.0 - TUCKED) * hip
    if brief.deep < 2 * room.back:
        why = f"with room before and behind her hip she needs {both(2 * room.back)}"
        yield Problem("deep", both(brief.deep), why, "Use more; a third of the waist's height is usual")
    elif brief.out > most:
        why = f"a basket this deep stands out from her hip by {both(most)} at most"
        yield Problem("out", both(brief.out), why, "Use less, or make it deeper")
    if brief.tapes < FEWEST_BASKET_TAPES or brief.tapes % 2:
        why = f"a pair of baskets has an even number of tapes, {FEWEST_BASKET_TAPES} or more: half of them on each side"
        yield Problem("tapes", str(brief.tapes), why, "8 or 10 are usual")


def no_bow(brief: Brief) -> Iterator[Problem]:
    """A half hoop clears her behind, and is no deeper than steel can be drawn between her sides."""
    if brief.silhouette != "half-hoops" or brief.out is None:
        return
    room = room_at(brief, height_of(brief))
    most = DEEPEST_BOW * 2 * room.half_breadth
    if brief.out < room.back:
        why = f"with room behind her hip she needs {both(room.back)}"
        yield Problem("out", both(brief.out), why, "Use more; a third of the waist's height is usual")
    elif brief.out > most:
        why = f"drawn together at her sides, a half hoop stands out by {both(most)} at most"
        yield Problem("out", both(brief.out), why, "Use less; a third of the waist's height is usual")
    if brief.tapes < FEWEST_HALF_TAPES:
        why = f"half hoops have {FEWEST_HALF_TAPES} tapes or more: one at either side, the others behind"
        yield Problem("tapes", str(brief.tapes), why, "4 to 6 are usual")


def too_wide(brief: Brief) -> Iterator[Problem]:
    """A hem that needs more height than there is."""
    kind, has = KINDS[brief.silhouette], height_of(brief)
    needs = height_of_rounds(brief) if kind.from_profile else height_of_drawn(brief)
    if abs(needs - has) > 0.02:
        why = f"{kind.called} this wide on {brief.hoops} hoops needs {both(needs)} of height and has {both(has)}"
        where = kind.asks[0]
        yield Problem(where, both(getattr(brief, where)), why, f"Use {SMALLER[where]}, or fewer hoops")


SMALLER = {"hem": "a smaller hem", "wide": "a narrower hem", "out": "less"}


def height_of_rounds(brief: Brief) -> float:
    """m down to the hem of level circles, with their drops as they are cut."""
    lengths = hoop_lengths(brief)
    radii = [girth / math.tau for girth in (brief.waist, *lengths)]
    pairs = zip(drops_for(brief, lengths), radii, radii[1:], strict=False)
    return sum(math.sqrt(drop**2 - (below - above) ** 2) for drop, above, below in pairs)


def height_of_drawn(brief: Brief) -> float:
    """m; as much as there is where the first tapes of drawn hoops leave room for the others."""
    return max(height_of(brief), first_depth(brief) / FARTHEST)


def first_depth(brief: Brief) -> float:
    """m below the band's edge of the first hoop as it is drawn."""
    kind = KINDS[brief.silhouette]
    if kind.beside:
        return depths_of(brief)[0]
    if brief.out:
        return bow_depths(brief)[0]
    return (drawn_ovals(brief) if brief.wide else drawn_back(brief))[0].below

"""A first design from a few measures and a silhouette, as commented YAML that reads back."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from cage3d.design.first_hoops import Brief, drops_for, height_of, hoop_lengths
from cage3d.design.first_text import written
from cage3d.design.profile import SILHOUETTES
from cage3d.design.quantities import LONGEST
from cage3d.design.texts import plain_name
from cage3d.errors import DesignError, Problem
from cage3d.units import UnitError, both


def first_design(brief: Brief, drops: Sequence[float] | None = None) -> str:
    """YAML text of a first design; reads back without problems, hem in the middle of the clearance.

    drops: m, one a hoop; None: those of level circles. Raises DesignError where the measures cannot make a cage.
    """
    refuse_impossible(brief)
    lengths = hoop_lengths(brief)
    return written(brief, lengths, list(drops) if drops else drops_for(brief, lengths))


def refuse_impossible(brief: Brief) -> None:
    """Raise DesignError with everything that keeps these measures from making a cage."""
    for looked_at in (out_of_range, at_odds):
        if problems := list(looked_at(brief)):
            raise DesignError(problems)
    refuse_too_wide(brief)


def out_of_range(brief: Brief) -> Iterator[Problem]:
    """What can be said of each answer by itself."""
    try:
        plain_name(brief.name)
    except UnitError as fault:
        yield Problem("name", brief.name, fault.why, fault.try_this)
    if brief.silhouette not in SILHOUETTES:
        known = f"Use {', '.join(SILHOUETTES)}"
        yield Problem("silhouette", brief.silhouette, "this silhouette is not known", known)
    if brief.units not in ("in", "cm"):
        yield Problem(
            "units", brief.units, "a first design is written in inches or centimetres", "Use in or cm"
        )
    if not 1 <= brief.hoops <= 20:
        yield Problem("hoops", str(brief.hoops), "a first design has 1 to 20 hoops", "4 to 7 are usual")
    if not 3 <= brief.tapes <= 40:
        yield Problem("tapes", str(brief.tapes), "a first design has 3 to 40 tapes", "8 to 12 are usual")
    for key in ("waist", "waist_height", "hip", "hip_drop", "hem"):
        size = getattr(brief, key)
        if size is not None and not 0.0 < size <= LONGEST:
            yield Problem(key, f"{size:g} m", "no cage has this size", "Check the number and its unit")
    if not 0.0 < max(brief.clearance) <= LONGEST:
        yield Problem("clearance", f"{max(brief.clearance):g} m", "no cage hangs there", "Check the number")


def at_odds(brief: Brief) -> Iterator[Problem]:
    """Answers that do not go together."""
    least, most = brief.clearance
    if (brief.hip is None) != (brief.hip_drop is None):
        yield Problem("hip", "", "a hip and its depth below the waist go together", "Give both or neither")
    if brief.hem <= brief.waist:
        advice = "Give the hem's girth; 74 in is small"
        yield Problem("hem", both(brief.hem), "the hem is not longer than the waist", advice)
    if least > most:
        yield Problem("clearance", both(least), "the least clearance is more than the most", "Exchange them")
    elif height_of(brief) < 0.1:
        advice = "Give its height above the floor; 8 to 10 in for a gown"
        yield Problem("clearance", both(most), "the hem would hang at the waist or above it", advice)


def refuse_too_wide(brief: Brief) -> None:
    """Raise DesignError for a hem that needs more height than there is."""
    lengths = hoop_lengths(brief)
    drops = drops_for(brief, lengths)
    radii = [girth / math.tau for girth in (brief.waist, *lengths)]
    pairs = zip(drops, radii, radii[1:], strict=False)
    down = sum(math.sqrt(drop**2 - (below - above) ** 2) for drop, above, below in pairs)
    if abs(down - height_of(brief)) > 0.02:
        raise DesignError(
            Problem(
                "hem",
                both(brief.hem),
                f"a {brief.silhouette} this wide on {brief.hoops} hoops needs {both(down)} of height "
                f"and has {both(height_of(brief))}",
                "Use a smaller hem, or fewer hoops",
            )
        )

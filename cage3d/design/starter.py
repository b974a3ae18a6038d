"""A first design from a few measures and a silhouette, as commented YAML that reads back."""

from __future__ import annotations

import math

from cage3d.design.first_hoops import Brief, drops_for, height_of, hoop_lengths
from cage3d.design.first_text import written
from cage3d.design.profile import SILHOUETTES
from cage3d.design.quantities import LONGEST
from cage3d.design.texts import plain_name
from cage3d.errors import DesignError, Problem
from cage3d.units import UnitError, both


def first_design(brief: Brief) -> str:
    """YAML text of a first design; reads back without problems, hem in the middle of the clearance.

    Raises DesignError where the measures cannot make a cage.
    """
    refuse_impossible(brief)
    lengths = hoop_lengths(brief)
    drops = drops_for(brief, lengths)
    return written(brief, lengths, drops)


def refuse_impossible(brief: Brief) -> None:
    """Raise DesignError with everything that keeps these measures from making a cage."""
    problems = []

    def refuse(where: str, said: str, why: str, try_this: str) -> None:
        problems.append(Problem(where, said, why, try_this))

    try:
        plain_name(brief.name)
    except UnitError as fault:
        refuse("name", brief.name, fault.why, fault.try_this)
    if brief.silhouette not in SILHOUETTES:
        refuse(
            "silhouette", brief.silhouette, "this silhouette is not known", f"Use {', '.join(SILHOUETTES)}"
        )
    if brief.units not in ("in", "cm"):
        refuse("units", brief.units, "a first design is written in inches or centimetres", "Use in or cm")
    if not 1 <= brief.hoops <= 20:
        refuse("hoops", str(brief.hoops), "a first design has 1 to 20 hoops", "4 to 7 are usual")
    if not 3 <= brief.tapes <= 40:
        refuse("tapes", str(brief.tapes), "a first design has 3 to 40 tapes", "8 to 12 are usual")
    for key in ("waist", "waist_height", "hip", "hip_drop", "hem"):
        size = getattr(brief, key)
        if size is not None and not 0.0 < size <= LONGEST:
            refuse(key, f"{size:g} m", "no cage has this size", "Check the number and its unit")
    if not 0.0 < max(brief.clearance) <= LONGEST:
        refuse("clearance", f"{max(brief.clearance):g} m", "no cage hangs there", "Check the number")
    if problems:
        raise DesignError(problems)
    if (brief.hip is None) != (brief.hip_drop is None):
        refuse("hip", "", "a hip and its depth below the waist go together", "Give both or neither")
    if brief.hem <= brief.waist:
        refuse(
            "hem",
            both(brief.hem),
            "the hem is not longer than the waist",
            "Give the hem's girth; 74 in is small",
        )
    if brief.clearance[0] > brief.clearance[1]:
        refuse(
            "clearance",
            both(brief.clearance[0]),
            "the least clearance is more than the most",
            "Exchange them",
        )
    elif height_of(brief) < 0.1:
        refuse(
            "clearance",
            both(brief.clearance[1]),
            "the hem would hang at the waist or above it",
            "Give its height above the floor; 8 to 10 in for a gown",
        )
    if problems:
        raise DesignError(problems)
    refuse_too_wide(brief)


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

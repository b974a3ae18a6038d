"""The figure that is meant by what a maker says: 'drop of hoop 3 at the back' is 'drop 3 at the back'."""

from __future__ import annotations

import re

from cage3d.design.faults import printable
from cage3d.design.models import Design
from cage3d.errors import CommandError, Problem
from cage3d.study.sweeping.varying import Varying, varyings
from cage3d.wording import nearest

UNSAID = {
    "the", "of", "at", "on", "her", "in", "to", "a", "all", "wearer", "wearer's", "centre", "center",
    "finished", "each", "every", "s", "own", "around", "round",
}  # fmt: skip
SAME = {
    "hoops": "hoop", "tapes": "tape", "ties": "tie", "panels": "panel", "drops": "drop", "skirts": "skirt",
    "lengths": "length", "side": "sides", "rear": "back", "behind": "back", "strip": "steel", "steels": "steel",
    "cane": "steel", "rod": "steel", "hose": "steel",
    "band": "waistband", "number": "count", "pad": "padding", "pads": "padding", "lacing": "panel", "laces": "panel",
    "lace": "panel", "widths": "width", "weights": "weight", "seams": "seam", "levels": "level",
}  # fmt: skip
COUNTED = {
    "hoop": "hoops",
    "tape": "tapes",
    "tie": "ties",
    "panel": "panels",
    "skirt": "skirts",
    "padding": "padding",
}
# What comes out, and the key or command by which it is had.
OUTCOMES = {"hem", "tilt", "bent", "pull", "behind", "height", "clearance", "wide", "deep"}


def meant(said: str) -> frozenset[str]:
    """What counts of a name: its words in any order, each number with the word that it follows."""
    words: list[str] = []
    for word in re.findall(r"[^\W_]+(?:'s)?", said.lower()):
        if word.isdecimal() and words:
            words[-1] += f" {int(word[:9])}"
        elif word not in UNSAID:
            words.append(SAME.get(word, word))
    hoop = next((word for word in words if re.fullmatch(r"hoop [0-9]+", word)), None)
    if hoop and "drop" in words:
        words = [word for word in words if word not in (hoop, "drop")] + [hoop.replace("hoop", "drop")]
    return frozenset(words)


def varying_named(design: Design, said: str) -> Varying:
    """The figure of that name. Raises CommandError for a name that is none, or a figure that is not written."""
    known = varyings(design)
    wanted = meant(said)
    by_words = {meant(name): one for one in reversed(known) for name in one.names}
    alone = frozenset([*wanted, "length"])  # 'tie 1' and 'hoop 4' are their lengths
    found = by_words.get(wanted) or by_words.get(alone)
    if found is None:
        raise CommandError(no_such(design, said, wanted, known))
    if None in found.values:
        part, _, key = found.places[0].rpartition(".")
        why = "the design does not say this figure"
        try_this = f"Write {key}: under {part or 'the design'} in the file first"
        raise CommandError(Problem(printable(said), "", why, try_this))
    return found


def no_such(design: Design, said: str, wanted: frozenset[str], known: list[Varying]) -> Problem:
    """Why there is no such figure: too high a number, what comes out and is not cut, or a slip of the pen."""
    for word in sorted(wanted):
        what, _, number = word.partition(" ")
        if what == "drop" and design.cloth is not None:
            level = number if number and 1 <= int(number) <= len(design.hoops) else "1"
            return Problem(
                printable(said), "", "this cage has levels in place of drops", f"Write level {level}"
            )
        if what == "drop":
            what = "hoop"
        if what not in COUNTED:
            continue
        if what == "tape" and design.cloth is not None:
            return Problem(printable(said), "", "no tapes carry this cage", "Write level 2 or seam 3 level 2")
        held = design.tapes.count if what == "tape" else len(getattr(design, COUNTED[what]))
        if not held:
            return Problem(
                printable(said), "", f"the design has no {COUNTED[what]}", "Write one into it first"
            )
        if number and not 1 <= int(number) <= held:
            has = f"the cage has {held} {COUNTED[what] if held > 1 else what}"
            return Problem(
                printable(said),
                "",
                has,
                f"Write {what} 1 to {what} {held}" if held > 1 else f"Write {what} 1",
            )
    like = nearest(" ".join(said.lower().split()), [name for one in known for name in one.names])
    if like is None and wanted & OUTCOMES:
        why = "this is what comes out, and not what is cut"
        return Problem(printable(said), "", why, "Vary a length, a drop or a tie, or seek it with cage3d aim")
    drop = "drop" if design.cloth is None else "level"
    try_this = (
        f"Did you mean {like}?"
        if like
        else (
            f"Write hoop 2 length, {drop} 3 at the back, tie 1 length, skirt weight, steel thickness or hip, for"
            " instance"
        )
    )
    return Problem(printable(said), "", "the design has no such figure", try_this)

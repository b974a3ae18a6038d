"""A first design from a few measures and a silhouette, as commented YAML that reads back.

The hoops are laid out level and round under a round waist: a tape between two of them is
the slant side of a cone, L = sqrt(dz^2 + dr^2).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from cage3d.design import trade
from cage3d.design.profile import SILHOUETTES, levels
from cage3d.design.values import LONGEST, plain_name
from cage3d.errors import DesignError, Problem
from cage3d.units import INCH, UnitError, both, show_length

FLATTEST = 0.9  # least way down of the first tapes against their way out: flatter ones sag under the skirt


@dataclass(frozen=True)
class Brief:
    """What a first design is made from; lengths in m, skirt in kg.

    clearance: least and most height of the hem above the floor; hem: its girth;
    steel: width and thickness; units: in or cm, for the numbers that are written.
    """

    waist: float
    waist_height: float
    hem: float
    clearance: tuple[float, float]
    silhouette: str = "dome"
    hip: float | None = None
    hip_drop: float | None = None
    hoops: int = 4
    tapes: int = 8
    steel: tuple[float, float] = (0.007, 0.0005)
    skirt: float | None = None
    name: str = "First design"
    units: str = "in"


def first_design(brief: Brief) -> str:
    """YAML text of a first design; reads back without problems, hem in the middle of the clearance.

    Raises DesignError where the measures cannot make a cage.
    """
    _refuse_impossible(brief)
    lengths = hoop_lengths(brief)
    drops = drops_for(brief, lengths)
    return _written(brief, lengths, drops)


def grid(units: str) -> float:
    """m to which lengths are rounded: 1/8 in or 5 mm."""
    return INCH / 8 if units == "in" else 0.005


def _height(brief: Brief) -> float:
    """m from the waistband's lower edge down to the wanted hem."""
    return brief.waist_height - trade.BAND_DEPTH / 2 - sum(brief.clearance) / 2


def hip_half_breadth(hip: float) -> float:
    """m, half the breadth of a hip of this girth: an ellipse of the usual proportion, made fuller."""
    depth = trade.HIP_DEPTH_PER_BREADTH
    mean = 1 + depth
    ellipse = math.pi * (3 * mean - math.sqrt((3 + depth) * (1 + 3 * depth)))
    return hip / trade.HIP_FULLNESS / ellipse


def _body_length(brief: Brief, level: float) -> float:
    """m, the least length of a round hoop this far below the band's edge that clears the body."""
    if brief.hip is None or brief.hip_drop is None:
        return 0.0
    drop = max(brief.hip_drop - trade.BAND_DEPTH / 2, 0.01)
    girth = brief.waist + (brief.hip - brief.waist) * min(level / drop, 1.0)
    return math.tau * (hip_half_breadth(girth) + trade.HIP_ROOM_PLANNED)


def hoop_lengths(brief: Brief) -> list[float]:
    """m, finished lengths from the top: the silhouette's profile, never narrower than the body."""
    profile, step, height = SILHOUETTES[brief.silhouette], grid(brief.units), _height(brief)
    share = brief.waist / brief.hem
    lengths = []
    for level in levels(brief.hoops):
        wanted = profile(level, share) * brief.hem
        least = max(_body_length(brief, level * height), brief.waist)
        # Whole inches or centimetres, as hoops are cut; the body needs the next one up.
        whole = step * (8 if brief.units == "in" else 2)
        lengths.append(max(round(wanted / whole), math.ceil(least / whole - 1e-9)) * whole)
    return lengths


def hoop_depths(brief: Brief, lengths: list[float]) -> list[float]:
    """m below the band's edge of each hoop; the first low enough for its tapes to hang steeply."""
    height, shares = _height(brief), levels(brief.hoops)
    if brief.hoops == 1:
        return [height]
    first = max(shares[0] * height, FLATTEST * (lengths[0] - brief.waist) / math.tau)
    return [first + (share - shares[0]) / (1 - shares[0]) * (height - first) for share in shares]


def drops_for(brief: Brief, lengths: list[float]) -> list[float]:
    """m along the tape, rounded; each drop makes up for the rounding of those above it."""
    step = grid(brief.units)
    radii = [girth / math.tau for girth in (brief.waist, *lengths)]
    drops, reached = [], 0.0
    for depth, above, below in zip(hoop_depths(brief, lengths), radii, radii[1:], strict=False):
        out = abs(below - above)
        slant = round(math.hypot(max(depth - reached, step), out) / step) * step
        tape = max(slant, math.ceil((out + trade.TAPE_SPARE) / step) * step)
        drops.append(tape)
        reached += math.sqrt(tape**2 - out**2)
    return drops


def _refuse_impossible(brief: Brief) -> None:
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
    elif _height(brief) < 0.1:
        refuse(
            "clearance",
            both(brief.clearance[1]),
            "the hem would hang at the waist or above it",
            "Give its height above the floor; 8 to 10 in for a gown",
        )
    if problems:
        raise DesignError(problems)
    _refuse_too_wide(brief)


def _refuse_too_wide(brief: Brief) -> None:
    """Raise DesignError for a hem that needs more height than there is."""
    lengths = hoop_lengths(brief)
    drops = drops_for(brief, lengths)
    radii = [girth / math.tau for girth in (brief.waist, *lengths)]
    pairs = zip(drops, radii, radii[1:], strict=False)
    down = sum(math.sqrt(drop**2 - (below - above) ** 2) for drop, above, below in pairs)
    if abs(down - _height(brief)) > 0.02:
        raise DesignError(
            Problem(
                "hem",
                both(brief.hem),
                f"a {brief.silhouette} this wide on {brief.hoops} hoops needs {both(down)} of height "
                f"and has {both(_height(brief))}",
                "Use a smaller hem, or fewer hoops",
            )
        )


def _line(text: str, remark: str) -> str:
    """A line of the design with its remark, remarks below one another."""
    return f"{text:<42}# {remark}" if len(text) < 42 else f"{text}  # {remark}"


def _size(metres: float, brief: Brief) -> str:
    return show_length(metres, brief.units, 1 / 8, unit=False)


def _written(brief: Brief, lengths: list[float], drops: list[float]) -> str:
    kind, unit = brief.silhouette, "inches" if brief.units == "in" else "centimetres"
    parts = [
        f"# A first design: a {kind} on {brief.hoops} hoops. Change it, then: cage3d check FILE",
        f"# Numbers without a unit are {unit}; any number may carry its own, such as 7 mm.",
        f"name: {_quoted(brief.name)}",
        _line(f"units: {brief.units}", "in, ft, mm, cm or m"),
        "",
        *_wearer_lines(brief),
        "",
        *_cage_lines(brief, lengths, drops),
        "",
    ]
    if brief.skirt:
        parts.append(_line(f"skirt: {{weight: {brief.skirt:g} kg}}", "what hangs on the cage"))
    wanted = ", ".join(_size(height, brief) for height in brief.clearance)
    parts.append(_line(f"hem: {{clearance: [{wanted}]}}", "wanted height of the lowest hoop above the floor"))
    return "\n".join(parts) + "\n"


def _wearer_lines(brief: Brief) -> list[str]:
    lines = [
        _line("wearer:", "dressed as for the show, in its shoes"),
        _line(f"  waist: {_size(brief.waist, brief)}", "girth over corset and chemise"),
        _line(f"  waist_height: {_size(brief.waist_height, brief)}", "from the floor"),
    ]
    if brief.hip is not None and brief.hip_drop is not None:
        lines += [
            _line(f"  hip: {_size(brief.hip, brief)}", "girth at the fullest"),
            _line(f"  hip_drop: {_size(brief.hip_drop, brief)}", "how far that is below the waist"),
        ]
    return lines


def _cage_lines(brief: Brief, lengths: list[float], drops: list[float]) -> list[str]:
    width, thickness = (f"{round(1000 * one, 3):g} mm" for one in brief.steel)
    depth, overlap = _size(trade.BAND_DEPTH, brief), _size(trade.BAND_OVERLAP, brief)
    row = ", ".join(_size(drop, brief) for drop in drops)
    return [
        _line(f"waistband: {{depth: {depth}, overlap: {overlap}}}", "overlap: for the buckle and turning"),
        _line(f"steel: {{width: {width}, thickness: {thickness}}}", "flat spring steel"),
        "",
        "tapes:",
        _line(f"  count: {brief.tapes}", "from centre front round by her left"),
        _line("  stations: between", "no tape at centre front; on: tape 1 there"),
        _line(f"  casing: {depth}", "height of a casing"),
        _line(f"  drops: [{row}]", "along the tape: waistband to hoop 1, and so on"),
        "",
        _line("hoops:", "from the top, finished length round"),
        *(f"  - {{length: {_size(length, brief)}}}" for length in lengths),
    ]


def _quoted(text: str) -> str:
    """A text in double quotes as YAML reads them."""
    kept = "".join(
        sign if sign.isprintable() else f"\\U{ord(sign):08x}" for sign in text.replace("\\", "\\\\")
    )
    return '"' + kept.replace('"', '\\"') + '"'

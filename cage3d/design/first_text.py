"""A first design as commented YAML."""

from __future__ import annotations

from textwrap import wrap

from cage3d.design import trade
from cage3d.design.first_hoops import Brief, decided_by_the_hip, starts_at_the_hip
from cage3d.units import show_length
from cage3d.wording import listed, numbered


def line(text: str, remark: str) -> str:
    """A line of the design with its remark, remarks below one another."""
    return f"{text:<42}# {remark}" if len(text) < 42 else f"{text}  # {remark}"


def size(metres: float, brief: Brief) -> str:
    return show_length(metres, brief.units, 1 / 8, unit=False)


def hip_words(brief: Brief) -> str | None:
    """Which hoops her hip decided and not the silhouette; None where it decided none."""
    asked = decided_by_the_hip(brief)
    if not asked:
        return None
    kind, hoops = brief.silhouette, numbered("hoop", (hoop + 1 for hoop in asked))
    rounds = listed([size(length, brief) for length in asked.values()])
    room = show_length(trade.HIP_ROOM_PLANNED, brief.units)
    ending = (
        f"The {kind} begins at the hip instead"
        if starts_at_the_hip(brief)
        else "They are as wide as the hip asks"
    )
    return (
        f"Her hip decides {hoops}: a {kind} from the waist would measure {rounds} {brief.units} round there, "
        f"inside her hip with its {room} of room. {ending}."
    )


def written(brief: Brief, lengths: list[float], drops: list[float]) -> str:
    """The design as YAML; lengths and drops in m, one a hoop."""
    kind, unit = brief.silhouette, "inches" if brief.units == "in" else "centimetres"
    parts = [
        f"# A first design: a {kind} on {brief.hoops} hoops. Change it, then: cage3d check FILE",
        f"# Numbers without a unit are {unit}; any number may carry its own, such as 7 mm.",
        *wrap(hip_words(brief) or "", 98, initial_indent="# ", subsequent_indent="# "),
        f"name: {quoted(brief.name)}",
        line(f"units: {brief.units}", "in, ft, mm, cm or m"),
        "",
        *wearer_lines(brief),
        "",
        *cage_lines(brief, lengths, drops),
        "",
    ]
    if brief.skirt:
        parts.append(line(f"skirt: {{weight: {brief.skirt:.3g} kg}}", "what hangs on the cage"))
    wanted = ", ".join(size(height, brief) for height in brief.clearance)
    parts.append(line(f"hem: {{clearance: [{wanted}]}}", "wanted height of the lowest hoop above the floor"))
    return "\n".join(parts) + "\n"


def wearer_lines(brief: Brief) -> list[str]:
    lines = [
        line("wearer:", "dressed as for the show, in its shoes"),
        line(f"  waist: {size(brief.waist, brief)}", "girth over corset and chemise"),
        line(f"  waist_height: {size(brief.waist_height, brief)}", "from the floor"),
    ]
    if brief.hip is not None and brief.hip_drop is not None:
        lines += [
            line(f"  hip: {size(brief.hip, brief)}", "girth at the fullest"),
            line(f"  hip_drop: {size(brief.hip_drop, brief)}", "how far that is below the waist"),
        ]
    return lines


def cage_lines(brief: Brief, lengths: list[float], drops: list[float]) -> list[str]:
    width, thickness = (f"{round(1000 * one, 3):g} mm" for one in brief.steel)
    depth, overlap = size(trade.BAND_DEPTH, brief), size(trade.BAND_OVERLAP, brief)
    row = ", ".join(size(drop, brief) for drop in drops)
    return [
        line(f"waistband: {{depth: {depth}, overlap: {overlap}}}", "overlap: for the buckle and turning"),
        line(f"steel: {{width: {width}, thickness: {thickness}}}", "flat spring steel"),
        "",
        "tapes:",
        line(f"  count: {brief.tapes}", "from centre front round by her left"),
        line("  stations: between", "no tape at centre front; on: tape 1 there"),
        line(f"  casing: {depth}", "height of a casing"),
        line(f"  drops: [{row}]", "along the tape: waistband to hoop 1, and so on"),
        "",
        line("hoops:", "from the top, finished length round"),
        *(f"  - {{length: {size(length, brief)}}}" for length in lengths),
    ]


def quoted(text: str) -> str:
    """A text in double quotes as YAML reads them."""
    kept = "".join(
        sign if sign.isprintable() else f"\\U{ord(sign):08x}" for sign in text.replace("\\", "\\\\")
    )
    return '"' + kept.replace('"', '\\"') + '"'

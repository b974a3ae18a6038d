"""A first design as commented YAML."""

from __future__ import annotations

from textwrap import wrap

from cage3d.design import trade
from cage3d.design.first import usual
from cage3d.design.first.brief import Brief
from cage3d.design.first.cage import FirstCage, FirstHoop, FirstTie, Row
from cage3d.design.first.kinds import KINDS
from cage3d.design.first.rounds import decided_by_the_hip, starts_at_the_hip
from cage3d.units import IN_WORDS, show_length
from cage3d.wording import listed, numbered

SIDES = ("front", "sides", "back")  # of levels down the cloth


def line(text: str, remark: str) -> str:
    """A line of the design with its remark, remarks below one another."""
    return f"{text:<42}# {remark}" if len(text) < 42 else f"{text}  # {remark}"


def size(metres: float, brief: Brief) -> str:
    return show_length(metres, brief.units, 1 / 8, unit=False)


def hip_words(brief: Brief) -> str | None:
    """Which hoops her hip decided and not the silhouette; None where it decided none."""
    kind = KINDS[brief.silhouette]
    asked = decided_by_the_hip(brief) if kind.from_profile else {}
    if not asked:
        return None
    hoops = numbered("hoop", (hoop + 1 for hoop in asked))
    rounds = listed([size(length, brief) for length in asked.values()])
    room = show_length(trade.HIP_ROOM_PLANNED, brief.units)
    noun = kind.called.split(" ", 1)[1]
    ending = (
        f"The {noun} begins at the hip instead"
        if starts_at_the_hip(brief)
        else "They are as wide as the hip asks"
    )
    return (
        f"Her hip decides {hoops}: {kind.called} from the waist would measure {rounds} {brief.units} round there, "
        f"inside her hip with its {room} of room. {ending}."
    )


def written(brief: Brief, cage: FirstCage) -> str:
    """The design as YAML."""
    kind, unit = KINDS[brief.silhouette], IN_WORDS[brief.units]
    own = "7 1/2 in" if brief.units == "mm" else "7 mm"
    parts = [
        f"# A first design: {kind.called} on {brief.hoops} {kind.counted}. Change it, then: cage3d check FILE",
        *remark(kind.told),
        f"# Numbers without a unit are {unit}; any number may carry its own, such as {own}.",
        *remark(hip_words(brief) or ""),
        f"name: {quoted(brief.name)}",
        line(f"units: {brief.units}", "in, ft, mm, cm or m"),
        "",
        *wearer_lines(brief),
        "",
        *band_and_steel(brief, cage),
        "",
        *(cloth_lines(brief, cage, cage.gores) if cage.gores else tape_lines(brief, cage)),
        "",
        line("hoops:", hoops_remark(cage)),
        *(hoop_line(hoop, brief) for hoop in cage.hoops),
        "",
    ]
    if cage.ties:
        parts += [
            line("ties:", ties_remark(cage)),
            *(tie_line(tie, brief) for tie in cage.ties),
            "",
        ]
    if brief.skirt:
        parts.append(line(f"skirt: {{weight: {brief.skirt:.3g} kg}}", "what hangs on the cage"))
    parts.append(line(f"hem: {{{hem_text(brief)}}}", "wanted height of the lowest hoop above the floor"))
    return "\n".join([*parts, *wanted_lines(brief, cage)]) + "\n"


def hem_text(brief: Brief) -> str:
    """The clearance, or by side where the hem dips."""
    dip = brief.dip or 0.0
    sinks = {"front": 0.0, "sides": dip / 2, "back": dip} if dip else {"clearance": 0.0}
    return ", ".join(
        f"{key}: [{', '.join(size(height - sink, brief) for height in brief.clearance)}]"
        for key, sink in sinks.items()
    )


def hoops_remark(cage: FirstCage) -> str:
    if cage.gap:
        return "from the top, finished length round, of open ones end to end"
    if any("beside" in hoop.placed for hoop in cage.hoops):
        return "from the top, her left and her right; finished length end to end"
    if all(hoop.placed for hoop in cage.hoops):
        return "from the top, finished length end to end; open in front"
    return "from the top, finished length round"


def ties_remark(cage: FirstCage) -> str:
    if any("beside" in hoop.placed for hoop in cage.hoops):
        return "from end to end, round her sides"
    if any(hoop.placed for hoop in cage.hoops):
        return "laces from end to end, behind her legs"
    if cage.ties[0].runs is None:
        return "her left side, then her right, from front to back"
    return "from the front, behind her legs: they draw the cage back"


def remark(text: str) -> list[str]:
    return wrap(text, 98, initial_indent="# ", subsequent_indent="# ")


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


def band_and_steel(brief: Brief, cage: FirstCage) -> list[str]:
    assert cage.steel is not None
    width, thickness = (f"{round(1000 * one, 3):g} mm" for one in cage.steel)
    depth, overlap = size(trade.BAND_DEPTH, brief), size(trade.BAND_OVERLAP, brief)
    return [
        line(f"waistband: {{depth: {depth}, overlap: {overlap}}}", "overlap: for the buckle and turning"),
        line(f"steel: {{width: {width}, thickness: {thickness}}}", "flat spring steel"),
    ]


def tape_lines(brief: Brief, cage: FirstCage) -> list[str]:
    """One list of drops where all tapes are alike, else one a tape."""
    lines = [
        "tapes:",
        line(f"  count: {brief.tapes}", "from centre front round by her left"),
        stations_line(cage),
        line(f"  casing: {size(trade.CASING_HEIGHT, brief)}", "height of a casing"),
    ]
    if len(cage.drops) == 1:
        row = drops_text(cage.drops[0], brief)
        return [*lines, line(f"  drops: {row}", "along the tape: waistband to hoop 1, and so on")]
    lines.append(line("  drops:", "along the tape: waistband to hoop 1, and so on; a list for each tape"))
    rows = [f"    - {drops_text(row, brief)}" for row in cage.drops]
    widest = max(max(map(len, rows)) + 2, 42)
    return [*lines, *(f"{row:<{widest}}# tape {number}" for number, row in enumerate(rows, 1))]


def stations_line(cage: FirstCage) -> str:
    if cage.stations is None:
        return line("  stations: between", "no tape at centre front; on: tape 1 there")
    shares = ", ".join(f"{share:.3g}" for share in cage.stations)
    return line(
        f"  stations: [{shares}]", "shares of the girth, from her left side round the back to her right"
    )


def cloth_lines(brief: Brief, cage: FirstCage, gores: int) -> list[str]:
    """The petticoat's own cloth, with its levels counted from the waistband."""
    return [
        line("cloth:", "in place of tapes"),
        line(f"  gores: {gores}", "seams from centre front round by her left"),
        *levels_lines(brief, cage),
        line(f"  fabric: {1000 * usual.FABRIC:g} g/m2", "weigh your own"),
        *([line(f"  gap: {size(cage.gap, brief)}", "from end to end of an open hoop")] if cage.gap else []),
        line(f"  width: {size(trade.CLOTH_WIDTH, brief)}", "as it is bought"),
        line(f"  casing: {size(trade.CASING_HEIGHT, brief)}", "height of a casing"),
    ]


def levels_lines(brief: Brief, cage: FirstCage) -> list[str]:
    """One list of levels for all sides, or one a side."""
    told = "down the cloth, waistband to each hoop"
    rows = [drops_text(row, brief) for row in cage.drops]
    if len(rows) == 1:
        return [line(f"  levels: {rows[0]}", told)]
    sides = [f"    {side}: {row}" for side, row in zip(SIDES, rows, strict=True)]
    return [line("  levels:", told), *sides]


def drops_text(row: Row, brief: Brief) -> str:
    return f"[{', '.join(size(drop, brief) for drop in row)}]"


def hoop_line(hoop: FirstHoop, brief: Brief) -> str:
    placed = "".join(f", {key}: {word}" for key, word in hoop.placed.items())
    text = f"  - {{length: {size(hoop.length, brief)}{placed}}}"
    return line(text, hoop.told) if hoop.told else text


def tie_line(tie: FirstTie, brief: Brief) -> str:
    one, other = tie.tapes
    name = f"name: {tie.name}, " if tie.name else ""
    runs = f", runs: {tie.runs}" if tie.runs else ""
    ends = f"from: hoop {tie.hoop} tape {one}, to: hoop {tie.hoop} tape {other}"
    return f"  - {{{name}{ends}, length: {size(tie.length, brief)}{runs}}}"


def wanted_lines(brief: Brief, cage: FirstCage) -> list[str]:
    if not cage.wanted:
        return []
    rows = [
        ", ".join(
            f"{key}: {number:g}" if key == "hoop" else f"{key}: {size(number, brief)}"
            for key, number in wanted.items()
        )
        for wanted in cage.wanted
    ]
    return [line("wanted:", "what cage3d aim seeks the lengths for"), *(f"  - {{{row}}}" for row in rows)]


def quoted(text: str) -> str:
    """A text in double quotes as YAML reads them."""
    kept = "".join(
        sign if sign.isprintable() else f"\\U{ord(sign):08x}" for sign in text.replace("\\", "\\\\")
    )
    return '"' + kept.replace('"', '\\"') + '"'

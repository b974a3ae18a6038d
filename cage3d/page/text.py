"""The page's words: the measures as tables, and the warnings."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from html import escape

from cage3d.design.hoop_materials import one_stuff
from cage3d.design.models import Design
from cage3d.report.alike import SLACK, tapes_alike
from cage3d.report.cautions import wearing_cautions
from cage3d.report.how_sure import OFTEN, give_or_take, how_sure, of_the_whole
from cage3d.report.materials import material_lines
from cage3d.report.record import HoopReport, Report
from cage3d.report.slides import slide_lines
from cage3d.report.summary import carrying, own_sides
from cage3d.report.tables import span
from cage3d.report.wishes import wish_lines
from cage3d.shape.weights import GRAVITY
from cage3d.steady import fixed, percent
from cage3d.units import IN_WORDS, show_length
from cage3d.wording import capital

UNIT_NAMES = IN_WORDS | {
    "in": "inches, to the nearest 1/8",
    "ft": "feet and inches, to the nearest 1/8 in",
}
MANY = 10  # columns; more are printed small, so that all stand on the paper
SHORT = 25  # rows; fewer are printed on one page


def summary(report: Report) -> str:
    """One sentence: what it is and how large."""
    count, carriers = len(report.hoops), "gores" if report.on_cloth else "tapes"
    wide, deep, low = (
        show_length(metres, report.units) + of_the_whole(report, sure)
        for metres, sure in (
            (report.width_side_side_m, "width_side_side_m"),
            (report.width_front_back_m, "width_front_back_m"),
            (report.hem.lowest_m, "hem_lowest_m"),
        )
    )
    return escape(
        f"{count} hoop{'s' if count > 1 else ''} on {len(report.tapes)} {carriers}; {wide} wide, {deep} deep; "
        f"lowest hoop {low} above the floor; {fixed(report.weight_kg, 2)} kg on the waist."
    )


def text_html(design: Design, report: Report) -> str:
    """Everything below the model."""
    parts = [
        notes(report),
        warnings_html(report),
        hoops_html(report),
        tapes(report),
        ties(report),
        whole(report),
        cautions(design, report),
    ]
    return "\n".join(part for part in parts if part)


def notes(report: Report) -> str:
    """What the design notes."""
    return f"<section><h2>Notes</h2>\n<p>{escape(report.notes)}</p></section>" if report.notes else ""


def cautions(design: Design, report: Report) -> str:
    items = "".join(
        f"<li><b>{escape(title)}:</b> {escape(text)}</li>" for title, text in wearing_cautions(design, report)
    )
    return f'<section class="cautions"><h2>Before it is worn</h2>\n<ul>{items}</ul></section>'


def table_html(
    title: str, caption: str, head: Sequence[str], rows: Iterable[Sequence[str]], below: str = ""
) -> str:
    """below: HTML under the table."""
    top = "".join(f'<th scope="col">{escape(cell)}</th>' for cell in head)
    told = list(rows)
    body = "\n".join(row_html(row) for row in told)
    kinds = [kind for kind, fits in (("many", len(head) > MANY), ("short", len(told) < SHORT)) if fits]
    named = f' class="{" ".join(kinds)}"' if kinds else ""
    return (
        f"<section><h2>{escape(title)}</h2>\n<div class='wide'><table{named}><caption>{escape(caption)}</caption>\n"
        f"<thead><tr>{top}</tr></thead>\n<tbody>\n{body}\n</tbody></table></div>{below}</section>"
    )


def row_html(row: Sequence[str]) -> str:
    """Of a cell of two lines the second one is small: how sure the figure over it is."""
    lines = (escape(cell).partition("\n") for cell in row[1:])
    cells = "".join(
        f"<td>{first}<br><small>{under}</small></td>" if under else f"<td>{first}</td>"
        for first, _, under in lines
    )
    return f'<tr><th scope="row">{escape(row[0])}</th>{cells}</tr>'


def warnings_html(report: Report) -> str:
    if not report.warnings:
        return ""
    items = "".join(f"<li>{escape(warning.text)}</li>" for warning in report.warnings)
    return f'<section class="warnings"><h2>Mind this</h2><ul>{items}</ul></section>'


def hoops_html(report: Report) -> str:
    head = (
        "",
        "Length",
        "Side to side",
        "Front to back",
        "Of that behind",
        "Height front",
        "Her left",
        "Back",
        "Her right",
        "Tilt",
    )
    rows = [hoop_row(report, hoop) for hoop in report.hoops]
    unit = UNIT_NAMES[report.units or "mm"]
    sure = f" ±: more or less, {OFTEN}." if report.certainty is not None else ""
    where = f"of the middle of the {report.stuff}"
    caption = f"In {unit}; heights above the floor, {where}; behind: behind the waist.{sure}"
    told = [
        *own_sides(report),
        *wish_lines(report),
        *slide_lines(report),
        *how_sure(report),
        *material_lines(report),
    ]
    below = "".join(f"\n<p>{escape(line)}</p>" for line in told)
    return table_html("Hoops as they hang", caption, head, rows, below)


FIGURES = (
    "width_side_side_m", "width_front_back_m", "height_front_m", "height_left_m", "height_back_m", "height_right_m",
)  # fmt: skip


def hoop_row(report: Report, hoop: HoopReport) -> list[str]:
    length = f"{show_length(hoop.length_m, report.units, unit=False)} {hoop.kind}".rstrip()
    shown = [hoop_figure(report, hoop, name) for name in FIGURES]
    shown.insert(2, percent(hoop.back_share))
    return [f"Hoop {hoop.number}", length, *shown, f"{fixed(hoop.tilt_deg, 1)}°"]


def hoop_figure(report: Report, hoop: HoopReport, name: str) -> str:
    """A height or width, and under it how sure it is."""
    shown = show_length(getattr(hoop, name), report.units, unit=False)
    if report.certainty is None:
        return shown
    return f"{shown}\n±{give_or_take(getattr(report.certainty.hoops[hoop.number - 1], name), report.units)}"


def tapes(report: Report) -> str:
    rows, hoop = [], one_stuff(report.stuff)
    for kind in tapes_alike(report):
        own = dict(zip(kind.hoops, kind.drops, strict=True))
        rows.append(
            [kind.names, *(own.get(hoop.number, "–") for hoop in report.hoops), kind.whole, kind.slack]
        )
    head = ["", *[f"To hoop {hoop.number}" for hoop in report.hoops], "Whole", "Slack"]
    caption = (
        f"Along the tape, from {hoop} to {hoop}; tapes counted from centre front round by her left. "
        "Slack too small to see is not told."
    )
    if report.on_cloth:
        caption = (
            f"Down the cloth along each seam, from {hoop} to {hoop}; seams counted from centre front round by her "
            "left. Slack too small to see is not told."
        )
    return table_html(report.says("Tapes"), caption, head, rows)


def ties(report: Report) -> str:
    if not report.ties:
        return ""
    rows = [
        [tie.name, show_length(tie.length_m, report.units), grams(tie.tension_N),
         show_length(tie.slack_m, report.units) if tie.slack_m > SLACK else "taut"]
        for tie in report.ties
    ]  # fmt: skip
    return table_html(
        "Ties and laces",
        f"Length from {one_stuff(report.stuff)} to {one_stuff(report.stuff)}.",
        ["", "Length", "Pull", "Slack"],
        rows,
    )


def grams(newtons: float) -> str:
    """A pull as a spring balance shows it."""
    return f"{fixed(newtons / GRAVITY * 1000.0, 0)} g"


def whole(report: Report) -> str:
    def show(metres: float) -> str:
        return show_length(metres, report.units)

    hem = span(show(report.hem.lowest_m), show(report.hem.highest_m))
    wide = show(report.width_side_side_m) + of_the_whole(report, "width_side_side_m")
    deep = show(report.width_front_back_m) + of_the_whole(report, "width_front_back_m")
    rows = [
        ["Lowest hoop above the floor", hem + of_the_whole(report, "hem_lowest_m", "hem_highest_m")],
        ["Lowest hoop at its widest", show(report.hem.widest_m) + of_the_whole(report, "hem_widest_m")],
        [
            "Whole cage",
            f"{wide} side to side, {deep} front to back, "
            f"{percent(report.back_share)} of that behind the waist",
        ],
        [
            "Weight on the waist",
            f"{fixed(report.weight_kg, 2)} kg (cage {fixed(report.cage_kg, 2)}, skirt {fixed(report.skirt_kg, 2)})",
        ],
        [capital(report.stuff), show(report.steel_m)],
        *([["Reserve", " ".join(carrying(report))]] if report.carries else []),
    ]
    return table_html("The whole cage", "As settled, the wearer standing still.", ["", ""], rows)

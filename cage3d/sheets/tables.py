"""The tables as CSV: the figures of the pages, in the maker's writing and in millimetres."""

from __future__ import annotations

from cage3d.design.hoop_materials import one_hoop
from cage3d.design.models import Design
from cage3d.sheets.csv_writing import as_csv, heads, pair, plain
from cage3d.sheets.draper import Draping
from cage3d.sheets.making import Making
from cage3d.sheets.pages.cutting import ends_of, join_takes
from cage3d.sheets.tapes import side_of
from cage3d.sheets.way_in import slit_on, way_in
from cage3d.steady import fixed
from cage3d.study.truing.hanging import WIDTHS
from cage3d.study.truing.record import record_print
from cage3d.units import show_mm


def csv_tables(making: Making, draping: Draping) -> dict[str, bytes]:
    """Every table by its file's name, UTF-8."""
    return {
        "cutting.csv": cutting(making),
        "order-of-cutting.csv": order_of_cutting(making),
        f"{one_hoop(making.design.stuff)}-marks.csv": steel_marks(making),
        **(gore_tables(making) if making.gores else tape_tables(making)),
        "waistband-marks.csv": waistband_marks(making),
        "draper.csv": draper(making, draping),
        "materials.csv": material_list(making),
        "fitting-record.csv": fitting_record(making),
    }


def tape_tables(making: Making) -> dict[str, bytes]:
    return {"tapes.csv": tapes(making), "tape-marks.csv": tape_marks(making)}


def gore_tables(making: Making) -> dict[str, bytes]:
    """What stands for tapes in a petticoat of gores."""
    return {
        "gores.csv": gores(making),
        "gore-pattern.csv": gore_pattern(making),
        "casing-lines.csv": casing_lines(making),
    }


def cutting(making: Making) -> bytes:
    rows = []
    for cut in making.cuts:
        takes, ends = plain(join_takes(cut, making.writing)), plain(ends_of(cut, making.writing))
        figures = [*pair(making, cut.finished), *pair(making, cut.cut)]
        rows.append([cut.hoop, cut.section.words, *figures, takes, ends, cut.tips, cut.section.pieces])
    lengths = heads(making, "finished", "cut")
    return as_csv(
        ["hoop", material_head(making.design), *lengths, "join_takes", "ends", "tips", "pieces"], rows
    )


def order_of_cutting(making: Making) -> bytes:
    rows: list[list[object]] = []
    for plan in making.plans:
        for number, bar in enumerate(plan.bars, start=1):
            own = [plan.section.words, number, *pair(making, bar.length)]
            pieces = zip(bar.hoops, bar.cuts, strict=True)
            rows += [[*own, f"hoop {hoop}", *pair(making, cut)] for hoop, cut in pieces]
            rows.append([*own, "left over", *pair(making, bar.left)])
    return as_csv(
        [material_head(making.design), "length", *heads(making, "bought"), "piece", *heads(making, "piece")],
        rows,
    )


def material_head(design: Design) -> str:
    """Of the column that says what each hoop is cut from."""
    return "steel" if design.stuff == "steel" else "material"


def line_heads(design: Design) -> tuple[str, str, str]:
    """Of the three lines of a casing: stitches, the middle of the hoop at rest, stitches."""
    return "upper_line", "steel" if design.stuff == "steel" else "hoop_middle", "lower_line"


def steel_marks(making: Making) -> bytes:
    rows = [
        [cut.hoop, " + ".join(mark.names), *pair(making, mark.at)]
        for cut in making.cuts
        for mark in cut.marks
    ]
    return as_csv(["hoop", "mark", *heads(making, "from_cut_end")], rows)


def tapes(making: Making) -> bytes:
    rows = []
    for one in making.tapes:
        for tape, side in zip(one.tapes, one.sides, strict=True):
            rows.append(
                [tape, side, one.letter, *pair(making, one.finished), *pair(making, one.cut), one.layers]
            )
    rows.sort(key=lambda row: int(str(row[0])))
    return as_csv(["tape", "side", "set", *heads(making, "finished", "cut"), "layers"], rows)


def tape_marks(making: Making) -> bytes:
    rows = []
    for one in making.tapes:
        for casing in one.casings:
            lines = (casing.upper, casing.steel, casing.lower)
            told = [text for line in lines for text in pair(making, line)]
            rows += [[one.letter, hoop, *told] for hoop in casing.hoops]
    return as_csv(["set", "hoop", *heads(making, *line_heads(making.design))], rows)


def gores(making: Making) -> bytes:
    """Every gore with its finished widths."""
    levels = ["waistband", *(f"hoop_{cut.hoop}" for cut in making.cuts)]
    rows: list[list[object]] = []
    for one in making.gores:
        for gore, name, turned in zip(one.gores, one.names, one.mirrored, strict=True):
            widths = [text for width in one.widths for text in pair(making, float(width))]
            rows.append(
                [
                    gore,
                    *name.split(),
                    one.letter,
                    "yes" if turned else "no",
                    "yes" if one.even else "no",
                    *widths,
                ]
            )
    rows.sort(key=lambda row: int(str(row[0])))
    names = ["gore", "between_seams", "side", "set", "turned_over", "on_the_fold"]
    return as_csv([*names, *heads(making, *(f"width_{level}" for level in levels))], rows)


def gore_pattern(making: Making) -> bytes:
    """Every line of every gore's pattern, mm: x by her left from its middle, y down from the waistband's edge there."""
    rows: list[list[object]] = []
    into = way_in(making)
    for one in making.gores:
        lines = [
            ("cut", one.outline),
            ("seam by her right", one.edges[0]),
            ("seam by her left", one.edges[1]),
        ]
        lines += [("waistband", one.flat[0])]
        for casing in one.casings:
            of = f"casing {casing.hoop}"
            lines += [
                (f"{of} upper", casing.upper),
                (f"{of} {line_heads(making.design)[1]}", casing.steel),
                (f"{of} lower", casing.lower),
            ]
        slit = slit_on(one, into)
        lines += [] if slit is None else [("slit", slit)]
        for name, points in lines:
            places = enumerate(points.tolist(), start=1)
            rows += [[one.letter, name, place, show_mm(x), show_mm(y)] for place, (x, y) in places]
    return as_csv(["set", "line", "point", "x_mm", "y_mm"], rows)


def casing_lines(making: Making) -> bytes:
    """Down every seam from the waistband's edge."""
    rows: list[list[object]] = []
    for seam in range(1, making.design.tapes.count + 1):
        for casing in making.tapes_at(seam).casings:
            lines = (casing.upper, casing.steel, casing.lower)
            rows.append([seam, casing.hoop, *(text for line in lines for text in pair(making, line))])
    return as_csv(["seam", "hoop", *heads(making, *line_heads(making.design))], rows)


def waistband_marks(making: Making) -> bytes:
    rows = [[" + ".join(mark.names), *pair(making, mark.at)] for mark in making.band.marks]
    rows.append(["tongue's end", *pair(making, making.band.cut)])
    return as_csv(["mark", *heads(making, "from_cut_end")], rows)


def draper(making: Making, draping: Draping) -> bytes:
    """One figure a line: girths, lengths over the cage, and the spread of each gore."""
    rows: list[list[object]] = [["girth", row.place, *pair(making, row.girth)] for row in draping.girths]
    for row in draping.falls:
        if row.to_hem is not None:
            rows.append(["waist to hem", row.place, *pair(making, row.to_hem)])
        rows.append(["waist to floor", row.place, *pair(making, row.to_floor)])
    for gore in draping.gores:
        levels = ["waist", *draping.levels]
        for names in gore.names:
            for level, spread in zip(levels, gore.spreads, strict=True):
                rows.append([f"{draping.pieces} {names}, spread", level, *pair(making, spread)])
    return as_csv(["measure", "at", *heads(making, "length")], rows)


def material_list(making: Making) -> bytes:
    rows = []
    for row in making.materials:
        unit, digits = ("pieces", 0) if row.counted else ("m", 3)
        cost, currency = "" if row.cost is None else fixed(row.cost, 2), making.design.buying.currency or ""
        amounts = [fixed(row.amount, digits), fixed(row.buy, digits)]
        rows.append(
            [
                row.name,
                plain(row.words),
                *amounts,
                unit,
                fixed(row.weight, 4),
                cost,
                currency,
            ]
        )
    return as_csv(["material", "detail", "needed", "to_buy", "unit", "weight_kg", "cost", "currency"], rows)


def fitting_record(making: Making) -> bytes:
    """Predicted heights, within what they come out nine times in ten, and empty columns for what is measured and felt.

    As `cage3d true` reads them. Widths belong to a hoop and are written into the row of its first tape.
    """
    sides, report = [side_of(float(fraction)) for fraction in making.stations], making.report
    unit, print_of = making.writing.unit, record_print(making.design)
    to_fill_in = [f"measured_height_{unit}", *(() if making.gores else ("tape_above_feels",))]
    to_fill_in += [f"measured_{kind.replace(' ', '_')}_{unit}" for kind in WIDTHS]
    rows: list[list[object]] = []
    for place, hoop in enumerate(report.hoops):
        for row, point in enumerate(hoop.at_tapes):
            sure = report.certainty
            within = "" if sure is None else fixed(1e3 * sure.hoops[place].at_tapes_m[row], 1)
            told = [hoop.number, point.tape, sides[point.tape - 1], *pair(making, point.z_m), within]
            rows.append([*told, *[""] * len(to_fill_in), print_of])
    names = [*heads(making, "predicted_height"), "plus_or_minus_mm", *to_fill_in, "design"]
    return as_csv(["hoop", making.design.line, "side", *names], rows)

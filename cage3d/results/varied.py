"""A sweep over a design in a file, and the folder of what is told of it."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from cage3d.design.hoop_materials import one_stuff
from cage3d.design.names import file_stem
from cage3d.design.read import read_as_written
from cage3d.errors import CageError, DesignError, NotSettledError, Problem
from cage3d.page.contact_sheet import contact_sheet_svg
from cage3d.page.curves import curves_svg
from cage3d.page.varied_page import variants_on_page, varied_page
from cage3d.results.made import Files
from cage3d.results.names import cage_print
from cage3d.shape.weights import GRAVITY
from cage3d.sheets.csv_writing import as_csv
from cage3d.study.processes import processes
from cage3d.study.sweeping.ranges import steps_of
from cage3d.study.sweeping.sweep import Sweep
from cage3d.study.sweeping.told import Told
from cage3d.study.sweeping.variant_table import Sure, sure_of
from cage3d.study.sweeping.vary import Keep, Varied, evenly, vary
from cage3d.units.kinds import LENGTHS
from cage3d.units.showing import short
from cage3d.write.files import write_whole
from cage3d.write.folder import Folder, Held, Run
from cage3d.write.places import fingerprint

KEPT = ".cage3d-kept"  # stretches of a sweep that is under way
MOST_DRAWN = 60  # variants on the contact sheet
TABLE, CURVES, SHEET, PAGE = ENDS = ("-varied.csv", "-curves.svg", "-contact-sheet.svg", "-varied.html")
MOST_REASONS = 3  # told where nothing hangs
SHARES = ("back_share", "strain_used")


@dataclass(frozen=True)
class KeptOnDisk:
    """Finished stretches as files, each whole or not there."""

    folder: Path

    def get(self, key: str) -> bytes | None:
        try:
            return (self.folder / f"{key}.npz").read_bytes()
        except OSError:
            return None

    def put(self, key: str, data: bytes) -> None:
        write_whole(self.folder / f"{key}.npz", data)

    def clear(self) -> None:
        """Takes away what is told elsewhere now."""
        for path in self.folder.glob("*.npz"):
            path.unlink(missing_ok=True)
        if self.folder.is_dir() and not any(self.folder.iterdir()):
            self.folder.rmdir()


@dataclass(frozen=True)
class Swept:
    """What came of a sweep, and what was written of it."""

    varied: Varied
    sure: Sure | None
    written: tuple[Path, ...] = ()
    notes: tuple[str, ...] = ()


def sweep_of(path: Path, words: Sequence[str]) -> Sweep:
    """The variants of the design in a file. Raises CageError: the design or a range is at fault."""
    design, data = read_as_written(path)
    return Sweep(design, data, steps_of(design, words))


def vary_file(
    path: Path,
    sweep: Sweep,
    folder: Folder | None,
    jobs: int,
    told: Callable[[int], object] = lambda _done: None,
) -> Swept:
    """Settles a sweep in so many processes and tells of it, in a folder where there is one.

    Raises CageError where none of the variants is an answer, or the folder cannot be written. Stretches that were
    settled are kept in the folder until everything is written, so that the same sweep goes on from there.
    """
    if folder is None:
        return settled_sweep(path, sweep, None, jobs, told)
    keep = KeptOnDisk(folder.path / KEPT)
    with held_for(sweep, folder) as held:
        try:
            swept = settled_sweep(path, sweep, keep, jobs, told)
        except (DesignError, NotSettledError):
            keep.clear()  # nothing hangs, and that is told
            raise
        written = put_in(held, swept)
        keep.clear()
    return written


def write_varied(varied: Varied, folder: Folder) -> Swept:
    """Tells of a sweep of which all variants were held, in a folder. Raises CageError as `vary_file`."""
    refuse_no_answer(Path(varied.sweep.design.name), varied)
    with held_for(varied.sweep, folder) as held:
        return put_in(held, Swept(varied, sure_of(varied)))


@contextmanager
def held_for(sweep: Sweep, folder: Folder) -> Iterator[Held]:
    """The folder held for one run, once nothing is in the way of its files. Raises OutputError."""
    with folder.held() as held:
        held.look([f"{file_stem(sweep.design.name)}{end}" for end in ENDS])
        yield held


def put_in(held: Held, swept: Swept) -> Swept:
    """All files of a sweep, by the design's name."""
    sweep, notes = swept.varied.sweep, list[str]()
    stem = file_stem(sweep.design.name)
    files = {f"{stem}{end}": data for end, data in files_of(swept, notes.append).items()}
    run = Run(sweep_print(sweep), dict.fromkeys(files, "varied"), frozenset({"varied"}))
    written = held.put(files, run, notes.append)
    return Swept(swept.varied, swept.sure, written, tuple(notes))


def settled_sweep(
    path: Path, sweep: Sweep, keep: Keep | None, jobs: int, told: Callable[[int], object]
) -> Swept:
    drawn = {*evenly(range(sweep.count), MOST_DRAWN), *variants_on_page(sweep.across, sweep.rows)}
    with processes(min(jobs, sweep.stretch_count)) as executor:
        varied = vary(sweep, executor, keep, told, hold=drawn)
    refuse_no_answer(path, varied)
    return Swept(varied, sure_of(varied))


def refuse_no_answer(path: Path, varied: Varied) -> None:
    """Raises DesignError or NotSettledError where none of the variants hangs."""
    if varied.answers:
        return
    kind: type[CageError] = DesignError if all(one.refused for one in varied.told) else NotSettledError
    nearer = "Vary it nearer to what is written"
    none = f"none of the {varied.sweep.count} variants hangs"
    reasons = list(dict.fromkeys(one.why for one in varied.told))[:MOST_REASONS]
    raise kind([Problem(str(path), "", f"{none}: {why}", nearer) for why in reasons])


def files_of(swept: Swept, told: Callable[[str], object]) -> Files:
    """By the end of each file's name. told: called with a line on what is not among them."""
    varied, count = swept.varied, swept.varied.sweep.count
    drawn = evenly(range(count), MOST_DRAWN)
    shown = len(variants_on_page(varied.sweep.across, varied.sweep.rows))
    if count > min(len(drawn), shown):
        told(
            f"of {count} variants {len(drawn)} are on the contact sheet and {shown} on the page, evenly picked"
        )
    found = {
        TABLE: varied_csv(varied),
        CURVES: curves_svg(varied).encode(),
        SHEET: contact_sheet_svg(varied, drawn).encode(),
    }
    try:
        found[PAGE] = varied_page(varied, swept.sure, drawn)
    except ValueError as fault:
        told(f"no page: {fault}, so none could become the next")
    return found


def sweep_print(sweep: Sweep) -> str:
    """Changes with the design, with what varies, and with the version of the tool."""
    told = [cage_print(sweep.design), *(f"{steps.in_words} {steps.change}" for steps in sweep.steps)]
    return fingerprint("\n".join(told).encode())[:16]


def varied_csv(varied: Varied) -> bytes:
    """A line a variant, figures as decimal numbers: lengths in the design's units, pulls in g, shares in %."""
    units = varied.sweep.design.units or "mm"
    unit = "in" if units == "ft" else units
    names = list(varied.told[varied.answers[0]].figures) if varied.answers else []
    most = [name for told in varied.told for name in told.figures if name not in names]
    names += list(dict.fromkeys(most))  # of a cage that has more hoops or ties than the first
    heads = [f"{steps.figure.name}{f' ({steps.unit})' if steps.unit else ''}" for steps in varied.sweep.steps]
    stuff = one_stuff(varied.sweep.design.stuff, "hoops")
    heads += [column_head(name.replace("steel", stuff), unit) for name in names]
    heads += ["mind", "no answer because"]
    return as_csv(heads, (csv_row(varied, at, told, names, unit) for at, told in enumerate(varied.told)))


def csv_row(varied: Varied, variant: int, told: Told, names: Sequence[str], unit: str) -> list[str]:
    pairs = zip(varied.sweep.steps, varied.sweep.places(variant), strict=True)
    values = [short(steps.number(place), 6) for steps, place in pairs]
    figures = [cell(name, told.figures.get(name), unit) for name in names]
    return [*values, *figures, " ".join(code for code, _ in told.warnings), told.why]


def column_head(name: str, unit: str) -> str:
    """'hoop 4 height front (in)', of hoop_4_height_front_m."""
    for end, said in (("_m", unit), ("_N", "g"), ("_kg", "kg"), ("_deg", "degrees")):
        if name.endswith(end):
            return f"{name.removesuffix(end).replace('_', ' ')} ({said})"
    return name.replace("_", " ") + (" (%)" if name.endswith(SHARES) else "")


def cell(name: str, value: float | None, unit: str) -> str:
    if value is None:
        return ""
    if name.endswith("_m"):
        return short(value / LENGTHS[unit], 3 if unit in ("in", "cm") else 2 if unit == "mm" else 5)
    if name.endswith("_N"):
        return short(value / GRAVITY * 1000.0, 1)
    return short(100.0 * value if name.endswith(SHARES) else value, 3)

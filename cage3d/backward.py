"""The other way round, with the files: from a wanted shape to its design, from a hung cage to what is wrong with it."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

from cage3d import __version__
from cage3d.design.models import Design
from cage3d.design.read import read, read_text, text_as_written
from cage3d.design.tables import table_of, table_text
from cage3d.design.text_files import text_of
from cage3d.errors import CommandError, OutputError, Problem
from cage3d.flow import proved, refuse_existing
from cage3d.page.wanted_drawing import wanted_svg
from cage3d.report import measure
from cage3d.settle import settle
from cage3d.shape.lay_out import lay_out
from cage3d.study.aiming.answer import Answer
from cage3d.study.aiming.way_back import Asked, usual_step, way_back
from cage3d.study.aiming.writing import text_with
from cage3d.study.truing.again import as_mended, left_over
from cage3d.study.truing.answer import TrueAnswer
from cage3d.study.truing.mending import hem_off
from cage3d.study.truing.record import Record, record_of
from cage3d.study.truing.signatures import Signatures
from cage3d.study.truing.truing import Limits, trued
from cage3d.study.truing.working import as_bytes, from_bytes, signatures_key, worked
from cage3d.write.files import write_whole


def aim_at(
    path: Path,
    into: Path,
    table: Path | None,
    asked: Asked,
    force: bool = False,
    told: Callable[[str], object] = lambda _what: None,
) -> tuple[Answer, list[Path]]:
    """Seeks the lengths that give the wanted shape, and writes the design that has it, or comes nearest.

    Beside it a drawing of what was wanted and what settles. Raises CageError; nothing is then written.
    """
    picture = into.with_suffix(".svg")
    if into.suffix not in (".yaml", ".yml"):
        raise CommandError(
            Problem("--into", str(into), "this is no name of a design", "Write -o wanted.yaml")
        )
    for target in (into, picture):
        refuse_existing(target, force)
    answer = way_back(path, table, asked, told)
    proved(answer.found.settled, into)
    written = [write_whole(into, answer.text.encode())]
    return answer, [
        *written,
        write_whole(picture, wanted_svg(answer.found.settled, answer.found.wishes, answer.outlines).encode()),
    ]


def true_of(
    path: Path,
    table: Path,
    limits: Limits,
    bare: bool = False,
    told: Callable[[str], object] = lambda _what: None,
) -> TrueAnswer:
    """What is likely wrong with a hung cage, from the record of its fitting, and what to mend.

    bare: it was measured without its skirt. Raises CageError.
    """
    design = read(path)
    record = read_record(table, design)
    hung = design.model_copy(update={"skirt": None}) if bare else design
    told("settling the cage")
    settled = proved(settle(lay_out(hung)), path)
    return trued(settled, record, kept_signatures(path, hung, bare, told), limits, told)


@dataclass(frozen=True)
class MendedDesign:
    """The design of a cage as it is believed to hang once mended, written on marks of her rule."""

    written: tuple[Path, Path]  # the design, and the record to measure it by
    mark: float  # m, from mark to mark
    hem_off: float  # m, from the lowest to the highest departure of its hem from the line that was planned
    as_before: bool  # nothing is left that is other than written


def write_mended(path: Path, into: Path, answer: TrueAnswer, force: bool = False) -> MendedDesign:
    """The design of the cage as it will hang once mended, and a record to measure it by again. Raises CageError."""
    from cage3d.sheets.making import prepared
    from cage3d.sheets.tables import fitting_record

    table = into.with_name(f"{into.stem}-fitting-record.csv")
    for target in (into, table):
        refuse_existing(target, force)
    text = text_of(path)
    design, data = text_as_written(text, str(path))
    step = usual_step(design)
    if answer.mended is None:
        raise OutputError(
            Problem(str(into), "", "nothing is explained, so nothing is mended", "Leave -o away")
        )
    try:
        after = as_mended(design, left_over(answer.errors, answer.mended.moves, step), step)
    except ValueError as fault:
        raise OutputError(
            Problem(
                str(into),
                "",
                f"{fault} is not written into a design",
                "Write the widths of the panel in place of its tightness",
            )
        ) from None
    mended = text_with(text, data, design, after, step / 2.0, str(path))
    settled = proved(settle(lay_out(read_text(mended, str(into)))), into)
    record = fitting_record(prepared(settled.cage, measure(settled), None))
    return MendedDesign(
        (write_whole(into, mended.encode()), write_whole(table, record)),
        step,
        hem_off(proved(settle(lay_out(design)), path), settled),
        mended == text,
    )


def read_record(table: Path, design: Design) -> Record:
    """The fitting record as she filled it in. Raises CageError with every fault at its line."""
    missing = "Check the name; cage3d sheets FILE writes tables/fitting-record.csv to fill in"
    return record_of(table_of(table_text(table, missing), str(table)), design, str(table))


def kept_signatures(path: Path, design: Design, bare: bool, told: Callable[[str], object]) -> Signatures:
    """What every error would do: as kept beside the design by an earlier run, else settled and kept."""
    key = signatures_key(design, __version__)
    beside = path.with_name(f".{path.stem}{'-bare' if bare else ''}.cage3d-errors.npz")
    with suppress(OSError):
        kept = from_bytes(beside.read_bytes(), key, design)
        if kept is not None:
            return kept
    found = worked(design, told)
    # A folder that may not be written costs the next run some time, and nothing else.
    with suppress(OutputError):
        write_whole(beside, as_bytes(found, key))
    return found

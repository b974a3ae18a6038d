"""Putting what was moved back into the design's file: the changed values alone, and nothing of hers lost on the way."""

from __future__ import annotations

from codecs import BOM_UTF8
from contextlib import suppress
from pathlib import Path

from cage3d.design.rewriting import rewritten
from cage3d.design.text_files import LARGEST_FILE, text_of
from cage3d.errors import CageError, DesignError, OutputError, Problem
from cage3d.live.fitting import Opened, Values, open_text
from cage3d.write.files import refusal, write_whole

BEFORE = ".before"  # behind the name of a design's file: the text that a saving took the place of
SAME = 1e-9  # m, kg: what differs by less says the same, however it is written


class ChangedOnDiskError(Exception):
    """The file holds another text than the one that was opened; nothing was written."""


def saved(opened: Opened, values: Values, over: bool = False) -> Opened:
    """The design as it stands in its file with these values in it; the text before lies beside it.

    over: a file that was changed meanwhile gets them too, in its own text where that still has their places, else it
    becomes the design as it is fitted. Raises ChangedOnDiskError where it was changed and `over` was not said,
    DesignError where the rules refuse the values, CageError where they could not be put into the text, or the file not
    be written; it is then as it was.
    """
    there = bytes_there(opened.path)
    if not over and (there is None or text_in(opened.path) != opened.text):
        raise ChangedOnDiskError
    begin = begun_from(opened, values) if over else opened
    wanted = begin.design_with(said(begin, values))
    text = rewritten(begin.text, begin.data_with(said(begin, values)), str(opened.path))
    after = open_text(opened.path, text)
    if after.design != wanted:
        why = "the text with the changed values would read as another design"
        raise CageError(Problem(str(opened.path), "", why, "Write them by hand"))
    data = (BOM_UTF8 if there is not None and there.startswith(BOM_UTF8) else b"") + text.encode()
    if data != there:
        if there is not None:
            write_whole(kept_beside(opened.path), there)
        write_whole(opened.path, data)
    return after


def kept_beside(path: Path) -> Path:
    """Where the text lies that a saving took the place of."""
    return path.with_name(path.name + BEFORE)


def said(opened: Opened, values: Values) -> dict[str, str]:
    """Those that say something else than the file does: what was moved there and back stays as it is written."""
    found = {}
    for place, text in values.items():
        known = opened.controls.get(place)
        number = None if known is None else opened.number_of(place, text)
        if known is None or number is None or abs(number - known.value) > SAME:
            found[place] = text
    return found


def begun_from(opened: Opened, values: Values) -> Opened:
    """The text now in the file, where it is a design that has a place for every value; else the one that was opened."""
    with suppress(DesignError):
        now = open_text(opened.path, text_of(opened.path))
        now.design_with(values)
        return now
    return opened


def bytes_there(path: Path) -> bytes | None:
    """What the file holds; None where there is none. Raises OutputError where it may not be read."""
    try:
        with path.open("rb") as file:
            data = file.read(LARGEST_FILE + 1)
    except FileNotFoundError:
        return None
    except OSError as fault:
        raise OutputError(refusal(path, fault).problems) from None
    if len(data) > LARGEST_FILE:
        why = "the file has become larger than 1 MB, and no design is"
        raise OutputError(Problem(str(path), "", why, "Look what became of it"))
    return data


def text_in(path: Path) -> str | None:
    """The text of the file, None where it is none."""
    try:
        return text_of(path)
    except DesignError:
        return None

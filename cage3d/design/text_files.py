"""The text of a design's file; what is no plain text is named, with what to do about it."""

from __future__ import annotations

import os
import re
import stat
from pathlib import Path

from cage3d.design.faults import printable
from cage3d.errors import DesignError, Problem

LARGEST_FILE = 1_000_000  # bytes; a design with every drop written out has some 20,000

UTF_8 = "Save it as UTF-8: in most editors under Save as, Encoding"
PLAIN = "Save it as plain text, or copy its lines into a plain text editor, and name it petticoat.yaml"
# How files begin that makers take for a text.
NO_PLAIN_TEXT = (
    (rb"\xff\xfe|\xfe\xff|(?:[^\0]\0){8}|(?:\0[^\0]){8}", "the file is UTF-16, two bytes to a letter", UTF_8),
    (rb"\s*\{\\rtf", "the file is of a word processor (RTF) and no plain text", PLAIN),
    (rb"PK\x03\x04", "the file is of a word processor or an archive (docx, odt or zip) and no plain text", PLAIN),
    (rb"%PDF", "the file is a PDF and no plain text", PLAIN),
    (
        rb"\s*<(?i:!doctype|\?xml|html|head|body|div|meta|pre|p|span|table|title)\b",
        "the file is a web page and not the text that the page shows",
        "Open the page, use its Raw or Download, or copy the lines into a plain text editor",
    ),
)  # fmt: skip


def text_of(file: Path) -> str:
    """The text of a file. Raises DesignError where it is missing, too large or no plain text."""

    def refuse(why: str, try_this: str) -> DesignError:
        return DesignError(Problem(printable(str(file), 300), "", why, try_this))

    try:
        if file.is_dir():
            raise refuse(
                "this is a folder, and a design is a file", "Name the file in it, such as petticoat.yaml"
            )
        data = bytes_of(file)
    except FileNotFoundError:
        raise refuse(
            "there is no such file", "Check the name, or begin a design with: cage3d new FILE"
        ) from None
    except PermissionError:
        raise refuse("this file may not be read by you", "Ask its owner for leave to read it") from None
    except (OSError, ValueError) as fault:
        reason = getattr(fault, "strerror", None) or "the name is not one a file can have"
        raise refuse(f"the file cannot be read ({reason})", "Name a design, such as petticoat.yaml") from None
    if len(data) > LARGEST_FILE:
        raise refuse("the file is larger than 1 MB, and no design is", "Name the design's own file")
    for begins, why, try_this in NO_PLAIN_TEXT:
        if re.match(begins, data):
            raise refuse(why, try_this)
    if b"\0" in data:
        raise refuse("this is not a text file", "Name the design, a text file such as petticoat.yaml")
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as fault:
        line = data.count(b"\n", 0, fault.start) + 1
        raise DesignError(
            Problem(str(file), "", "the file is not UTF-8 text", "Save it as UTF-8 in your editor", line)
        ) from None


def bytes_of(file: Path) -> bytes:
    """At most LARGEST_FILE bytes and one more. Raises OSError, also for what is no plain file."""
    # A pipe without a writer would keep a plain open() waiting for ever.
    handle = os.open(file, os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0))
    with os.fdopen(handle, "rb") as stream:
        if not stat.S_ISREG(os.fstat(handle).st_mode):
            raise OSError(0, "it is a device or a pipe, and no plain file")
        return stream.read(LARGEST_FILE + 1)

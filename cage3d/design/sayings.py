"""What the reader of YAML says where it stumbles, as a maker can use it."""

from __future__ import annotations

from ruamel.yaml.error import MarkedYAMLError

from cage3d.design.scanner import (
    LONGEST_VALUE,
    NAME_TOO_LONG,
    NO_SUCH_SIGN,
    TOO_LONG,
    TOO_MANY_DIRECTIVES,
)
from cage3d.errors import Problem

SHORTER = "Write it shorter; a note may have 5000 letters"
# What the reader of YAML says, and what a maker can do about it.
SAYINGS = (
    (TOO_LONG, f"the value is longer than {LONGEST_VALUE} signs", SHORTER),
    (NAME_TOO_LONG, "a word that begins with !, & or * is too long", "Put the text in quotes"),
    (TOO_MANY_DIRECTIVES, "lines that begin with % have no meaning in a design", "Leave them out"),
    (NO_SUCH_SIGN, "a \\U in \"...\" names a sign that does not exist", "Write the sign itself, or ' round the text"),
    ("'\\t'", "a tab stands where YAML wants blanks", "Indent with blanks (two a level)"),
    ("mapping values are not allowed", "a second : stands in this line, or the line is indented wrongly",
     "Put the text in quotes, or line it up with the lines above"),
    ("end of stream", "a quote or a bracket is opened and not closed before the file ends", "Close it"),
    ("',' or", "a bracket is not closed, or a comma is missing", "Write [a, b] or {a: 1, b: 2}"),
    ("did not find expected", "the line does not fit the ones above it", "Line it up with its neighbours"),
    ("block end", "the line does not fit the ones above it", "Line it up with its neighbours"),
    ("could not find expected ':'", "a key without its :", "Write key: value"),
    ("escape character", "a \\ in \"...\" starts a special character", "Put ' round the text instead"),
    ("cannot start any token", "this sign cannot begin a value", "Put the text in quotes"),
    ("alias", "* begins an alias in YAML", "Put the text in quotes"),
)  # fmt: skip


def as_problem(fault: MarkedYAMLError, where: str, text: str) -> Problem:
    # A key without its colon is where the key is; the library stumbles over the line that follows.
    no_colon = "could not find expected ':'" in str(fault.problem) and fault.context_mark
    mark = fault.context_mark if no_colon else fault.problem_mark or fault.context_mark
    line, column = (mark.line + 1, mark.column + 1) if mark else (1, 1)
    lines = text.split("\n")
    written = lines[line - 1].strip()[:60] if line <= len(lines) else ""
    indent = lines[line - 1][: column + 1] if line <= len(lines) else ""
    said = f"{fault.problem} {fault.context}"
    if "\t" in indent and not indent.strip():
        said = "'\\t'"
    why, try_this = next(
        ((why, hint) for sign, why, hint in SAYINGS if sign in said),
        ("the file cannot be read as YAML from here", "Look at one of the samples"),
    )
    return Problem(where, written, why, try_this, line, column)

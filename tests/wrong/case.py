"""One wrong input: what is replaced in the right text and by what, the line of the fault, what its message holds."""

from __future__ import annotations

# Lines of the right text that are replaced, and what they are replaced by.
DROPS, HOOP_2 = "  drops: [8 1/4, 6, 5 1/2, 5]", "  - {length: 60}"
HIPS = "wearer:\n  hip: 39\n  hip_drop: 8"
TIE = "ties: [{{from: {0}, to: {1}, length: {2}}}]"

Wrong = tuple[tuple[str, str], int, str]


def also(line: str) -> tuple[str, str]:
    """A case that adds a line at the end, line 15."""
    return "  - {length: 74}\n", f"  - {{length: 74}}\n{line}\n"

"""Tables of figures that are never cut: on a narrow console their columns go on below."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import accumulate

from rich.box import SIMPLE_HEAD, Box
from rich.cells import cell_len
from rich.console import Console, ConsoleOptions, RenderResult
from rich.table import Table
from rich.text import Text

from cage3d.legible import in_signs_of, legible

# For terminals whose encoding has no lines to draw.
ASCII_HEAD = Box("    \n    \n -- \n    \n    \n    \n    \n    \n", ascii=True)
NARROWEST_WORDS = 12  # columns of a name, in fewer it cannot be read


@dataclass(frozen=True)
class Spacing:
    """gap: columns of blanks between two cells; edge: at both ends together."""

    gap: int
    edge: int

    def width(self, cells: Sequence[int]) -> int:
        return sum(cells) + self.gap * (len(cells) - 1) + self.edge


ROOMY, TIGHT = Spacing(3, 2), Spacing(2, 0)  # as rich sets a table with edges, and one without


@dataclass(frozen=True)
class FigureTable:
    """heads, rows: what stands in each column; keys: how many columns name the row, at the left of every part.

    words: whether the first column is a name, which may be folded, and not a figure.
    """

    heads: Sequence[str]
    rows: Sequence[Sequence[str]]
    keys: int = 1
    words: bool = False

    def __rich_console__(self, console: Console, options: ConsoleOptions) -> RenderResult:
        cells = [
            [in_signs_of(options.encoding, legible(cell)) for cell in row] for row in (self.heads, *self.rows)
        ]
        widths = [max(map(cell_len, column)) for column in zip(*cells, strict=True)]
        if self.words:
            beside = TIGHT.width([0, *widths[1:]])
            widths[0] = min(widths[0], max(NARROWEST_WORDS, options.max_width - beside))
        parts = in_parts(widths, self.keys, options.max_width)
        roomy = all(ROOMY.width([widths[at] for at in part]) <= options.max_width for part in parts)
        for part in parts:
            table = self.part(
                [[row[at] for at in part] for row in cells], widths[0], roomy, options.ascii_only
            )
            if not roomy:  # a roomy one has blank lines for edges
                yield Text("")
            yield table
        if not roomy:
            yield Text("")

    def part(self, cells: list[list[str]], first: int, roomy: bool, ascii_only: bool) -> Table:
        """Some of the columns; first: the width of the foremost."""
        table = Table(
            box=ASCII_HEAD if ascii_only else SIMPLE_HEAD,
            pad_edge=False,
            show_edge=roomy,
            collapse_padding=not roomy,
        )
        for place, head in enumerate(cells[0]):
            if self.words and place == 0:
                table.add_column(Text(head), width=first, overflow="fold")
            else:
                table.add_column(Text(head), justify="right", no_wrap=True)
        for row in cells[1:]:
            # As Text: in a plain string rich would read [red] as a colour.
            table.add_row(*map(Text, row))
        return table


def in_parts(widths: Sequence[int], keys: int, room: int) -> list[list[int]]:
    """Places of the columns of each part: as few parts as `room` allows, and as even as can be."""
    named, others = list(range(keys)), list(range(keys, len(widths)))

    def fits(part: list[int]) -> bool:
        return TIGHT.width([widths[at] for at in named + part]) <= room

    parts = filled(others, fits)
    share, more = divmod(len(others), len(parts))
    ends = list(accumulate(share + (number < more) for number in range(len(parts))))
    even = [others[start:end] for start, end in zip([0, *ends], ends, strict=False)]
    return [named + part for part in (even if all(map(fits, even)) else parts)]


def filled(places: Sequence[int], fits: Callable[[list[int]], bool]) -> list[list[int]]:
    """Each part as full as it can be, with one column at least."""
    parts: list[list[int]] = [[]]
    for place in places:
        if parts[-1] and not fits([*parts[-1], place]):
            parts.append([])
        parts[-1].append(place)
    return parts

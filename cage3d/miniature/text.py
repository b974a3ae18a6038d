"""Letters drawn with a round tool: strokes for the scale, the code and the numbers engraved on a print.

A letter is one or more lines on a grid 4 wide and 6 high, drawn for this tool; every line is
engraved as wide as the process can print.
"""

from __future__ import annotations

import unicodedata
from itertools import pairwise

import numpy as np
from manifold3d import CrossSection, OpType

GRID_HIGH = 6.0
BETWEEN_LETTERS = 2.0  # grid units

# A pair of digits is x, y on the grid; a hyphen joins the places of a line, a blank parts two lines.
STROKES = {
    "0": "10-01-05-16-36-45-41-30-10",
    "1": "05-16-10",
    "2": "05-16-36-45-44-00-40",
    "3": "06-46-24-34-43-41-30-10-01",
    "4": "30-36-02-42",
    "5": "46-06-03-33-42-41-30-00",
    "6": "36-15-03-01-10-30-41-42-33-03",
    "7": "06-46-10",
    "8": "13-04-05-16-36-45-44-33-13-02-01-10-30-41-42-33",
    "9": "10-31-43-45-36-16-05-04-13-43",
    "A": "00-26-40 12-32",
    "B": "00-06-36-45-44-33-03 33-42-41-30-00",
    "C": "45-36-16-05-01-10-30-41",
    "D": "00-06-26-44-42-20-00",
    "E": "40-00-06-46 03-33",
    "F": "00-06-46 03-33",
    "G": "45-36-16-05-01-10-30-41-43-23",
    "H": "00-06 40-46 03-43",
    "I": "00-06",
    "J": "46-41-30-10-01",
    "K": "00-06 46-03-40",
    "L": "06-00-40",
    "M": "00-06-23-46-40",
    "N": "00-06-40-46",
    "O": "10-01-05-16-36-45-41-30-10",
    "P": "00-06-36-45-44-33-03",
    "Q": "10-01-05-16-36-45-41-30-10 22-40",
    "R": "00-06-36-45-44-33-03 23-40",
    "S": "45-36-16-05-04-13-33-42-41-30-10-01",
    "T": "06-46 26-20",
    "U": "06-01-10-30-41-46",
    "V": "06-20-46",
    "W": "06-10-24-30-46",
    "X": "00-46 06-40",
    "Y": "06-23-46 23-20",
    "Z": "06-46-00-40",
    ":": "01-01 04-04",
    ".": "00-00",
    "-": "03-33",
}
ROUND = 12  # corners of a stroke's round end


def engravable(text: str) -> str:
    """The text in capitals, without accents and without the signs that have no strokes here."""
    plain = unicodedata.normalize("NFKD", text).upper()
    return "".join(sign for sign in plain if sign in STROKES or sign == " ").strip()


def lettering(text: str, height: float, stroke: float) -> CrossSection:
    """The strokes of a text, mm: `height` from the lowest to the highest edge, middle at the origin.

    stroke: width of a line, mm. Signs without strokes are left out.
    """
    unit = (height - stroke) / GRID_HIGH
    pen = CrossSection.circle(stroke / 2.0, ROUND)
    marks, x = [], 0.0
    for sign in text:
        lines = [
            np.array([[int(p[0]), int(p[1])] for p in line.split("-")])
            for line in STROKES.get(sign, "").split()
        ]
        for line in lines:
            for start, end in pairwise(line):
                ends = [pen.translate(((x + p[0]) * unit, p[1] * unit)) for p in (start, end)]
                marks.append(CrossSection.batch_hull(ends))
        wide = max((int(line[:, 0].max()) for line in lines), default=1)
        x += wide + max(BETWEEN_LETTERS, 1.5 * stroke / unit)
    if not marks:
        return CrossSection()
    drawn = CrossSection.batch_boolean(marks, OpType.Add)
    left, bottom, right, top = drawn.bounds()
    return drawn.translate((-(left + right) / 2.0, -(bottom + top) / 2.0))

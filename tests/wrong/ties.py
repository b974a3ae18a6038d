"""Ties and panels that cannot be made."""

from __future__ import annotations

from wrong.case import TIE, Wrong, also

ROUND = "ties: [{{from: {0}, to: {1}, length: {2}, runs: {3}}}]"
PANEL = "panels: [{{tapes: {0}, hoops: {1}, {2}}}]"

TIES: dict[str, Wrong] = {
    "tie to no hoop": (
        also(TIE.format("hoop 5 tape 1", "hoop 1 tape 3", 9)),
        15,
        "there is no hoop 5: the design has 4",
    ),
    "tie to no tape": (
        also(TIE.format("hoop 3 tape 1", "hoop 1 tape 9", 9)),
        15,
        "there is no tape 9: the design has 8",
    ),
    "tie to tape 0": (also(TIE.format("hoop 3 tape 1", "hoop 1 tape 0", 9)), 15, "there is no tape 0"),
    "tie to nowhere": (also(TIE.format("hoop 3 tape 1", "the knee", 9)), 15, "not a point of the cage"),
    "tie to itself": (
        also(TIE.format("hoop 3 tape 1", "hoop 3 tape 1", 9)),
        15,
        "from a point to the same point",
    ),
    "tie of the waistband": (
        also(TIE.format("waistband tape 1", "waistband tape 3", 9)),
        15,
        "both ends are on the waistband",
    ),
    "tie of zero length": (
        also(TIE.format("hoop 3 tape 1", "hoop 3 tape 3", 0)),
        15,
        "zero cannot be used here",
    ),
    "tie round the theatre": (
        also(TIE.format("hoop 3 tape 1", "hoop 3 tape 3", 900)),
        15,
        "longer than any two points",
    ),
    "tie on no side of her": (
        also(ROUND.format("hoop 3 tape 2", "hoop 3 tape 7", 30, "below")),
        15,
        "Write one of behind, before, left, right",
    ),
    "tie up one tape past her": (
        also(ROUND.format("hoop 3 tape 2", "hoop 4 tape 2", 30, "behind")),
        15,
        "both ends are on tape 2, and the tie passes her on no side",
    ),
    "panel on one tape": (also(PANEL.format("[5, 5]", "[1]", "tightness: 10 %")), 15, "between two tapes"),
    "panel on no tape": (also(PANEL.format("[5, 9]", "[1]", "tightness: 10 %")), 15, "there is no tape 9"),
    "panel on no hoop": (also(PANEL.format("[4, 5]", "[7]", "tightness: 10 %")), 15, "there is no hoop 7"),
    "panel without hoops": (
        also(PANEL.format("[4, 5]", "[]", "tightness: 10 %")),
        15,
        "the panel crosses no hoop",
    ),
    "panel of unknown tightness": (
        also("panels: [{tapes: [4, 5], hoops: [1]}]"),
        15,
        "widths or one tightness",
    ),
    "panel with a width too many": (
        also(PANEL.format("[4, 5]", "[1]", "widths: [4, 4]")),
        15,
        "2 widths: the panel crosses 1",
    ),
    "panel wider than its hoop": (
        also(PANEL.format("[4, 5]", "[1]", "widths: [400]")),
        15,
        "wider than hoop 1 is long",
    ),
}

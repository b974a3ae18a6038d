"""Hoops, their steel and its casings, drops and stations that cannot be."""

from __future__ import annotations

from petticoat import GOOD

from wrong.case import DROPS, HOOP_2, Wrong

TWO_ROWS = "  drops: [[8, 6, 5, 5], [8, 6, 5, 5]]"

CAGE: dict[str, Wrong] = {
    # drops and hoops
    "drop shorter than its step": (
        ("6, 5 1/2", "1, 5 1/2"),
        9,
        r"tape 1\.00 shorter than step 1\.91 \(hoop 1 to hoop 2\)",
    ),
    "five drops for four hoops": (("5]", "5, 4]"), 9, "5 drops: there are 4 hoops"),
    "three drops for four hoops": ((", 5]", "]"), 9, "3 drops: there are 4 hoops"),
    "two lists of drops for eight tapes": ((DROPS, TWO_ROWS), 9, "2 lists of drops: there are 8 tapes"),
    "no hoops": ((GOOD[GOOD.index("hoops") :], "hoops: []\n"), 10, "there are no hoops"),
    "hoops without a value": ((GOOD[GOOD.index("hoops") :], "hoops:\n"), 10, "hoops is missing"),
    "one tape": (("count: 8", "count: 1"), 8, "a hoop cannot hang from one tape"),
    "400 tapes": (("count: 8", "count: 400"), 8, "more than 60 tapes"),
    "41 hoops": (("  - {length: 48}\n", "  - {length: 48}\n" * 38), 11, "more than 40 hoops"),
    "half a tape": (("count: 8", "count: 8.5"), 8, "a whole number belongs here"),
    "no tapes at all": (("count: 8", "count: 0"), 8, "at least 1"),
    # strip, casings, joins, openings
    "strip thicker than wide": (
        ("{width: 7 mm, thickness: 0.5 mm}", "{width: 0.5 mm, thickness: 7 mm}"),
        6,
        "thicker than it is wide",
    ),
    "strip in the wrong unit": (("thickness: 0.5 mm", "thickness: 0.2"), 6, "5.08 mm thick; hoop steel is"),
    "one hoop's strip": (
        (HOOP_2, "  - {length: 60, steel: {thickness: 8 mm}}"),
        12,
        "hoop 2's strip is thicker",
    ),
    "casing lower than the strip": (
        ("count: 8", "count: 8\n  casing: 5 mm"),
        9,
        "the casing is lower than the strip",
    ),
    "rests above its casing": (("count: 8", "count: 8\n  rest: 2"), 9, "rest above its casing"),
    "rest misspelt": (("count: 8", "count: 8\n  rest: botom"), 9, "Did you mean"),
    "rest for too few tapes": (
        (HOOP_2, "  - {length: 60, rest: [top, bottom]}"),
        12,
        "2 places: there are 8 tapes",
    ),
    "open hoop with a join": (
        (HOOP_2, "  - {length: 60, opening: front, join: {tube: 1}}"),
        12,
        "hoop 2 is open and its ends do not meet",
    ),
    "tube and overlap": (
        (HOOP_2, "  - {length: 60, join: {tube: 1, overlap: 2}}"),
        12,
        "a tube or an overlap",
    ),
    "join longer than a quarter": (
        (HOOP_2, "  - {length: 60, join: {tube: 20}}"),
        12,
        "longer than a quarter of hoop 2",
    ),
    "opening on a tape": (
        (
            "count: 8\n" + DROPS + "\nhoops:\n  - {length: 48}",
            "count: 8\n  stations: on\n" + DROPS + "\nhoops:\n  - {length: 48, opening: front}",
        ),
        12,
        "tape 1 stands at centre front, where hoop 1 opens",
    ),
    "opening misspelt": ((HOOP_2, "  - {length: 60, opening: frnot}"), 12, "Did you mean front"),
    "ends that cross": (
        (HOOP_2, "  - {length: 60, opening: front, overhang: 6}"),
        12,
        "ends of hoop 2 would cross",
    ),
    "hoop shorter than the waist": (
        ("  - {length: 48}", "  - {length: 25}"),
        11,
        "hoop 1 is shorter than the waist",
    ),
    "hoop its tapes cannot reach": (
        ("  - {length: 74}", "  - {length: 174}"),
        9,
        "hoop is longer than its tapes can spread",
    ),
    # stations
    "stations of another number": (
        ("count: 8", "count: 8\n  stations: [0.1, 0.9]"),
        9,
        "2 stations: there are 8 tapes",
    ),
    "stations falling": (
        ("count: 8", "count: 8\n  stations: [0, .1, .3, .2, .5, .6, .7, .8]"),
        9,
        "tape 4 does not come after tape 3",
    ),
    "station past the front": (
        ("count: 8", "count: 8\n  stations: [.1, .2, .3, .4, .5, .6, .7, 1]"),
        9,
        "centre front again",
    ),
    "station of two rounds": (
        ("count: 8", "count: 8\n  stations: [.1, .2, .3, .4, .5, .6, .7, 2]"),
        9,
        "more than the whole",
    ),
    "station past the whole": (
        ("count: 8", "count: 8\n  stations: [5 %, 20 %, 30 %, 40 %, 50 %, 60 %, 70 %, 120 %]"),
        9,
        r"120 %: this is more than the whole.*; write 10 % or 0\.1, and 100 % at most",
    ),
    "stations as a word": (
        ("count: 8", "count: 8\n  stations: evenly"),
        9,
        r"Write one of between, on, or shares of the girth: \[10 %",
    ),
    "a list of drops for one tape": (
        (DROPS, "  drops: [[8 1/4, 6, 5 1/2, 5]]"),
        9,
        "1 list of drops: there are 8 tapes",
    ),
    # what hoops are made of
    "a material misspelt": (
        ("steel: {", "steel: {material: coverd steel, "),
        6,
        r"coverd steel: this word has no meaning here\. Did you mean covered steel\?",
    ),
    "less than no diameter": (
        (HOOP_2, "  - {length: 60, steel: {material: round cane, diameter: -6 mm}}"),
        12,
        "diameter: -6 mm: a length cannot be less than zero",
    ),
    "a wall of nothing": (
        (HOOP_2, "  - {length: 60, steel: {material: plastic hose, diameter: 20 mm, wall: 0}}"),
        12,
        "wall: 0: a length of zero",
    ),
    "a hose all wall": (
        (HOOP_2, "  - {length: 60, steel: {material: plastic hose, diameter: 6 mm, wall: 3 mm}}"),
        12,
        "two such walls fill the hose, which is 6 mm across",
    ),
    # joins that slide
    "a slide of an open hoop": (
        (HOOP_2, "  - {length: 60, opening: front, join: {overlap: 2, least: 58, most: 62}}"),
        12,
        "hoop 2 is open and its ends do not meet",
    ),
    "a slide the wrong way round": (
        (HOOP_2, "  - {length: 60, join: {overlap: 2, least: 62, most: 58}}"),
        12,
        r"least: 62: that is more than the most, 58 in",
    ),
    "a join of another word": (
        (HOOP_2, "  - {length: 60, join: tub}"),
        12,
        r"Write none, \{tube: 1 1/4 in\} or \{overlap: 2 in\}",
    ),
}

"""Every wrong input a maker is likely to write has its own message, at its own line."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from petticoat import GOOD, problems_of

from cage3d.design.read import read, read_text
from cage3d.design.text_files import LARGEST_FILE
from cage3d.errors import DesignError

DROPS, HOOP_2 = "  drops: [8 1/4, 6, 5 1/2, 5]", "  - {length: 60}"
TWO_ROWS = "  drops: [[8, 6, 5, 5], [8, 6, 5, 5]]"
TIE = "ties: [{{from: {0}, to: {1}, length: {2}}}]"
ROUND = "ties: [{{from: {0}, to: {1}, length: {2}, runs: {3}}}]"
HIPS = "wearer:\n  hip: 39\n  hip_drop: 8"
PANEL = "panels: [{{tapes: {0}, hoops: {1}, {2}}}]"


def also(line: str) -> tuple[str, str]:
    """A case that adds a line at the end, line 15."""
    return "  - {length: 74}\n", f"  - {{length: 74}}\n{line}\n"


# id: (what is replaced, by what), line of the fault, what its message must hold.
WRONG: dict[str, tuple[tuple[str, str], int, str]] = {
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
    # lengths
    "no units": (("units: in\n", ""), 3, r"bare number, and so are 9 others.*Write units: in"),
    "elephants": (
        ("length: 60", "length: 3 elephants"),
        12,
        "length: 3 elephants: 'elephants' is not a unit known here",
    ),
    "nothing below the line": (("8 1/4", "7 1/0"), 9, "7 1/0: a fraction cannot have 0 below the line"),
    "negative": (("length: 60", "length: -60"), 12, "cannot be less than zero"),
    "zero": (("length: 60", "length: 0"), 12, "zero cannot be used here"),
    "nan": (("length: 60", "length: .nan"), 12, "NaN is not a number"),
    "infinite": (("length: 60", "length: .inf"), 12, "cannot be infinite"),
    "absurd": (("length: 60", "length: 1e9 in"), 12, "more than 50 m"),
    "larger than any number": (("length: 60", "length: 1e999"), 12, "far too large"),
    "as small as a hair's hundredth": (("length: 60", "length: 1e-9"), 12, "too small to be made"),
    "kilograms for a length": (
        ("length: 60", "length: 60 kg"),
        12,
        "kg is the unit of a weight, and a length belongs here",
    ),
    "metres for a weight": (
        (HOOP_2, "  - {length: 60, carries: 2 m}"),
        12,
        "m is the unit of a length, and a weight",
    ),
    "a bare weight": ((HOOP_2, "  - {length: 60, carries: 2}"), 12, "a weight needs its unit"),
    "decimal comma": (("waist: 26", "waist: 26,5"), 4, r"comma.*Write 26\.5 with a point"),
    "improper fraction": (("8 1/4", "8 5/4"), 9, "5/4 is not smaller than one"),
    "two numbers": (("length: 60", "length: 6 0"), 12, "length: 6 0: '0' is not a unit"),
    "a word for a length": (("length: 60", "length: long"), 12, "this is not a length"),
    "a list for a length": (("length: 60", "length: [60]"), 12, "this is not a length"),
    "misspelt unit": (("length: 60", "length: 60 inchs"), 12, "Did you mean inch"),
    "unknown units word": (
        ("units: in", "units: furlong"),
        2,
        "units: furlong: this word has no meaning here",
    ),
    # keys and YAML
    "unknown key": (
        (HOOP_2, "  - {lenght: 60, length: 60}"),
        12,
        r"lenght: there is no such key here\. Did you mean length",
    ),
    "unknown key at the top": (("units: in", "units: in\nhoop: 3"), 3, "Did you mean hoops"),
    "key of another part": (("  waist: 26", "  waist: 26\n  colour: red"), 5, "Known here: code, waist"),
    "merging": (("  waist: 26", "  waist: 26\n  <<: {hip: 39}"), 5, "write the keys out"),
    "repeated key": (
        ("units: in", "units: in\nunits: cm"),
        3,
        "this key stands twice; it is in line 2 already",
    ),
    "repeated key inside": ((HOOP_2, "  - {length: 60, length: 61}"), 12, "this key stands twice"),
    "tab": (("  waist: 26", "\twaist: 26"), 4, "a tab stands where YAML wants blanks"),
    "open bracket": ((DROPS, "  drops: [8 1/4, 6"), 10, "bracket is not closed"),
    "open quote": (("Short petticoat", '"Short petticoat'), 15, "opened and not closed"),
    "second colon": (("Short petticoat", "Short: petticoat"), 1, "a second : stands in this line"),
    "wrong indent": (
        ("  waist_height", "   waist_height"),
        5,
        "second : stands in this line, or the line is indented",
    ),
    "unknown alias": (("waist: 26", "waist: *w"), 4, r"\*w: nothing of that name stands above"),
    "alias of itself": (("wearer:", "wearer: &w\n  code: *w"), 4, "the alias holds itself"),
    "tag": (("waist: 26", "waist: !!python/name:os.system 26"), 4, "tags have no meaning"),
    "a list as key": (("waist: 26", "? [a, b]\n  : 26"), 4, "cannot be a key"),
    "two designs in a file": (also("---\nname: another"), 15, "a file holds one design"),
    "deep nesting": (("waist: 26", "waist: " + "[" * 500), 4, "more than 20 deep"),
    "billion laughs": (
        (
            "units: in\n",
            "a: &a [x,x,x,x,x,x,x,x,x]\nb: &b [*a,*a,*a,*a,*a,*a,*a,*a,*a]\n"
            "c: &c [*b,*b,*b,*b,*b,*b,*b,*b,*b]\n"
            "d: &d [*c,*c,*c,*c,*c,*c,*c,*c,*c]\ne: [*d,*d,*d,*d,*d,*d,*d,*d,*d]\n",
        ),
        6,
        "more than 20000 values",
    ),
    "not a mapping": ((GOOD, "just words\n"), 1, "not a list of keys and values"),
    "key without blank": ((GOOD, "name:Short\n"), 1, "a blank is missing after the :"),
    "empty": ((GOOD, ""), 1, "the file holds no design"),
    "only remarks": ((GOOD, "# nothing yet\n"), 1, "the file holds no design"),
    "a word for a group": (
        ("steel: {width: 7 mm, thickness: 0.5 mm}", "steel: 7 x 0.5"),
        6,
        "a group of keys belongs here",
    ),
    "a word for a list": ((DROPS, "  drops: 8 1/4"), 9, "a list belongs here"),
    "missing key": (("  waist: 26\n", ""), 4, "waist is missing"),
    "missing value": (("  waist: 26", "  waist:"), 4, r"waist is missing\. Write waist: 26 in"),
    "neither true nor false": (("count: 8", "count: 8\n  doubled: perhaps"), 9, "neither true nor false"),
    "a control character": (("Short petticoat", "Short\x07"), 1, "control character"),
    # names
    "name with a slash": (("Short petticoat", "../../etc/passwd"), 1, "a name cannot hold a slash"),
    "name with a backslash": (("Short petticoat", r"C:\cage"), 1, "a name cannot hold a slash"),
    "name with two dots": (("Short petticoat", "cage..yaml"), 1, r"a name cannot hold '\.\.'"),
    "empty name": (("Short petticoat", '""'), 1, "the name is empty"),
    "name with an escape": (("Short petticoat", '"a\\eb"'), 1, "control characters"),
    "name of two lines": (("Short petticoat", '"a\\nb"'), 1, "one line"),
    "long name": (("Short petticoat", "petticoat " * 20), 1, "longer than 120 letters"),
    "set tighter than the strip bears": (
        ("thickness: 0.5 mm}", "thickness: 0.5 mm, set_radius: 40 mm}"),
        6,
        r"40 mm: strip that lies free in so tight a curve keeps a kink .* 43 mm",
    ),
    "against no curve": (
        ("thickness: 0.5 mm}", "thickness: 0.5 mm, threaded: against}"),
        6,
        "against: strip that lies straight has no curve",
    ),
    "threaded sideways": (
        ("thickness: 0.5 mm}", "thickness: 0.5 mm, set_radius: 50 cm, threaded: sideways}"),
        6,
        "threaded: sideways",
    ),
    "stretch of 50 %": (
        ("count: 8", "count: 8\n  stretch: {by: 50 %, at: 1 kg}"),
        9,
        r"50 %: that is elastic \(50 % under 1 kg\)",
    ),
    "stretch of nothing": (
        ("count: 8", "count: 8\n  stretch: {by: 0, at: 1 kg}"),
        9,
        "no ribbon stretches as little",
    ),
    "stretch under a gram": (
        ("count: 8", "count: 8\n  stretch: {by: 1 %, at: 1 g}"),
        9,
        "not tried with such a weight",
    ),
    "unknown ribbon": (("count: 8", "count: 8\n  stretch: grosgrane"), 9, "Did you mean grosgrain"),
    "stretch without its weight": (
        ("count: 8", "count: 8\n  stretch: 1 %"),
        9,
        "this ribbon is not in the table",
    ),
    "padding without a hip": (
        also("padding: [{place: back, thickness: 2, height: 5}]"),
        15,
        "no hip measured for padding",
    ),
    "padding thicker than the gap": (
        ("wearer:", "padding: [{place: hips, thickness: 3, height: 6, drop: 8}]\n" + HIPS),
        3,
        r"thickness: 3: the padding at the hips is thicker than the gap of 1 1/2 in between her and hoop 1",
    ),
    "padding under the waistband": (
        ("wearer:", "padding: [{place: roll, thickness: 2, height: 6, drop: 2}]\n" + HIPS),
        3,
        "the padding at back and sides would reach up under the waistband.*Write 3 in or less",
    ),
    "shares without their sign": (
        also("skirt: {weight: 1 kg, lies: {front: 15, sides: 45 %, back: 40 %}}"),
        15,
        "front: 15: this is more than the whole.*write 15 %",
    ),
    "padding down to the knees": (
        ("wearer:", "padding: [{place: back, thickness: 1, height: 20, drop: 12}]\n" + HIPS),
        3,
        "would hang down to her legs",
    ),
    "padding of a foot": (
        ("wearer:", "padding: [{place: back, thickness: 12, height: 5}]\n" + HIPS),
        3,
        "no roll is worn as thick",
    ),
    "padding on the elbow": (
        ("wearer:", "padding: [{place: elbow, thickness: 2, height: 5}]\n" + HIPS),
        3,
        "place: elbow",
    ),
    # wearer, band, hem, skirt
    "waist of a doll": (("waist: 26", "waist: 26 mm"), 4, "nobody measures 1 in"),
    "waist on stilts": (("41 1/2", "41 1/2 ft"), 5, "nobody's waist is"),
    "hip without its depth": (("wearer:", "wearer:\n  hip: 39"), 4, "hip stands without hip_drop"),
    "breadth without depth": (
        ("wearer:", "wearer:\n  waist_breadth: 9"),
        4,
        "waist_breadth stands without waist_depth",
    ),
    "high hip below hip": (
        ("wearer:", HIPS + "\n  high_hip: 35\n  high_hip_drop: 9"),
        7,
        "the high hip lies above the hip",
    ),
    "hip at the knees": (
        ("wearer:", "wearer:\n  hip: 39\n  hip_drop: 40"),
        5,
        "nearly as much as the waist is above",
    ),
    "deep waistband": (("units: in", "units: in\nwaistband: {depth: 20}"), 3, "the waistband is 20 in"),
    "clearance the wrong way": (
        also("hem: {clearance: [10, 8]}"),
        15,
        "least clearance is more than the most",
    ),
    "one clearance": (also("hem: {clearance: [10]}"), 15, "the list is too short: value 2 is missing"),
    "three clearances": (also("hem: {clearance: [8, 9, 10]}"), 15, "the list is too long: it holds 2"),
    "hem above the waist": (also("hem: {clearance: [8, 80]}"), 15, "above the waist"),
    "skirt of 100 kg": (also("skirt: {weight: 100 kg}"), 15, "more than a waist can bear"),
    "skirt of nothing": (also("skirt: {layers: 2}"), 15, "by its weight or by its cloth"),
    "skirt of both": (also("skirt: {weight: 1 kg, cloth: taffeta}"), 15, "not both"),
    "shares that do not add up": (
        also("skirt: {weight: 1 kg, lies: {front: 20 %, sides: 40 %, back: 50 %}}"),
        15,
        r"20 \+ 40 \+ 50 %: the shares of the skirt make 110 %",
    ),
    "shares for three of eight tapes": (
        also("skirt: {weight: 1 kg, lies: [50 %, 25 %, 25 %]}"),
        15,
        "3 shares: there are 8 tapes",
    ),
    "skirt on a hoop that is not there": (
        also("skirt: {weight: 1 kg, hoops: [3, 5]}"),
        15,
        r"\[3, 5\]: there is no hoop 5: the design has 4",
    ),
    "skirt on one hoop twice": (also("skirt: {weight: 1 kg, hoops: [3, 3]}"), 15, "stands there twice"),
    "skirt on no hoop": (also("skirt: {weight: 1 kg, hoops: []}"), 15, "must hang from some hoop"),
    "two skirts of 12 kg": (
        also("skirt: [{weight: 12 kg}, {weight: 12 kg}]"),
        15,
        "skirts together of 24 kg is more",
    ),
    "second skirt of 25 layers": (
        also("skirt: [{weight: 1 kg}, {weight: 1 kg, layers: 25}]"),
        15,
        "fewer than 20 layers",
    ),
    "friction of a skirt that lies": (also("skirt: {weight: 1 kg, friction: 0.3}"), 15, "Add slides: yes"),
    "friction of 30": (also("skirt: {weight: 1 kg, slides: yes, friction: 30}"), 15, "a number from 0 to 2"),
    "slides a little": (also("skirt: {weight: 1 kg, slides: a little}"), 15, "neither true nor false"),
    "unknown cloth": (also("skirt: {cloth: tafeta}"), 15, "Did you mean taffeta"),
    "ruffle of lead": ((HOOP_2, "  - {length: 60, carries: 30 kg}"), 12, "what a hoop carries of 30 kg"),
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
    # ties and panels
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
    # buying and printing
    "negative allowance": (("count: 8", "count: 8\n  allowance: {top: -1}"), 9, "cannot be less than zero"),
    "price without a currency": (also("buying: {prices: {ribbon: 2.50}}"), 15, "prices and no currency"),
    "price with its currency": (
        also("buying: {currency: EUR, prices: {ribbon: 2.50 EUR}}"),
        15,
        "Write the number alone",
    ),
    "a formula for a currency": (also('buying: {currency: "=1+1"}'), 15, "Write its three letters"),
    "a long word for a currency": (also("buying: {currency: doubloons}"), 15, "this is no currency"),
    "an amount for a currency": (also('buying: {currency: "12$"}'), 15, "this is no currency"),
    "negative price": (also("buying: {currency: EUR, prices: {ribbon: -2}}"), 15, "less than zero"),
    "a price for something unknown": (
        also("buying: {currency: EUR, prices: {ribbons: 2}}"),
        15,
        "Did you mean ribbon?",
    ),
    "a scale of nothing": (also('printing: {scale: "1:0"}'), 15, "not a scale from 1:1 to 1:100"),
    "unknown process": (also("printing: {process: laser}"), 15, "Write one of filament, resin, powder"),
}


@pytest.mark.parametrize("case", WRONG, ids=[name.replace(" ", "-") for name in WRONG])
def test_its_own_message_at_its_own_line(case: str) -> None:
    (old, new), line, message = WRONG[case]
    assert old in GOOD
    found = problems_of(GOOD.replace(old, new, 1))
    assert len(found) == 1, "\n".join(map(str, found))
    assert re.search(message, str(found[0])), str(found[0])
    assert found[0].where == "petticoat.yaml"
    assert found[0].line == line
    assert found[0].column is not None
    assert found[0].column >= 1
    assert found[0].try_this


def test_the_text_they_all_start_from_is_right() -> None:
    assert len(read_text(GOOD).hoops) == 4


def test_every_message_is_its_own() -> None:
    texts = [f"{problem.said} {problem.why}" for (old, new), _, _ in WRONG.values()
             for problem in problems_of(GOOD.replace(old, new, 1))]  # fmt: skip
    assert len(set(texts)) >= len(texts) - 4  # slash twice, no design twice, tie and length of zero, ...


def test_no_message_speaks_like_the_library() -> None:
    for (old, new), _, _ in WRONG.values():
        text = "\n".join(str(problem) for problem in problems_of(GOOD.replace(old, new, 1)))
        assert not re.search(
            r"[Ii]nput should|valid (string|number|list)|dict\b|None|Error|validator|@", text
        ), text


def test_a_tie_shorter_than_the_body_it_must_pass() -> None:
    text = GOOD.replace("wearer:", HIPS).replace("{length: 74}", "{length: 74}\n" + TIE.format(
        "hoop 1 tape 2", "hoop 1 tape 7", 6))  # fmt: skip
    (problem,) = problems_of(text)
    assert "shorter than the body it must pass" in problem.why
    assert problem.line == 17
    # Beside the hips there is nothing to pass.
    read_text(text.replace("hoop 1 tape 7", "hoop 1 tape 3"))


def test_several_faults_come_together_in_the_order_of_the_file() -> None:
    text = (
        GOOD.replace("waist: 26", "waist: 3 elephants").replace("count: 8", "cuont: 8").replace("60", "-60")
    )
    found = problems_of(text)
    assert [problem.line for problem in found] == [4, 8, 12]
    assert "cuont" in str(found[1])


def test_rules_still_speak_beside_a_misspelt_key() -> None:
    text = GOOD.replace("units: in", "units: in\ncolour: red").replace("6, 5 1/2", "1, 5 1/2")
    assert [problem.line for problem in problems_of(text)] == [3, 10]


def test_a_rule_does_not_judge_a_default_beside_a_fault() -> None:
    (problem,) = problems_of(GOOD + "skirt: {weight: 3 elephants}\n")
    assert "elephants" in problem.why


def test_columns_point_at_the_value() -> None:
    (problem,) = problems_of(GOOD.replace("length: 60", "length: 3 elephants"))
    assert problem.column == "  - {length: 3 elephants}".index("3") + 1
    assert problem.place == "petticoat.yaml:12:14"


@pytest.mark.parametrize("short", ["1", "3 elephants"])
def test_columns_point_into_a_bare_list_of_drops(short: str) -> None:
    (problem,) = problems_of(GOOD.replace("6, 5 1/2", f"{short}, 5 1/2"))
    assert problem.place == "petticoat.yaml:9:18"
    assert problem.said == short


def test_columns_point_into_one_tapes_own_drops() -> None:
    rows = ["    - [8, 6, 5, 5]\n"] * 7 + ["    - [8, 6, 5]\n"]
    (problem,) = problems_of(GOOD.replace(DROPS + "\n", "  drops:\n" + "".join(rows)))
    assert problem.place == "petticoat.yaml:17:7"
    assert "3 drops for tape 8: there are 4 hoops" in str(problem)


@pytest.mark.parametrize(
    ("content", "message"),
    [
        (b"", "holds no design"),
        (b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR", "not a text file"),
        (b"name: caf\xe9\n", "not UTF-8"),
        ("name: ü".encode("utf-16"), "UTF-16.*Save it as UTF-8"),
        (b"# " + b"x" * LARGEST_FILE, "larger than 1 MB"),
    ],
    ids=["empty", "binary", "latin-1", "utf-16", "large"],
)
def test_files_that_hold_no_design(tmp_path: Path, content: bytes, message: str) -> None:
    file = tmp_path / "petticoat.yaml"
    file.write_bytes(content)
    with pytest.raises(DesignError, match=message) as caught:
        read(file)
    assert caught.value.problems[0].where == str(file)


def test_a_file_of_50_mb_is_not_read(tmp_path: Path) -> None:
    file = tmp_path / "petticoat.yaml"
    with file.open("wb") as stream:
        stream.truncate(50_000_000)
    with pytest.raises(DesignError, match="larger than 1 MB"):
        read(file)


def test_a_folder_and_a_missing_file(tmp_path: Path) -> None:
    with pytest.raises(DesignError, match="this is a folder"):
        read(tmp_path)
    with pytest.raises(DesignError, match="there is no such file"):
        read(tmp_path / "no.yaml")
    with pytest.raises(DesignError, match=r"cannot be read|no such file"):
        read("a\0b")


def test_a_million_brackets_are_refused_at_once(tmp_path: Path) -> None:
    file = tmp_path / "petticoat.yaml"
    file.write_text("a: " + "[" * 900_000, "utf-8")
    with pytest.raises(DesignError, match="more than 20 deep"):
        read(file)


def test_a_top_hoop_smaller_than_the_hip_it_hangs_at() -> None:
    hip = GOOD.replace("wearer:", HIPS)
    assert read_text(hip).wearer.hip is not None
    (problem,) = problems_of(hip.replace("length: 48", "length: 38"))
    assert problem.line == 13
    assert "it catches on her and never hangs" in problem.why


def test_a_hip_that_its_own_breadth_and_depth_contradict() -> None:
    measured = GOOD.replace("wearer:", f"{HIPS}\n  hip_breadth: 13 1/2\n  hip_depth: 9.6")
    assert read_text(measured).wearer.hip_depth is not None
    (problem,) = problems_of(measured.replace("hip: 39", "hip: 39 cm"))
    assert "13 1/2 in wide and 9 5/8 in deep measures 33 1/8 in to 46 1/4 in round" in problem.why

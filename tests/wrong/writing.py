"""What is written wrong, whatever it is of: lengths, keys and YAML, names."""

from __future__ import annotations

from petticoat import GOOD

from wrong.case import DROPS, HIPS, HOOP_2, Wrong, also

WRITING: dict[str, Wrong] = {
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
}

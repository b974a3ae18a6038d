"""A wearer who cannot be, and what cannot be of band, hem and skirt."""

from __future__ import annotations

from wrong.case import HIPS, HOOP_2, Wrong, also

WEARER: dict[str, Wrong] = {
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
}

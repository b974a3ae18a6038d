"""Cautions of the bench, each for the page where the hand does the work; for those of wearing see `report`.

Those of what hoops are made of are had for the cage in hand: no caution for steel where there is none.
"""

from __future__ import annotations

from collections.abc import Iterable

from cage3d.shape.section import Section

CUTTING = {
    "steel": (
        "Cutting spring steel",
        "Hardened strip is coiled under tension and the free end whips. Wear eye protection and cut-resistant"
        " gloves. Open coils in a bag or under a clamp, hold both sides of the cut, keep others away. Deburr,"
        " round and cap both ends before anything else. Never cut on a bend.",
    ),
    "cane": (
        "Cutting cane",
        "Cane splinters and its coil springs open. Wear eye protection and gloves, open the coil with one hand on it,"
        " saw with fine teeth and do not snip, sand both ends and bind or cap them. Bend it damp, half an hour in water"
        " before, and let it dry in its round: dry cane cracks on the outside of a bend.",
    ),
    "plastic": (
        "Cutting plastic",
        "Strip, rod and hose spring out of their coil and cut edges are sharp. Wear eye protection, cut with shears or"
        " a fine saw, file the corners round and cap the ends. Straighten by laying it out in the warm, never with a"
        " flame: heat softens it and it keeps whatever curve it then has.",
    ),
}
KINKS = {
    "steel": (
        "Kinks",
        "A bend tighter than the strip bears stays as a kink: lead the steel through the casings in a wide curve, and"
        " never fold a hoop over.",
    ),
    "cane": (
        "Cracks",
        "A bend tighter than cane bears cracks it: lead it damp through the casings in a wide curve, and never fold a"
        " hoop over.",
    ),
    "plastic": (
        "Creases",
        "A bend tighter than plastic bears leaves a white crease that stays weak, in a hose a dent: lead it through the"
        " casings in a wide curve, and never fold a hoop over.",
    ),
}
IRON = (
    "A hot iron and fusible web burn and give off fumes: ventilate, follow the web's own setting, try a scrap"
    " first. Never iron on {}, and keep web out of the casings."
)
NOT_IRONED = {"steel": "coated steel", "cane": "cane", "plastic": "plastic, which melts"}


def stuffs(sections: Iterable[Section]) -> list[str]:
    """What some hoops are made of, each once, in their order."""
    return list(dict.fromkeys(section.steel.made_of.stuff for section in sections))


def cutting(sections: Iterable[Section]) -> list[tuple[str, str]]:
    """(what it is about, the caution) for each thing that is cut."""
    return [CUTTING[stuff] for stuff in stuffs(sections)]


def kinks(sections: Iterable[Section]) -> list[tuple[str, str]]:
    """The same of what is threaded."""
    return [KINKS[stuff] for stuff in stuffs(sections)]


def iron(sections: Iterable[Section]) -> str:
    """What not to iron on."""
    return IRON.format(" or ".join(NOT_IRONED[stuff] for stuff in stuffs(sections)))

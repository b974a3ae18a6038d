"""Cautions of the bench, each for the page where the hand does the work; for those of wearing see `report`."""

from __future__ import annotations

CUTTING = (
    "Hardened strip is coiled under tension and the free end whips. Wear eye protection and cut-resistant"
    " gloves. Open coils in a bag or under a clamp, hold both sides of the cut, keep others away. Deburr,"
    " round and cap both ends before anything else. Never cut on a bend."
)
KINKS = (
    "A bend tighter than the strip bears stays as a kink: lead the steel through the casings in a wide curve, and"
    " never fold a hoop over."
)
IRON = (
    "A hot iron and fusible web burn and give off fumes: ventilate, follow the web's own setting, try a scrap"
    " first. Never iron on coated steel, and keep web out of the casings."
)

"""Cautions of the trade, each for the page where the hand does the work."""

from __future__ import annotations

CUTTING = (
    "Hardened strip is coiled under tension and the free end whips. Wear eye protection and cut-resistant"
    " gloves. Open coils in a bag or under a clamp, hold both sides of the cut, keep others away. Deburr,"
    " round and cap both ends before anything else. Never cut on a bend."
)
SHARP_ENDS = (
    "Check tips and joins before each wear. A worn cap means out of use. A bend tighter than the strip bears "
    "stays as a kink."
)
IRON = (
    "A hot iron and fusible web burn and give off fumes: ventilate, follow the web's own setting, try a scrap"
    " first. Never iron on coated steel, and keep web out of the casings."
)
TRIP = (
    "Loose ties, a hem near the floor, or a step back can trip. Walk stairs with a hand on the rail, lift the"
    " front hoop, never go down fast."
)
FIRE = (
    "Wide skirts reach flames, lamps and heaters before the wearer feels them. Keep off open flame, candles,"
    " pyrotechnics and radiant heaters. Flame-retardant rules are local law: ask the fire officer and the"
    " venue."
)
CROWD = "Keep one hoop's width from set edges, doors, other performers, machinery, vehicles and escalators."
SITTING = (
    "Use a backless stool or raise the back hoop. A pressed front hoop flies up. Do not sit on the hoops:"
    " they kink."
)
DRESSING = (
    "Step in, band over the corset, buckle last: a buckle comes undone fast, a knot does not. A dresser helps"
    " with a cage more than 100 in (2.5 m) round."
)
HEALTH = "The cage's weight is on waist and corset. Stop on numbness or pain."
NOT_A_CERTIFICATE = (
    "The numbers on these sheets are predictions, not a safety certificate. Follow local codes, stage and "
    "workplace rules, and qualified people: fire officer, safety officer, physiotherapist."
)

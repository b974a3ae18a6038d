"""The numbers of the trade in one table, each with where it is from.

[survey]: means over 1986 women, computed from the public table of the 2012 U.S. Army survey
(Natick/TR-15/007). [common practice]: how workrooms do it, without a source. [from memory]: not
looked up in print; weigh or measure your own. Lengths in m. What is bought stands in `stock`.
"""

from __future__ import annotations

from cage3d.units import inches

# The body. A section is fuller than an ellipse of the same breadth and depth: its girth over the ellipse's.
WAIST_DEPTH_PER_BREADTH = 0.709  # [survey]
WAIST_FULLNESS = 1.061  # [survey]
HIP_DEPTH_PER_BREADTH = 0.658  # [survey]
HIP_FULLNESS = 1.097  # [survey]

# Her legs close together, feet side by side, as shares of the hip's breadth and depth at shares of the way down
# from the crotch to the knee and from the knee to the floor [from memory, after girths of thigh, knee, calf and
# ankle of about 0.62, 0.37, 0.37 and 0.22 m under a hip of 1.02 m].
CROTCH_PER_HIP = 0.938  # height above the floor, of the hip's [survey]
KNEE_PER_HIP = 0.55  # the same of the knee, where it was not measured [survey: 0.54, and a heel]
# Girth of one knee, of the hip's: usual, and half as much again [from memory].
USUAL_KNEE, THICKEST_KNEE = 0.37, 0.55
LEGS_ABOVE_KNEE = ((0.0, 0.97, 0.85), (0.5, 0.84, 0.70), (1.0, 0.67, 0.55))
LEGS_BELOW_KNEE = ((0.28, 0.67, 0.55), (0.80, 0.44, 0.40), (1.0, 0.50, 0.60))
# Where she is drawn only, from memory: the neck over the waistband as a share of the waist's height; from there, at
# shares of that way, breadth and depth as shares of the hip's, fullness, and how far forward of the waist's axis as
# a share of the hip's half depth. In the shoe: how far the toes reach before the leg's axis, of the ankle's height.
NECK_OVER_WAIST = 0.36
TORSO = (
    (0.20, 0.74, 0.76, 2.1, 0.02),
    (0.42, 0.80, 0.94, 2.2, 0.06),
    (0.62, 0.86, 0.86, 2.3, 0.03),
    (0.76, 0.92, 0.66, 2.4, -0.02),
    (0.84, 0.80, 0.52, 2.2, -0.04),
    (0.89, 0.46, 0.46, 2.0, -0.04),
    (0.94, 0.35, 0.44, 2.0, -0.03),
    (1.0, 0.33, 0.42, 2.0, 0.02),
)
ANKLE_BELOW_KNEE = 0.80  # of the way from the knee to the floor
SHOE_PER_ANKLE, SHOE_SLOPE = 1.7, 2.2

# Padding [common practice]: (middle, reach to either edge) as shares of a turn from centre front by her left,
# and where its middle lies, as a share of the way from waist to hip.
PAD_PLACES = {
    "hips": ((0.25, 0.17), (0.75, 0.17)),
    "left": ((0.25, 0.17),),
    "right": ((0.75, 0.17),),
    "back": ((0.5, 0.22),),
    "roll": ((0.5, 0.45),),  # back and sides, to nothing at the front
    "round": ((0.5, 1e6),),
}
PAD_LEVEL = {"hips": 0.6, "left": 0.6, "right": 0.6, "back": 0.55, "roll": 0.35, "round": 0.35}

# Where nothing else is written [common practice].
BAND_DEPTH = inches(1)
BAND_OVERLAP = inches(6)  # beyond the waist's girth, for the buckle and turning
BAND_TURNING = inches(1)  # of the overlap: turned under round the buckle's bar
CASING_HEIGHT = inches(1)
TAPE_WIDTH = inches(1)
TAPE_ALLOWANCE = inches(1)  # at either end
CLOTH_WIDTH = 1.5  # as cotton is bought: 140 to 150 cm; 110 cm too
CLOTH_EASE = 0.01  # girth of a petticoat's cloth over its hoop's, so that it does not pull: 0 to 3 %
OPENING_GAP = 0.2  # between the ends of a hoop in cloth: each ends 75 to 150 mm from centre front
SEAM_ALLOWANCE = 0.015  # on both edges of a gore
FEWEST_GORES, MOST_GORES = 3, 24  # 4 to 8 are usual; of two flat pieces no round petticoat is made
CASING_TURNING = 0.007  # of the strip of a casing, at either edge
SLIT = inches(9)  # of a seam left open below the waistband, to get into it
OVERHANG = inches(1 / 2)  # of an open hoop's ends past their last casings
LAP = inches(2)  # held by a clamp; 1 1/2 to 2 in is usual

# The join. Two layers clamped at their ends but free to slide bend as two strips; a metal tube over both ends
# hardly bends at all. [common practice]; the join is short, so these matter little.
LAP_STIFFENING = 2.0
TUBE_STIFFENING = 10.0
TUBE_WALL = 0.0004  # brass or steel [from memory]
TUBE_DENSITY = 8000.0  # kg/m3, between steel and brass [from memory]
SOCKET = inches(2)  # of a tube over two round ends, or of a plug inside two ends of a hose [common practice]
PLUG_DENSITY = 1000.0  # kg/m3, of a plug of plastic or hard wood [from memory]

# Caps on the ends of a strip: 3/8 to 5/8 in long, the crimped metal one 1/2 in [from memory].
TIP_LENGTH = inches(1 / 2)
TIP_WALL = 0.0006  # [from memory]; drawn only

# Covers and ribbons.
COVER_DENSITY = 1300.0  # kg/m3, plasticised PVC [from memory]; only the drawn section depends on it
RIBBON_AREA = 0.28  # kg/m2, one layer: 7 g/m of grosgrain 25 mm wide [from memory; weigh a metre of your own]
RIBBON_THICKNESS = 0.0005  # one layer of grosgrain or twill [common practice]; drawn only
TIE_WIDTH = inches(1 / 2)  # twill tape [common practice]; drawn only
TIE_THICKNESS = 0.001  # [common practice]; drawn only
LACE_WIDTH, LACE_THICKNESS = 0.006, 0.002  # [common practice]; drawn only
BELTING_THICKNESS = 0.002  # [common practice]; drawn only

# Cotton or silk on hoops cased in ribbon [from memory: 0.2 to 0.4; drag a weight in your own cloth to know it].
CLOTH_FRICTION = 0.3
FRICTION_ON_HER = (
    0.3  # at most, of what lies on her [from memory: ribbon on cotton or silk, 0 to 0.3 where it slips]
)
CASING_RIDE = inches(
    1 / 16
)  # by which steel in a loose casing may ride up from its stitches [our own judgement]

# What small things weigh [from memory; weigh your own]. They stand in the weight of the cage as it is lifted.
BELTING_AREA = 0.6  # kg/m2, stiff petersham
WEB_AREA = 0.03  # kg/m2, light fusible web
BUCKLE = 0.020  # kg
CONNECTOR = 0.002  # kg, the crimps of one lap
TIP = 0.001  # kg, a crimped metal one
EYELET = 0.0003  # kg, with its washer
LACE_MASS = 0.005  # kg/m, round cord
THREAD_MASS = 40e-6  # kg/m: Tex 40 is 40 g to the kilometre

# What is bought beyond the finished sizes [common practice].
TIE_EXTRA = inches(6)  # on every tie, to knot it and to let it out again
EYELETS_PER_PANEL = 16  # of the usual 12 to 16
LACE_ENDS = 1.0  # to tie a lace and to let it out
THREAD_PER_SEAM = 3.0  # m of thread in a metre of lockstitch, top and bottom thread together

# What a cage must keep clear of [common practice], and what is worth a warning [our own judgement].
HIP_ROOM = inches(3 / 4)  # all round between the hip and the top hoop; less is told
BAND_HOLDS = (
    0.03  # m of steel beside an end sewn to the waistband that the band keeps on her; about its height
)
HIP_ROOM_PLANNED = inches(1)  # what a first design leaves there
TAPE_SPARE = inches(1 / 2)  # a tape hardly longer than the step it spans hangs unsurely
TRIP_HEIGHT = inches(4)  # a hem lower than this trips
HEEL_SPACING, HEEL_HEM = (
    inches(6),
    inches(10),
)  # hoops farther apart than this, near the floor, let a heel through
RISER_ROOM = inches(1)  # hem over a step
SKIRT_OUT = inches(1)  # by which a skirt stands out over the cage on each side; 1 to 3 in with flounces
DRESSER_LENGTH = inches(100)  # a hoop longer than this wants a dresser
ACCESSIBLE_DOOR = inches(32)  # least clear width by the ADA standards of 2010, 404.2.3 [from memory]
SEEN_SLACK = inches(1 / 16)  # less cannot be seen
HEM_TOLERANCE = inches(1 / 16)  # half the step to which drops are marked
DETOUR = inches(1 / 8)  # by which a tape laid over her shortens a drop
TILT = 2.0  # degrees
ON_EDGE = 60.0  # degrees, beyond which a hoop stands on edge; fans lean by half of that
STRAIN = 2.0 / 3.0  # of yield

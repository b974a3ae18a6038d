"""Wearers for first designs: women, men and children, each with where her or his measures are from.

(waist, waist height, hip, hip drop) in m. Survey: the 2012 U.S. Army body survey (Natick/TR-15/007), bodies measured
barefoot and at the navel, with a heel added. By girths: Heinz and others, Journal of Statistics Education 11(2), 2003,
means of 260 women; their heights from memory. Children from memory: sizes by stature as clothing is labelled.
"""

from __future__ import annotations

INCH = 0.0254
Measures = tuple[float, float, float, float]

WEARERS: dict[str, Measures] = {
    "woman of the samples": (26 * INCH, 41.5 * INCH, 39 * INCH, 8 * INCH),  # invented
    "mean woman of the survey": (0.861, 0.980 + 0.038, 1.021, 0.980 - 0.834),
    "large woman of the survey": (1.040, 0.980 + 0.038, 1.156, 0.980 - 0.834),  # girths of one in twenty
    "mean woman by girths": (0.698, 1.05, 0.957, 0.20),
    "mean man of the survey": (0.941, 1.057 + 0.02, 1.020, 0.172),  # hip drop from memory
    "small man": (0.829, 1.004 + 0.02, 0.943, 0.165),  # a standard deviation less than the mean
    "large man": (1.119, 1.140 + 0.02, 1.142, 0.18),  # 1.6 of them more
    "child of 104 cm": (0.54, 0.63, 0.58, 0.11),
    "child of 116 cm": (0.57, 0.71, 0.63, 0.125),
    "child of 128 cm": (0.60, 0.79, 0.69, 0.14),
    "child of 152 cm": (0.66, 0.95, 0.81, 0.17),
}

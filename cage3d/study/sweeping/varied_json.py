"""What came of a sweep, as JSON."""

from __future__ import annotations

from typing import Any

from cage3d.report.as_json import VERSION
from cage3d.study.sweeping.told import Told
from cage3d.study.sweeping.variant_table import Sure, columns_of
from cage3d.study.sweeping.vary import Varied


def varied_json(varied: Varied, sure: Sure | None) -> dict[str, Any]:
    """Plain values for json.dumps: SI, figures to a micron."""
    sweep = varied.sweep
    return {
        "version": VERSION,
        "design": sweep.design.name,
        "varied": [
            {
                "figure": steps.figure.name, "unit": steps.unit, "change": steps.change,
                "places": list(steps.figure.places),
            }
            for steps in sweep.steps
        ],
        "variants": [variant_json(varied, variant, told) for variant, told in enumerate(varied.told)],
        "sure": None if sure is None else sure_json(varied, sure),
    }  # fmt: skip


def variant_json(varied: Varied, variant: int, told: Told) -> dict[str, Any]:
    sweep = varied.sweep
    pairs = list(zip(sweep.steps, sweep.places(variant), strict=True))
    return {
        "written": [steps.shown(place) for steps, place in pairs],
        "values": [round(steps.value(place), 9) for steps, place in pairs],
        "hangs": bool(told.figures),
        "refused": told.refused,
        "why": told.why or None,
        "figures": told.figures or None,
        "warnings": [{"code": code, "text": text} for code, text in told.warnings],
    }


def sure_json(varied: Varied, sure: Sure) -> dict[str, Any]:
    names = [column.sure for column in columns_of(varied) if column.sure]
    return {"variant": sure.variant} | {
        name: round(getattr(sure.report.certainty, name), 6) for name in names if sure.report.certainty
    }

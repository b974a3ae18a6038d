"""What a first design is asked for: the measures of every kind, and those of its own kind alone."""

from __future__ import annotations

import sys
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from cage3d import units
from cage3d.design.first import usual
from cage3d.design.first.brief import UNITS, Brief
from cage3d.design.first.kinds import KINDS, Kind
from cage3d.design.first.ovals import Oval
from cage3d.errors import CommandError, Problem

from .asking import (
    Value,
    answer,
    count,
    known_length,
    least_and_most,
    length_in,
    length_or_none,
    one_of,
    option_of,
    part_of,
    weight_or_none,
)
from .telling import say

CLEARANCES = {"in": "8 to 10", "cm": "20 to 25", "mm": "200 to 250"}
DIPPED = {
    "in": "10 to 12",
    "cm": "25 to 30",
    "mm": "250 to 300",
}  # at the front, so that its back is no lower


# What kinds ask for beside the usual: the question, and the usual answer as a share of the waist's height.
QUESTIONS = {
    "wide": ("Lowest hoop, from side to side", usual.WIDE),
    "deep": ("Lowest hoop, from front to back", usual.DEEP),
    "out": ("How far it stands out behind the waist", usual.OUT),
    "dip": ("How much lower the hem is at the back", usual.DIP),
}
BESIDE_HER = {
    "out": ("How far each basket stands out from her hip", usual.BESIDE),
    "deep": ("How deep each basket is, from front to back", usual.BASKET),
}


@dataclass(frozen=True)
class Asking:
    """What was given by option (None: ask for it), and the unit of bare numbers."""

    given: dict[str, str | None]
    unit: str

    def ask(self, key: str, question: str, usual: str | None, read: Callable[[str], Value]) -> Value:
        return answer(option_of(key), self.given[key], question, usual, read)

    def shown(self, metres: float) -> str:
        """A usual answer as she would write it."""
        return units.show_length(metres, self.unit, unit=False)


def brief_of(file: Path, unit: str, given: dict[str, str | None]) -> Brief:
    """What a first design is made from: given by option name, else asked for. Raises CommandError."""
    asking = Asking(given, answer("--units", unit, "", None, one_of(list(UNITS))))
    name = silhouette(asking)
    kind = KINDS[name]
    refuse_others(kind, given)
    far = length_in(asking.unit)
    waist = asking.ask("waist", "Waist, round, over corset and chemise", None, far)
    height = asking.ask("waist_height", "Waist above the floor, in the shoes", None, far)
    hip, hip_drop = hip_of(asking, kind, height)
    lengths, behind = own_answers(asking, kind, name, height)
    clearance = clearance_of(asking, kind, height)
    hoops = hoops_of(asking, kind, usual.band_to_hem(height, clearance))
    tapes = Brief.tapes
    if not kind.gored:
        many = str(usual.tapes(name, lowest_length(kind, lengths)))
        tapes = asking.ask("tapes", "How many tapes", many, count)
    return Brief(
        waist=waist,
        waist_height=height,
        hem=lengths.get("hem", 0.0),
        clearance=clearance,
        silhouette=name,
        hip=hip,
        hip_drop=hip_drop,
        hoops=hoops,
        tapes=tapes,
        gores=asking.ask("gores", "How many gores", str(usual.GORES), count) if kind.gored else None,
        skirt=asking.ask(
            "skirt", "Weight of the skirt on it (0: none)", f"{usual.skirt(height):g} kg", weight_or_none
        ),
        name=file.stem.replace("_", " ").replace("-", " ").capitalize() or "First design",
        units=asking.unit,
        dip=lengths.get("dip"),
        wide=lengths.get("wide"),
        deep=lengths.get("deep"),
        out=lengths.get("out"),
        behind=behind,
    )


def silhouette(asking: Asking) -> str:
    """The kind of cage; all of them are told before it is asked for."""
    if asking.given["silhouette"] is None:
        widest = max(map(len, KINDS))
        for name, kind in KINDS.items():
            say(f"  {name:<{widest}}  {kind.words}", sys.stderr)
    return asking.ask("silhouette", "Silhouette", "dome", one_of(list(KINDS)))


def refuse_others(kind: Kind, given: dict[str, str | None]) -> None:
    """Raises CommandError for what another kind asks for, and this one does not."""
    others = sorted({key for other in KINDS.values() for key in other.asks} - set(kind.asks))
    others += ["tapes"] if kind.gored else []
    wrong = [key for key in others if given[key] is not None]
    if not wrong:
        return
    asks = " and ".join(f"--{key}" for key in kind.asks)
    why, try_this = f"this is not asked of {kind.called}", f"Leave it out; give {asks}"
    raise CommandError([Problem(option_of(key), str(given[key])[:60], why, try_this) for key in wrong])


def hip_of(asking: Asking, kind: Kind, height: float) -> tuple[float | None, float | None]:
    """Her hip and how far it is below the waist (m); neither where it was not measured."""
    hip: float | None
    if kind.on_her:
        why = f"{kind.called} bears on her, so that her hip must be known"
        known = known_length(
            asking.unit, why, "Measure round it at its fullest, and write that: 39, for instance"
        )
        hip = asking.ask("hip", "Hip, round, at its fullest", None, known)
    else:
        question = "Hip, round, at its fullest (none: not measured)"
        hip = asking.ask("hip", question, "none", length_or_none(asking.unit))
    if hip is None:
        refuse_drop_of_nothing(asking.given["hip_drop"])
        return None, None
    drop = asking.shown(usual.hip_drop(height, asking.unit))
    return hip, asking.ask("hip_drop", "Hip below the waist", drop, length_in(asking.unit))


def refuse_drop_of_nothing(written: str | None) -> None:
    """Raises CommandError for a hip that is so far down and was not measured."""
    if written is not None and written.strip().lower() not in ("none", ""):
        why = "her hip is not measured, so that it is nowhere below the waist"
        raise CommandError(Problem("--hip-drop", written[:60], why, "Give --hip too, or leave it out"))


def own_answers(
    asking: Asking, kind: Kind, name: str, height: float
) -> tuple[dict[str, float], float | None]:
    """(lengths in m that this kind asks for, the share behind the waist)."""
    unit = asking.unit
    asked = {
        key: (question, usual.share_of_height(share, height, unit))
        for key, (question, share) in (QUESTIONS | (BESIDE_HER if kind.beside else {})).items()
    }
    asked["hem"] = ("Lowest hoop, round", usual.hem(name, height, unit))
    lengths = {
        key: asking.ask(key, asked[key][0], asking.shown(asked[key][1]), length_in(unit))
        for key in kind.asks
        if key in asked
    }
    if "behind" not in kind.asks:
        return lengths, None
    question = "How much of its depth lies behind the waist"
    return lengths, asking.ask("behind", question, f"{100 * usual.BEHIND:g} %", part_of)


def lowest_length(kind: Kind, lengths: dict[str, float]) -> float:
    """m, about, of the lowest hoop by what its kind asks for; open ones have one stretch less than tapes."""
    if kind.beside:
        return 2.0 * (2.0 * lengths["out"] + lengths["deep"] + usual.FREE_STEEL)
    if "wide" in lengths:
        return Oval(lengths["wide"] / 2, lengths["deep"] / 2, lengths["deep"] / 2).girth
    return lengths["hem"] if "hem" in lengths else 2.5 * lengths["out"] + usual.FREE_STEEL


def clearance_of(asking: Asking, kind: Kind, height: float) -> tuple[float, float]:
    """m, least and most height of the hem, at the front where it dips."""
    dips = "dip" in kind.asks
    question = f"Lowest hoop above the floor{', at the front' if dips else ''}"
    proposed = (DIPPED if dips else CLEARANCES)[asking.unit]
    if kind.beside:
        proposed = " to ".join(
            asking.shown(usual.share_of_height(share, height, asking.unit)) for share in usual.HIGH
        )
    return asking.ask("clearance", question, proposed, least_and_most(asking.unit))


def hoops_of(asking: Asking, kind: Kind, down: float) -> int:
    """How many hoops, or how many at either side of her; down: m from the band's edge to the hem."""
    if kind.beside:
        return asking.ask("hoops", "How many hoops on each side", str(usual.BASKET_HOOPS), count)
    return asking.ask("hoops", "How many hoops", str(usual.hoops(down)), count)

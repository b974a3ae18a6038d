"""The keys that a maker may write at a place of a design, and which of them was meant."""

from __future__ import annotations

import re
from typing import Any, get_args

from pydantic import BaseModel

from cage3d.design.models import Design
from cage3d.design.node import Place
from cage3d.design.slips import CURLY
from cage3d.units import LONG_DASHES
from cage3d.wording import nearest

NO_SUCH_KEY = "there is no such key here"


def no_such_key(key: str, known: list[str]) -> tuple[str, str]:
    """(why a key cannot stand among the known ones, what to write)."""
    if key == "<<":
        return NO_SUCH_KEY, "Merging with << is not part of YAML 1.2: write the keys out"
    near = meant_key(key, known)
    if near and near == key.lower():
        return f"{NO_SUCH_KEY}: keys are written in small letters", f"Write {near}:"
    if near and near == key.strip(CURLY):
        return f"{NO_SUCH_KEY}: curly quotes are part of the word", f"Write {near}:"
    return NO_SUCH_KEY, f"Did you mean {near}?" if near else f"Known here: {', '.join(known)}"


def meant_key(key: str, known: list[str]) -> str | None:
    """The one of the known keys that was meant, if any is near."""
    plain = re.sub(f"[ {LONG_DASHES}-]+", "_", key.strip(f"{CURLY} :").lower())
    return nearest(plain, known)


def keys_at(place: Place) -> list[str]:
    """The keys a maker may write at a place of the design."""
    model: type[BaseModel] | None = Design
    for step in place:
        if isinstance(step, str):
            field = (
                next((f for n, f in model.model_fields.items() if step in (n, f.alias)), None)
                if model
                else None
            )
            model = model_in(field.annotation) if field else None
    return [field.alias or name for name, field in model.model_fields.items()] if model else []


def model_in(annotation: Any) -> type[BaseModel] | None:
    """The model inside Optional, tuples and tagged forms."""
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return annotation
    return next((found for part in get_args(annotation) if (found := model_in(part))), None)

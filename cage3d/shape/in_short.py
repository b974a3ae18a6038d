"""Dataclasses of arrays that show themselves in one line: the size of an array stands for its values."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import fields, is_dataclass
from typing import Any

import numpy as np


class InShort:
    """For a dataclass with repr=False: every field that is there by its name, what is large by its size."""

    def __repr__(self) -> str:
        values = {field.name: getattr(self, field.name) for field in fields(self)}  # type: ignore[arg-type]
        shown = (f"{name}={in_short(value)}" for name, value in values.items() if value is not None)
        return f"{type(self).__name__}({', '.join(shown)})"


def in_short(value: Any) -> str:
    """'(448, 3)' for an array, '4 of them' for a list; anything else as it shows itself."""
    if isinstance(value, np.ndarray):
        return str(value.shape)
    if isinstance(value, Mapping):
        return "{" + ", ".join(f"{key}: {in_short(item)}" for key, item in value.items()) + "}"
    if isinstance(value, (tuple, list)) and value:
        return f"{len(value)} of them"
    if isinstance(value, float):
        return f"{value:.6g}"
    if is_dataclass(value):
        return f"{type(value).__name__}(...)"
    return repr(value)

"""Works out how a cage petticoat will hang, and gives its 3D model, miniature and making sheets.

    cage = cage3d.read("petticoat.yaml")
    hung = cage.with_hoop(4, length="70 in").settle()
    print(hung)
    hung.write("out")

All names are in docs/python.md. What takes time to load is loaded when it is first asked for.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from cage3d.door.aimed import AimedCage
    from cage3d.door.graded import GradedCages, grade
    from cage3d.door.hung import HungCage, make
    from cage3d.door.trued import TruedCage, true
    from cage3d.door.varied import VariantCage, VariedCages, vary
    from cage3d.door.written import WrittenCage, read, read_data
    from cage3d.errors import CageError, CancelledError, DesignError, NotSettledError, OutputError, Problem

__version__ = "0.1.0"
__all__ = [
    "AimedCage",
    "CageError",
    "CancelledError",
    "DesignError",
    "GradedCages",
    "HungCage",
    "NotSettledError",
    "OutputError",
    "Problem",
    "TruedCage",
    "VariantCage",
    "VariedCages",
    "WrittenCage",
    "__version__",
    "grade",
    "make",
    "read",
    "read_data",
    "true",
    "vary",
]

HOMES = {
    "cage3d.door.aimed": ("AimedCage",),
    "cage3d.door.written": ("WrittenCage", "read", "read_data"),
    "cage3d.door.graded": ("GradedCages", "grade"),
    "cage3d.door.hung": ("HungCage", "make"),
    "cage3d.door.trued": ("TruedCage", "true"),
    "cage3d.door.varied": ("VariantCage", "VariedCages", "vary"),
    "cage3d.errors": (
        "CageError",
        "CancelledError",
        "DesignError",
        "NotSettledError",
        "OutputError",
        "Problem",
    ),
}
HOME_OF = {name: home for home, names in HOMES.items() for name in names}


def __getattr__(name: str) -> Any:
    if name not in HOME_OF:
        raise AttributeError(f"module 'cage3d' has no attribute '{name}'")
    value = globals()[name] = getattr(import_module(HOME_OF[name]), name)
    return value


def __dir__() -> list[str]:
    return sorted({*globals(), *__all__})

"""What is asked of tapes alone: a cage that hangs on its own cloth is refused, with what to do instead."""

from __future__ import annotations

from cage3d.design.models import Design
from cage3d.errors import DesignError, Problem


def refuse_cloth(design: Design, name: str, command: str) -> None:
    """Raises DesignError naming `name` where no tapes carry the hoops, whose drops this command reads or changes."""
    if design.cloth is not None:
        raise DesignError(
            Problem(
                name,
                "cloth",
                f"cage3d {command} reads and changes the drops of tapes, and this cage hangs on its own cloth",
                "Change levels and lengths by hand: cage3d check tells what comes of it, cage3d vary over a range",
            )
        )

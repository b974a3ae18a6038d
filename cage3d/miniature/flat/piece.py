"""One flat piece, lying and standing; mm."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from manifold3d import CrossSection, Manifold

from cage3d.miniature.flat.plan import FlatPlan
from cage3d.miniature.flat.shapes import (
    Flag,
    Plane,
)


@dataclass(frozen=True)
class FlatPiece:
    """One piece, lying flat from z = 0, and where it stands when assembled (floor at z = 0); mm."""

    name: str
    outline: CrossSection
    solid: Manifold
    genus: int
    plane: Plane
    thickness: float

    @property
    def assembled(self) -> Manifold:
        """The piece at its place in the model."""
        origin = self.plane.origin - self.plane.axes[:, 2] * self.thickness / 2.0
        return self.solid.transform(np.column_stack([self.plane.axes, origin]))


def flat_piece(
    plan: FlatPlan, name: str, outline: CrossSection, plane: Plane, mark: Flag | None, genus: int
) -> FlatPiece:
    thick = plan.laps.thickness
    if mark is not None:
        outline = outline + mark.flag
    solid = outline.simplify(0.002).extrude(thick)
    if mark is not None:
        solid = solid - mark.letters.extrude(thick).translate((0.0, 0.0, thick - plan.process.engraved))
    return FlatPiece(name, outline, solid, genus, plane, thick)

"""Flat pieces laid out on the beds of a printer: rings inside larger rings, then rows."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from manifold3d import CrossSection

from cage3d.shape.arrays import Floats

APART = 3.0  # mm between two pieces


@dataclass(frozen=True)
class PlacedPiece:
    """Piece `index` moved by x, y (mm) after a quarter turn where `turned`, on bed number `bed`."""

    index: int
    bed: int
    turned: bool
    x: float
    y: float


@dataclass
class Group:
    """Rings inside each other, moved as one; or a single piece."""

    outline: CrossSection
    members: list[tuple[int, float, float]]  # index, and how far it is moved to lie in the group

    @property
    def size(self) -> tuple[float, float]:
        left, low, right, high = self.outline.bounds()
        return right - left, high - low


def pack(outlines: Sequence[CrossSection], across: float, deep: float) -> list[PlacedPiece]:
    """Every outline on a bed of `across` x `deep` mm; each must fit it by itself.

    Rows of falling height, filled from the left; a new bed where no row has room.
    """
    groups = nested(outlines)
    order = sorted(groups, key=lambda group: (-min(group.size), -max(group.size), group.members[0][0]))
    placed: list[PlacedPiece] = []
    bed, x, y, row = 0, 0.0, 0.0, 0.0
    for group in order:
        wide, high = max(group.size), min(group.size)
        if wide > across + 1e-9 or high > deep + 1e-9:
            wide, high = high, wide
        if x + wide > across + 1e-9:
            x, y, row = 0.0, y + row + APART, 0.0
        if y + high > deep + 1e-9:
            bed, x, y, row = bed + 1, 0.0, 0.0, 0.0
        turned = abs(group.size[0] - wide) > 1e-9
        outline = group.outline.rotate(90.0) if turned else group.outline
        left, low, _, _ = outline.bounds()
        for index, dx, dy in group.members:
            moved = (-dy, dx) if turned else (dx, dy)
            placed.append(PlacedPiece(index, bed, turned, x - left + moved[0], y - low + moved[1]))
        x, row = x + wide + APART, max(row, high)
    return sorted(placed, key=lambda entry: entry.index)


def nested(outlines: Sequence[CrossSection]) -> list[Group]:
    """Groups of pieces that lie inside each other's holes, each wholly clear of the others."""
    order = sorted(range(len(outlines)), key=lambda index: (-box(outlines[index])[2], index))
    groups: list[Group] = []
    for index in order:
        piece = outlines[index]
        left, low, _, right, high = box(piece)
        for group in groups:
            a, b, _, c, d = box(group.outline)
            dx, dy = (a + c - left - right) / 2.0, (b + d - low - high) / 2.0
            moved = piece.translate((dx, dy))
            inside = (moved - filled(group.outline)).is_empty()
            if inside and (moved.offset(APART) ^ group.outline).is_empty():
                group.outline = group.outline + moved
                group.members.append((index, dx, dy))
                break
        else:
            groups.append(Group(piece, [(index, 0.0, 0.0)]))
    return groups


def box(outline: CrossSection) -> tuple[float, float, float, float, float]:
    """left, low, area of the box, right, high."""
    left, low, right, high = outline.bounds()
    return left, low, (right - left) * (high - low), right, high


def filled(outline: CrossSection) -> CrossSection:
    """The outline without its holes."""
    return CrossSection([polygon for polygon in outline.to_polygons() if turn(polygon) > 0.0])


def turn(polygon: Floats) -> float:
    return float(CrossSection([polygon]).area())

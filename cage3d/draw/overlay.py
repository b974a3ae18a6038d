"""Lines, arrows and letters over a rendered picture, at any size: every measure is in text heights."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache
from io import BytesIO

import numpy as np
from PIL import Image, ImageDraw, ImageFont

from cage3d.draw.few_colours import few_colours
from cage3d.draw.render import Pixels
from cage3d.fonts import font_bytes

INK = (27, 29, 33)
SOFT = (93, 100, 110)
STEEL = (72, 80, 90)
ACCENT = (11, 79, 138)  # dimension lines: dark blue, apart from steel and ribbon also without colour vision
WHITE = (255, 255, 255)
Place = tuple[float, float]
FINE = 2


class Overlay:
    """A picture to write on. text: height of the letters in px.

    Places are px of the picture; inside, everything is drawn FINE times larger and brought back
    at the end, so that slanting lines come out smooth. What was rendered returns unchanged.
    """

    def __init__(self, pixels: Pixels, text: float) -> None:
        height, width = pixels.shape[:2]
        self.size = (width, height)
        self.text = text
        self.line = max(2.0, text / 14.0)  # px, width of thin lines
        self._large = Image.fromarray(pixels).resize((FINE * width, FINE * height), Image.Resampling.NEAREST)
        self._draw = ImageDraw.Draw(self._large)

    @property
    def image(self) -> Image.Image:
        """The picture as it is now."""
        return self._large.reduce(FINE)

    def paste(self, image: Image.Image, corner: tuple[int, int]) -> None:
        """Another picture laid on this one, its upper left corner at a place."""
        wide, high = image.size
        larger = image.resize((FINE * wide, FINE * high), Image.Resampling.NEAREST)
        self._large.paste(larger, (FINE * corner[0], FINE * corner[1]))

    def straight(
        self, points: Sequence[Place], colour: tuple[int, int, int] = ACCENT, weight: float = 1.0
    ) -> None:
        """A line through several places, with a white edge so that it stands out over the cage."""
        width = self._width(weight)
        flat = large(points)
        self._draw.line(flat, fill=WHITE, width=width + round(FINE * self.line), joint="curve")
        self._draw.line(flat, fill=colour, width=width, joint="curve")

    def bare_line(
        self, points: Sequence[Place], colour: tuple[int, int, int] = STEEL, weight: float = 1.4
    ) -> None:
        """A line without a white edge: a part of the cage and not a mark."""
        self._draw.line(large(points), fill=colour, width=self._width(weight), joint="curve")

    def arrow(self, tip: Place, direction: Place, colour: tuple[int, int, int] = ACCENT) -> None:
        """A filled arrowhead with its tip at a place, pointing in a direction (px)."""
        along = np.array(direction) / np.hypot(*direction)
        across = np.array([-along[1], along[0]])
        back = np.array(tip) - 0.55 * self.text * along
        corners = [np.array(tip), back + 0.17 * self.text * across, back - 0.17 * self.text * across]
        self._draw.polygon(large([(float(x), float(y)) for x, y in corners]), fill=colour)

    def dot(self, place: Place, radius: float = 0.12, colour: tuple[int, int, int] = ACCENT) -> None:
        x, y = place
        reach = radius * self.text
        self._draw.ellipse(large([(x - reach, y - reach), (x + reach, y + reach)]), fill=colour)

    def dimension(self, start: Place, end: Place, words: str = "") -> None:
        """A dimension line with arrows at both ends, and on it its length."""
        self.straight([start, end])
        along = (end[0] - start[0], end[1] - start[1])
        self.arrow(end, along)
        self.arrow(start, (-along[0], -along[1]))
        if words:
            middle = ((start[0] + end[0]) / 2.0, (start[1] + end[1]) / 2.0)
            self.words(middle, words, "mm", colour=ACCENT, card=True)

    def words(
        self, place: Place, words: str, anchor: str, size: float = 1.0, bold: bool = False,
        colour: tuple[int, int, int] = INK, card: bool = False,
    ) -> None:  # fmt: skip
        """Text at a place. anchor: Pillow's two letters (l m r; t m b s); card: on a white card."""
        font, at = self._font(size, bold), large([place])[0]
        if card:
            left, top, right, bottom = self._draw.textbbox(at, words, font=font, anchor=anchor)
            pad = 0.18 * FINE * self.text * size
            box = (left - pad, top - pad, right + pad, bottom + pad)
            self._draw.rounded_rectangle(box, radius=2 * pad, fill=WHITE)
        edge = 0 if card else round(FINE * self.text * size / 7.0)
        self._draw.text(
            at, words, fill=colour, font=font, anchor=anchor, stroke_width=edge, stroke_fill=WHITE
        )

    def width_of(self, words: str, size: float = 1.0, bold: bool = False) -> float:
        """px."""
        return width_of(words, self.text * size, bold)

    def shortened(self, words: str, room: float, size: float = 1.0, bold: bool = False) -> str:
        """The words, or as many letters as fit into `room` px with an ellipsis."""
        if self.width_of(words, size, bold) <= room:
            return words
        while words and self.width_of(words + "…", size, bold) > room:
            words = words[:-1]
        return words.rstrip() + "…"

    def _font(self, size: float, bold: bool) -> ImageFont.FreeTypeFont:
        return font_of(round(FINE * self.text * size), bold)

    def _width(self, weight: float) -> int:
        return max(1, round(FINE * self.line * weight))

    def png(self, dots_per_inch: int = 300, few: bool = True) -> bytes:
        """The picture as PNG; the same bytes for the same picture.

        few: in 256 colours chosen for it: a third of the size, and no difference that an eye finds but where something
        is seen through something else.
        """
        out = BytesIO()
        # Packed as zlib does unless told otherwise: its hardest is a twentieth smaller and takes five times as long.
        colours = few_colours(self.image) if few else self.image
        colours.save(out, "PNG", dpi=(dots_per_inch, dots_per_inch))
        return out.getvalue()


@cache  # widths are tried in many places before they stand
def width_of(words: str, text: float, bold: bool = False) -> float:
    """px that words take in letters of a height of `text` px."""
    return float(font_of(round(FINE * text), bold).getlength(words)) / FINE


def large(points: Sequence[Place]) -> list[Place]:
    return [(FINE * float(x), FINE * float(y)) for x, y in points]


@cache
def font_of(size: int, bold: bool) -> ImageFont.FreeTypeFont:
    return ImageFont.truetype(BytesIO(font_bytes(bold)), max(size, 6))

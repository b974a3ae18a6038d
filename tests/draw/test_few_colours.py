"""256 colours for a picture: as near to it as colours chosen from all of it, paper white, a few colours themselves."""

from __future__ import annotations

from io import BytesIO

import numpy as np
import pytest
from PIL import Image, ImageDraw

from cage3d.draw.few_colours import few_colours
from cage3d.draw.overlay import ACCENT, INK, Overlay
from cage3d.scene.looks import LOOKS

PAPER = (255, 255, 255)


def shaded(material: str, across: int, down: int) -> np.ndarray:
    """(down, across, 3) a material from its shade to its light, as rendering shades a round thing."""
    light = np.sqrt(1.0 - np.linspace(-0.98, 0.98, across) ** 2)[None, :, None]
    fall = np.linspace(0.75, 1.1, down)[:, None, None]
    return np.clip(255.0 * np.array(LOOKS[material].srgb) * light * fall, 0, 255).astype(np.uint8)


def drawn() -> Image.Image:
    """A picture as ours are: mostly paper, a few materials in all their shades, words and lines over them."""
    pixels = np.full((600, 800, 3), 255, dtype=np.uint8)
    for place, material in enumerate(("steel", "tape", "form", "casing", "skirt")):
        pixels[40:560, 30 + 150 * place : 130 + 150 * place] = shaded(material, 100, 520)
    image = Image.fromarray(pixels)
    pen = ImageDraw.Draw(image)
    for place in range(20):
        pen.line([(10, 30 * place), (790, 29 * place + 7)], fill=ACCENT if place % 2 else INK, width=2)
    return image


def off(image: Image.Image, other: Image.Image) -> np.ndarray:
    """(height, width) how far colours are apart, in steps of one of 256."""
    one, two = (np.asarray(each.convert("RGB"), dtype=np.float64) for each in (image, other))
    return np.linalg.norm(one - two, axis=2)


def test_colours_from_a_few_pixels_are_as_near_as_from_all() -> None:
    image = drawn()
    whole = image.quantize(256, method=Image.Quantize.MEDIANCUT, dither=Image.Dither.NONE)
    ours, best = off(image, few_colours(image)), off(image, whole)
    inked = np.asarray(image).min(axis=2) < 255
    assert ours[inked].mean() < 1.15 * best[inked].mean()
    assert ours[inked].mean() < 4.0  # of 442 from black to white
    assert np.quantile(ours, 0.999) < 20.0


def test_paper_stays_white_and_nothing_else_becomes_it() -> None:
    image = drawn()
    made = np.asarray(few_colours(image).convert("RGB"))
    assert np.array_equal((made == 255).all(axis=2), (np.asarray(image) == 255).all(axis=2))


def test_a_picture_of_few_colours_comes_out_as_it_is() -> None:
    image = Image.new("RGB", (50, 40), PAPER)
    for place, colour in enumerate([INK, ACCENT, (1, 2, 3), (254, 255, 255)]):
        image.paste(colour, (10 * place, 0, 10 * place + 10, 20))
    assert off(image, few_colours(image)).max() == 0.0


@pytest.mark.parametrize("colour", [PAPER, INK])
def test_a_bare_picture_is_one(colour: tuple[int, int, int]) -> None:
    image = Image.new("RGB", (7, 3), colour)
    assert off(image, few_colours(image)).max() == 0.0


def test_written_as_png_of_256_colours_at_most_and_its_size() -> None:
    paper = Overlay(np.asarray(drawn()), 30.0)
    paper.words((400.0, 300.0), "84 1/2 in", "mm", card=True)
    with Image.open(BytesIO(paper.png(200))) as read:
        assert (read.format, read.mode, read.size) == ("PNG", "P", (800, 600))
        assert read.info["dpi"] == pytest.approx((200, 200), abs=0.1)
        assert len(read.convert("RGB").getcolors(1 << 20)) <= 256

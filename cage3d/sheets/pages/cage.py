"""The cage drawn on the first page: from the front, from her left and from above, hoops and tapes numbered."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import numpy as np
from reportlab.pdfgen.canvas import Canvas

from cage3d.shape.arrays import Bools, Floats
from cage3d.sheets.outline import FRONT, LEFT, PLAN, Outline, View
from cage3d.sheets.paper.drawing import HAIR, THICK, THIN, Align, draw_text, ink
from cage3d.sheets.paper.fonts import Letters
from cage3d.sheets.strips import spread
from cage3d.steady import first_largest

TITLE, NUMBERS, BETWEEN = (
    14.0,
    15.0,
    10.0,
)  # pt: heading of a view, room for numbers round it, between two views
FAR = 0.68  # grey of what is behind
TALLEST = 235.0  # pt, of the views


Placing = Callable[[Floats], Floats]  # (n, 3) m to (n, 2) pt on the page


class Pen:
    """Lines of one view; what lies behind is grey and drawn as thin as it is."""

    def __init__(self, canvas: Canvas, view: View, on_paper: Placing) -> None:
        self.canvas, self.view, self.on_paper = canvas, view, on_paper

    def line(self, line: Floats, width: float) -> None:
        """Far stretches first, so that near ones cross over them."""
        for far in (True, False):
            self.stretches(line, width, far)

    def stretches(self, line: Floats, width: float, far: bool) -> None:
        """Those of a line that lie behind, or those that do not."""
        flat, behind = self.on_paper(line), self.view.behind(line)
        self.canvas.setLineWidth(width)
        self.canvas.setLineCap(1)
        ink(self.canvas, FAR if far else 0.0)
        for run in runs(flat, behind == far):
            path = self.canvas.beginPath()
            path.moveTo(*run[0])
            for place in run[1:]:
                path.lineTo(*place)
            self.canvas.drawPath(path)
        self.canvas.setLineCap(0)

    def dashed(self, line: Floats) -> None:
        ink(self.canvas)
        self.canvas.setDash(2.5, 1.8)
        self.canvas.setLineWidth(THIN)
        path = self.canvas.beginPath()  # one path, so that dashes run on round a bend
        first, *others = self.on_paper(line).tolist()
        path.moveTo(*first)
        for place in others:
            path.lineTo(*place)
        self.canvas.drawPath(path)
        self.canvas.setDash()


def runs(flat: Floats, shown: Bools) -> list[list[list[float]]]:
    """Stretches of a line that are shown, as places one after another."""
    found: list[list[list[float]]] = []
    open_run = False
    for place, show in enumerate(shown):
        if show and not open_run:
            found.append([flat[place].tolist()])
        if show:
            found[-1].append(flat[place + 1].tolist())
        open_run = bool(show)
    return found


class CageViews:
    """Three views to one scale across the width of a page."""

    def __init__(self, outline: Outline, letters: Letters, width: float) -> None:
        self.outline, self.letters, self.width = outline, letters, width
        points = np.vstack([outline.band, *outline.hoops])
        self.low, self.high = points.min(axis=0), points.max(axis=0)
        self.low[2] = min(self.low[2], 0.0)  # the floor
        wide, deep, tall = self.high - self.low
        room = width - 2 * BETWEEN - 6 * NUMBERS
        self.scale = min(room / (2 * wide + deep), (TALLEST - TITLE - 2 * NUMBERS) / max(tall, deep))
        self.height = max(tall, deep) * self.scale + TITLE + 2 * NUMBERS

    def draw(self, canvas: Canvas, top: float) -> None:
        """The views under y = top, and under them what the lines are."""
        key = "Heavy above: the waistband. Grey: what lies behind. Dashed: ties and laces. Below: the floor."
        draw_text(canvas, self.letters, 0, top - self.height - 7, key, 6.5, grey=0.35)
        x = 0.0
        sizes = [
            (self.high - self.low)[view.across] * self.scale + 2 * NUMBERS for view in (FRONT, LEFT, PLAN)
        ]
        spare = (self.width - sum(sizes)) / 2.0
        for view, wide in zip((FRONT, LEFT, PLAN), sizes, strict=True):
            self._view(canvas, view, x, wide, top)
            x += wide + spare

    def _view(self, canvas: Canvas, view: View, x: float, wide: float, top: float) -> None:
        ink(canvas)
        title = self.letters.shortened(view.title, 8, wide, True)
        draw_text(canvas, self.letters, x + wide / 2.0, top - 8, title, 8, True, "middle")
        tall = (self.high - self.low)[view.up] * self.scale
        left, foot = x + NUMBERS, top - TITLE - NUMBERS - tall

        def on_paper(line: Floats) -> Floats:
            low = self.low[[view.across, view.up]]
            return np.asarray((view.flat(line) - low) * self.scale + [left, foot])

        draw = Pen(canvas, view, on_paper)
        for far in (True, False):
            for tape in self.outline.tapes:
                draw.stretches(tape, HAIR, far)
            for hoop in self.outline.hoops:
                draw.stretches(hoop, THIN * 1.2, far)
        draw.line(self.outline.band, THICK)
        for tie in self.outline.ties:
            draw.dashed(tie)
        ink(canvas)
        if view is PLAN:
            self._tape_numbers(canvas, on_paper)
        else:
            floor = foot - self.low[2] * self.scale
            canvas.setLineWidth(HAIR)
            canvas.line(x + 2, floor, x + wide - 2, floor)
            away = self.outline.at_her_right if view is FRONT else frozenset[int]()
            every = range(len(self.outline.hoops))
            self._hoop_numbers(canvas, on_paper, [hoop for hoop in every if hoop not in away], 1.0)
            self._hoop_numbers(canvas, on_paper, sorted(away), -1.0)

    def _hoop_numbers(self, canvas: Canvas, on_paper: Placing, hoops: Sequence[int], way: float) -> None:
        """Beside each of these hoops (from 0) at its rightmost place, or where `way` is -1 at its leftmost."""
        drawn = [on_paper(self.outline.hoops[hoop]) for hoop in hoops]
        ends = [line[first_largest(way * line[:, 0])].tolist() for line in drawn]
        levels = spread([y for _, y in ends], 7.5, -1e6, 1e6)
        align: Align = "left" if way > 0.0 else "right"
        for hoop, (x, _), level in zip(hoops, ends, levels, strict=True):
            draw_text(canvas, self.letters, x + 4 * way, level - 2.4, str(hoop + 1), 7, True, align)

    def _tape_numbers(self, canvas: Canvas, on_paper: Placing) -> None:
        """Outside the plan, where each tape passes its outermost hoop."""
        every = [on_paper(tape) for tape in self.outline.tapes]
        hers = np.mean([tape[0] for tape in every], axis=0)
        for number, tape in enumerate(every, start=1):
            own = self.outline.in_baskets.get(number - 1)
            middle = hers if own is None else on_paper(own[None])[0]
            place = tape[first_largest(np.linalg.norm(tape - hers, axis=1))]
            out = (place - middle) / max(float(np.linalg.norm(place - middle)), 1e-9)
            x, y = place + out * 8.5
            draw_text(canvas, self.letters, x, y - 2.4, str(number), 7, align="middle")

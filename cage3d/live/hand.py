"""The process of one tab that follows the hand: the newest values, through the rules, settled, drawn and sent."""

from __future__ import annotations

import time
from collections import deque
from collections.abc import Callable
from dataclasses import dataclass, field
from multiprocessing.connection import Connection
from pathlib import Path
from typing import Any

import numpy as np

from cage3d.design.models import Design
from cage3d.errors import CageError, CancelledError, DesignError
from cage3d.live.fitting import Opened, Values, nearest_that_can_be, open_file
from cage3d.live.frame import frame, words_told
from cage3d.live.line import Line
from cage3d.live.meanwhile import Meanwhile
from cage3d.live.saving import ChangedOnDiskError, kept_beside, saved
from cage3d.live.shown import Shown
from cage3d.live.words import faults_json, figures_told, no_rest, opened_told, unexpected
from cage3d.report import why_not
from cage3d.settle.settling import MOST_STEPS, settle
from cage3d.settle.state import SettledCage
from cage3d.shape.cage import Cage
from cage3d.shape.lay_out import lay_out
from cage3d.study.processes import begin

MOST_DRAGGED = 150  # steps of Newton's while she drags: 3 to 10 are usual, more would lag behind her hand
UNREADABLE = "The file cannot be read now."
PATIENCE = 0.25  # s that a move may take before a newer one takes its place
WORDS_EVERY = 0.15  # s; in a drag without end lengths and figures follow the shape as often as that at least
SOON = 0.008  # s, in which a hand that goes on is heard of again once its last shape has gone down


def follow(pipe: Connection, path: str, keep: bool) -> None:
    """The whole life of the process. keep: the page holds values that it will send again."""
    begin()
    hand = Hand(Line(pipe), Path(path))
    try:
        hand.answer({"do": "open", "keep": keep})
        while True:
            hand.answer(hand.next_message())
    except (EOFError, OSError):
        return  # the tab was closed


@dataclass
class Hand:
    """What is fitted in one tab."""

    line: Line
    path: Path
    opened: Opened | None = None
    values: Values = field(default_factory=dict)  # the last that the rules accepted
    hung: SettledCage | None = None  # the last that was trusted
    shown: Shown = field(default_factory=Shown)
    broken: bool = False  # the file cannot be read now
    later: deque[dict[str, Any]] = field(default_factory=deque)
    said_at: float = 0.0  # when it was told last what is said of the cage

    def next_message(self) -> dict[str, Any]:
        """What is to be done next: of moves that follow one another the newest alone."""
        while self.line.waiting() or not self.later:
            self.later.append(self.line.heard())
        message = self.later.popleft()
        while "seq" in message and self.later and "seq" in self.later[0]:
            message = self.later.popleft()
        return message

    def answer(self, message: dict[str, Any]) -> None:
        """Does it; whatever goes wrong is told the page, and the process lives on."""
        told: dict[str, Any] = {key: value for key, value in message.items() if key in ("seq", "id")}
        try:
            if "seq" in message:
                self.move(message["seq"], message["values"], message["rest"])
            else:
                self.do(message)
        except CancelledError:
            while self.line.waiting():
                self.later.append(self.line.heard())
            if not any("seq" in one for one in self.later):
                self.later.append(message)  # it was no newer move that interrupted
        except (EOFError, OSError):
            raise
        except CageError as fault:
            self.line.say({"kind": "failed", **told, "text": str(fault), "faults": faults_json(fault)})
        except Exception as fault:
            self.line.say({"kind": "failed", **told, "text": unexpected(fault)})

    def do(self, message: dict[str, Any]) -> None:
        """All but moves."""
        what = message["do"]
        if what == "open":
            self.open(message["keep"])
        elif what == "look":
            self.look()
        elif what == "reload":
            self.open(keep=False)
            told = ("failed", UNREADABLE) if self.broken else ("done", "The file is read again.")
            self.line.say({"kind": told[0], "id": message["id"], "text": told[1]})
        elif self.opened is None:
            self.line.say({"kind": "failed", "id": message["id"], "text": UNREADABLE})
        elif what in ("save", "save over"):
            self.save(message, over=what == "save over")
        else:
            values = message.pop("values", self.values)
            self.line.begin_job({"ask": message, "text": self.opened.text, "values": dict(values)})

    def open(self, keep: bool) -> None:
        """Reads the file and tells all of it, or why it cannot be read."""
        opened = self.read()
        if opened is not None:
            self.take(opened, keep)

    def read(self) -> Opened | None:
        """The file as it is now; None where it cannot be read, which the page is told, and told again once it can."""
        try:
            opened = open_file(self.path)
        except DesignError as fault:
            self.broken = True
            self.line.say({"kind": "unreadable", "faults": faults_json(fault)})
            return None
        if self.broken:
            self.broken = False
            self.line.say({"kind": "readable"})
        return opened

    def look(self) -> None:
        """The file was touched: its text is taken where nothing has been moved, else she is asked."""
        opened = self.read()
        if opened is None or (self.opened is not None and opened.text == self.opened.text):
            return
        if self.opened is not None and self.values:
            self.line.say({"kind": "changed on disk"})
        else:
            self.take(opened)

    def save(self, message: dict[str, Any], over: bool) -> None:
        """Puts what was moved into the file, and begins anew with that."""
        assert self.opened is not None
        told = {"id": message["id"]}
        try:
            opened = saved(self.opened, message.get("values", self.values), over)
        except ChangedOnDiskError:
            text = "The file was changed meanwhile, by an editor perhaps. Nothing is saved."
            self.line.say({"kind": "failed", **told, "text": text, "choice": "on disk"})
            return
        text = f"Saved. What stood there before is in {kept_beside(self.path).name}."
        if opened.text == self.opened.text and not over:
            text = "Nothing differs from what is written, so nothing was saved."
        self.take(opened)
        self.line.say({"kind": "done", **told, "text": text})

    def take(self, opened: Opened, keep: bool = False) -> None:
        """Begins anew with a design, and tells how it hangs."""
        self.opened, self.values = opened, {}
        settled = settle(lay_out(opened.design), cancel=Meanwhile(self.line, 0, lambda: False))
        self.hung = settled if settled.trusted else None
        drawn = self.shown.stage_of(settled) if settled.trusted else None
        whole = self.shown.whole(settled, drawn) if drawn is not None else None
        self.line.say(opened_told(opened, settled, whole, keep))
        if drawn is None:
            self.line.say(no_rest(0, why_not(settled, str(self.path))))
            return
        self.line.say(figures_told(0, drawn.report, opened.design, foretold=False))
        self.ask_foreteller(0, {})

    def ask_foreteller(self, seq: int, values: Values) -> None:
        assert self.opened is not None
        self.line.rested({"seq": seq, "text": self.opened.text, "values": dict(values)})

    def move(self, seq: int, values: Values, rest: bool) -> None:
        if self.opened is None:
            self.line.say({"kind": "failed", "seq": seq, "text": UNREADABLE})
            return
        try:
            design = self.opened.design_with(values)
        except DesignError as fault:
            self.refuse(seq, values, fault)
            return
        settled = self.settled(design, seq, rest)
        self.values = dict(values)
        if not settled.trusted:
            self.line.say(no_rest(seq, why_not(settled, str(self.path)), dragged=not rest))
            return
        self.hung = settled
        self.draw(seq, settled, rest)
        if rest:
            self.ask_foreteller(seq, values)

    def settled(self, design: Design, seq: int, rest: bool) -> SettledCage:
        """From where it hangs while she drags; from the beginning, as check does it, when the hand rests."""
        cage = lay_out(design)
        if rest or self.hung is None or not same_joints(cage, self.hung.cage):
            return settle(cage, most_steps=MOST_STEPS, cancel=Meanwhile(self.line, seq, self.line.waiting))
        return settle(cage, self.hung, most_steps=MOST_DRAGGED, cancel=self.newer_after(PATIENCE))

    def newer_after(self, seconds: float) -> Callable[[], bool]:
        """Whether something newer waits, once so much time has gone: else a quick hand would never see a picture."""
        until = time.monotonic() + seconds
        return lambda: time.monotonic() > until and self.line.waiting()

    def draw(self, seq: int, settled: SettledCage, rest: bool) -> None:
        """The shape, at rest with all that is said of it; else that follows, as often as the hand leaves time."""
        parts = self.shown.parts_of(settled)
        moved = self.shown.moved(parts)
        if moved is not None and not rest:
            self.line.show(frame(parts, moved, seq))
            lately = time.monotonic() < self.said_at + WORDS_EVERY
            if not (lately and self.line.waiting(SOON)):
                self.line.say(words_told(seq, self.shown.stage_of(settled, parts)))
                self.said_at = time.monotonic()
            return
        drawn = self.shown.stage_of(settled, parts)
        if moved is None:
            whole = self.shown.whole(settled, drawn)
            self.line.say({"kind": "parts", "seq": seq, "rest": rest, "data": whole})
        else:
            self.line.show(frame(parts, moved, seq, drawn, rest))
        if rest:
            self.line.say(figures_told(seq, drawn.report, settled.cage.design, foretold=False))

    def refuse(self, seq: int, values: Values, fault: DesignError) -> None:
        """Tells the faults at the boxes, with the nearest that can be."""
        assert self.opened is not None
        nearest = nearest_that_can_be(self.opened, self.values, values)
        moved = [place for place in values if values[place] != self.values.get(place)]
        faults = []
        for told, problem in zip(faults_json(fault), fault.problems, strict=True):
            place = problem.where if problem.where in values else moved[0] if len(moved) == 1 else ""
            faults.append({**told, "place": place, "nearest": nearest.get(place)})
        self.line.say({"kind": "refused", "seq": seq, "faults": faults, "nearest": nearest})


def same_joints(cage: Cage, other: Cage) -> bool:
    """Whether the same is joined to the same, so that one can settle from where the other hangs."""
    one, two = cage.connectivity, other.connectivity
    return (
        one.node_count == two.node_count
        and len(cage.cloths) == len(other.cloths)
        and cage.parameters.cloth_length.shape == other.parameters.cloth_length.shape
        and all(
            np.array_equal(getattr(one, name), getattr(two, name))
            for name in ("closed", "edges", "bends", "pulls", "crossing", "anchors")
        )
    )

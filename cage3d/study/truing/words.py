"""Causes, corrections and questions as a maker says them."""

from __future__ import annotations

from cage3d.design.models import Design
from cage3d.design.routes import BAND, above_table, ways
from cage3d.study.truing.asking import Question
from cage3d.study.truing.causes import DROP, HOOP, MARK, TIE, Cause
from cage3d.study.truing.hanging import WIDTHS
from cage3d.study.truing.mending import Move
from cage3d.units import show_length

WHICH_WAY = {MARK: ("high", "low")}  # of all else: short, long


def cause_in_words(design: Design, cause: Cause, amount: float) -> str:
    """'the mark of hoop 3 on tape 5 is 3/8 in too low'"""
    way = WHICH_WAY.get(cause.what, ("short", "long"))[int(amount > 0.0)]
    return f"{thing_in_words(design, cause)} is {size_in_words(design, amount)} too {way}"


def thing_in_words(design: Design, cause: Cause) -> str:
    hoop, tape = cause.hoop + 1, cause.tape + 1
    if cause.what == MARK:
        return f"the mark of hoop {hoop} on {design.line} {tape}"
    if cause.what == DROP:
        return f"{design.line} {tape} from {above_of(design, cause.tape, cause.hoop)} to hoop {hoop}"
    if cause.what == HOOP:
        return f"hoop {hoop}"
    if cause.what == TIE:
        return tie_in_words(design, cause.number)
    return f"the lace of panel {cause.number + 1} at hoop {hoop}"


def tie_in_words(design: Design, number: int) -> str:
    tie = design.ties[number]
    return f"the {tie.name}" if tie.name else f"tie {number + 1} ({tie.from_} to {tie.to})"


def above_of(design: Design, tape: int, hoop: int) -> str:
    """The upper end of the stretch of a tape to a hoop (both from 0)."""
    above = int(above_table(design)[tape, hoop])
    return "the waistband" if above == BAND else f"hoop {above + 1}"


def size_in_words(design: Design, amount: float) -> str:
    """A length without its sign, to 1/8 in or as the design's units are rounded."""
    return show_length(abs(amount), design.units)


def move_in_words(design: Design, move: Move) -> str:
    """'Move the mark of hoop 3 on tape 5 up by 3/8 in'"""
    cause, size = move.cause, size_in_words(design, move.amount)
    more = move.amount > 0.0
    hoop, tape = cause.hoop + 1, cause.tape + 1
    if cause.what == MARK:
        return f"Move the mark of hoop {hoop} on {design.line} {tape} {'down' if more else 'up'} by {size}"
    if cause.what == DROP:
        along = ", with every mark below" if cause.hoop < ways(design)[cause.tape].hoops[-1] else ""
        return f"{'Let out' if more else 'Take up'} {thing_in_words(design, cause)} by {size}{along}"
    if cause.what == HOOP:
        if design.hoops[cause.hoop].slide is not None:
            return f"Slide hoop {hoop} {'longer' if more else 'shorter'} by {size}"
        stuff = design.steel_of(cause.hoop).made_of.stuff
        return f"Join {size} of {stuff} into hoop {hoop}" if more else f"Cut hoop {hoop} shorter by {size}"
    if cause.what == TIE:
        return f"{'Let out' if more else 'Take in'} {thing_in_words(design, cause)} by {size}"
    return f"Lace panel {cause.number + 1} {'looser' if more else 'tighter'} at hoop {hoop} by {size}"


def place_in_words(design: Design, place: int) -> str:
    """A figure of `Hanging`: 'the height of hoop 3 at tape 5', 'hoop 4 from side to side'."""
    tapes, hoops = design.tapes.count, len(design.hoops)
    if place < tapes * hoops:
        return f"the height of hoop {place // tapes + 1} at {design.line} {place % tapes + 1}"
    hoop, kind = divmod(place - tapes * hoops, len(WIDTHS))
    return f"the width of hoop {hoop + 1} {'from ' + WIDTHS[kind] if kind == 0 else WIDTHS[kind]}"


def question_in_words(design: Design, question: Question) -> str:
    """What to do next at the cage, as an order."""
    if question.kind == "feel":
        hoop, tape = divmod(question.place, design.tapes.count)
        return (
            f"Feel tape {tape + 1} between {above_of(design, tape, hoop)} and hoop {hoop + 1}: loose or taut"
        )
    return f"Measure {place_in_words(design, question.place)}{' again' if question.again else ''}"

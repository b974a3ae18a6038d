"""What was found wrong with a hung cage and how to mend it, as a maker reads it."""

from __future__ import annotations

import numpy as np
from rich.console import Group, RenderableType
from rich.text import Text

from cage3d.design.models import Design
from cage3d.design.routes import passing, tapes_on
from cage3d.legible import in_signs_of, legible
from cage3d.report.cautions import PREDICTIONS
from cage3d.report.figure_table import FigureTable
from cage3d.steady import percent, steady
from cage3d.study.truing.answer import TrueAnswer
from cage3d.study.truing.mending import Move
from cage3d.study.truing.words import (
    cause_in_words,
    move_in_words,
    question_in_words,
    size_in_words,
    thing_in_words,
)
from cage3d.units import show_length
from cage3d.wording import capital, listed, numbered

WORTH_A_WORD = 0.1  # chance of two errors at once, from which they are told


def answer_view(answer: TrueAnswer, encoding: str = "utf-8") -> Group:
    """Causes with how sure, what cannot be told apart, what to measure next, what to mend."""

    def said(text: str, style: str = "") -> Text:
        return Text(in_signs_of(encoding, legible(text)), style)

    parts: list[RenderableType] = [said(answer.design.name, "bold"), *map(said, reading_lines(answer))]
    parts += [Text(""), said(heading(answer), "bold"), cause_table(answer)]
    parts += [*map(said, verdict_lines(answer)), Text("")]
    if answer.mended is not None:
        parts += [said("What to mend", "bold"), *map(said, mending_lines(answer)), Text("")]
    return Group(*parts, said(PREDICTIONS))


def written_view(
    design: Design, mark: float, hem_off: float, as_before: bool, encoding: str = "utf-8"
) -> Text:
    """What the design that was written gives, a line. The figures (m) are those of `backward.MendedDesign`."""
    told = (
        f"What is left other than written stands in the new design, to {show_length(mark, design.units)}; hung so,"
        f" its hem is {show_length(hem_off, design.units, 1 / 16)} out of its line, without what ordinary sewing does."
    )
    if as_before:
        told = "Mended so, the cage is as it was written: the new design is the old one, with a record to fill in."
    return Text(in_signs_of(encoding, legible(told)))


def heading(answer: TrueAnswer) -> str:
    return "What is likely wrong" if answer.explained else "What comes nearest, and does not fit"


def reading_lines(answer: TrueAnswer) -> list[str]:
    """What was read, what is lacking, what looks like a slip of the pen."""
    readings, design = answer.weighing.readings, answer.design
    tapes, hoops = design.tapes.count, len(design.hoops)
    heights = int((readings.places < tapes * hoops).sum())
    counts = [
        f"{heights} of {np.count_nonzero(passing(design))} heights",
        f"{len(readings.places) - heights} of {2 * hoops} widths",
    ]
    counts += [f"{len(readings.felt)} tapes felt"] if len(readings.felt) else []
    lines = [f"Read: {listed(counts)}, to {show_length(readings.step, design.units, 1 / 16)}."]
    lines += [f"Noticed: {doubt.text}." for doubt in answer.doubts]
    missing = answer.record.heights_missing
    if missing and heights:
        by_hoop = {hoop: [tape + 1 for tape, own in missing if own == hoop] for _, hoop in missing}
        places = [
            f"hoop {hoop + 1}"
            + ("" if len(own) == len(tapes_on(design, hoop)) else f" at {numbered(design.line, own)}")
            for hoop, own in sorted(by_hoop.items())
        ]
        lines.append(f"Lacking: heights of {listed(places)}. With them the answer would be surer.")
    return lines


def cause_table(answer: TrueAnswer) -> FigureTable:
    rows = []
    for place in answer.told:
        size, spread = answer.verdict.size(place)
        cause = answer.verdict.states.causes[place]
        rows.append(
            (
                capital(cause_in_words(answer.design, cause, size)),
                f"±{size_in_words(answer.design, max(spread, step_shown(answer.design)))}",
                how_sure(float(answer.verdict.chances[place])),
            )
        )
    rows.append(("Nothing but ordinary sewing", "", how_sure(answer.verdict.none)))
    return FigureTable(("", "", "How sure"), rows, words=True)


def how_sure(chance: float) -> str:
    """Nobody is quite sure of a cage."""
    if chance > 0.99 or chance < 0.01:
        return "over 99%" if chance > 0.5 else "under 1%"
    return percent(chance)


def step_shown(design: Design) -> float:
    return 0.0254 / 8 if design.units in ("in", "ft") else 0.001


def verdict_lines(answer: TrueAnswer) -> list[str]:
    """How the causes stand to one another, and what would tell more."""
    if not answer.explained:
        return [
            "Nothing explains these readings: no single error, no two together, and no ordinary sewing. Look for a"
            " slip of the pen, or for what the design does not say: a hoop that touches, a band that slid."
        ]
    lines = [*two_at_once(answer), *not_told_apart(answer), *counted_the_other_way(answer)]
    if answer.question is not None:
        asked = question_in_words(answer.design, answer.question)
        lines.append(f"To be surer: {asked}. That would tell most.")
    return lines


def two_at_once(answer: TrueAnswer) -> list[str]:
    """The likeliest pair, where two errors are worth a word."""
    verdict, states = answer.verdict, answer.verdict.states
    if verdict.paired <= WORTH_A_WORD:
        return []
    names = [
        cause_in_words(answer.design, states.causes[states.of[state]], states.sizes[state])
        for state in (verdict.pairs[0].first, verdict.pairs[0].second)
    ]
    return [f"Two errors at once: {percent(verdict.paired)}; likeliest {listed(names)}."]


def not_told_apart(answer: TrueAnswer) -> list[str]:
    lines = []
    for group in answer.groups:
        if len(group) > 1:
            names = [thing(answer, place) for place in group]
            whole = how_sure(min(float(answer.verdict.chances[group].sum()), 1.0))
            lines.append(f"What was read cannot tell these apart: {listed(names)}; one of them: {whole}.")
    return lines


def counted_the_other_way(answer: TrueAnswer) -> list[str]:
    """Which tape the likeliest cause would be on, had they been counted by her right in a cage alike at both sides."""
    first = answer.verdict.states.causes[answer.told[0]] if answer.told else None
    if first is None or first.tape < 0 or not answer.mirrored or answer.mirrored[first.tape] == first.tape:
        return []
    line, other = answer.design.line, answer.mirrored[first.tape] + 1
    return [
        f"{capital(line)}s count by her left: had they been counted by her right, it would be {line} {other}."
    ]


def thing(answer: TrueAnswer, place: int) -> str:
    return thing_in_words(answer.design, answer.verdict.states.causes[place])


def mending_lines(answer: TrueAnswer) -> list[str]:
    """The corrections, and how level the hem then hangs."""
    mended, design = answer.mended, answer.design
    if mended is None:
        return []
    before, after, level = (
        show_length(m, design.units, 1 / 16) for m in (mended.before, mended.after, mended.level)
    )
    if not mended.moves and mended.levels:
        lines = [f"The hem keeps to its line within {before}, and {level} is allowed: nothing needs mending."]
        undone = [move_in_words(design, Move(one.cause, -one.amount)) for one in answer.errors]
        return lines + [f"To hang as written all over: {one[:1].lower()}{one[1:]}." for one in undone]
    lines = [f"{number}. {move_in_words(design, move)}." for number, move in enumerate(mended.moves, start=1)]
    reached = f"The hem is {before} out of its line from lowest to highest; mended so, {after}"
    if mended.levels:
        lines.append(f"{reached}. {capital(level)} is allowed.")
    elif mended.given_up:
        lines.append(f"{reached}. {capital(level)} is allowed; what else would help takes too long to find.")
    elif mended.moves:
        lines.append(f"{reached}. {capital(level)} is allowed, and no more marks bring it there.")
    else:
        lines.append(
            f"The hem is {before} out of its line, {level} is allowed, and nothing that may move levels it."
        )
    if mended.moves and steady(mended.worst - mended.after, 4) > 0.0015:
        worst = show_length(mended.worst, design.units, 1 / 16)
        lines.append(f"Were another of these causes the true one, {worst}: measure what is asked for first.")
    return lines

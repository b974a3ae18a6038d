"""From a design and the record of a fitting to what is likely wrong, what to look at next, and what to mend."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from cage3d.errors import CommandError, Problem
from cage3d.settle import SettledCage, settle
from cage3d.shape.lay_out import lay_out
from cage3d.study.aiming.way_back import usual_step
from cage3d.study.truing.answer import TrueAnswer
from cage3d.study.truing.asking import best_question
from cage3d.study.truing.background import ordinary_sewing
from cage3d.study.truing.causes import DROP, HOOP, MARK, TIE, Cause
from cage3d.study.truing.doubts import undoubted
from cage3d.study.truing.hanging import hanging_of
from cage3d.study.truing.judging import Verdict, Weighing, judged
from cage3d.study.truing.mending import LEVEL, Bench, Move, mended, stories_of
from cage3d.study.truing.mirror import mirror_of
from cage3d.study.truing.record import Record
from cage3d.study.truing.signatures import NODES, Signatures
from cage3d.study.truing.states import states_of
from cage3d.wording import nearest


@dataclass(frozen=True)
class Limits:
    """What may be mended, and how level the hem must be (m)."""

    keep: Sequence[str] = ()  # what cannot be moved any more, by name
    level: float = LEVEL


def trued(
    settled: SettledCage,
    record: Record,
    signatures: Signatures,
    limits: Limits,
    told: Callable[[str], object] = lambda _what: None,
) -> TrueAnswer:
    """The record weighed against the cage as written, which is trusted.

    Raises CommandError for a name in `keep` that is none.
    """
    design = settled.cage.design
    movable = [not kept for kept in kept_causes(signatures.causes, limits.keep, design.line)]
    told("weighing what was read")
    states = states_of(signatures)
    weighing = Weighing(hanging_of(settled), ordinary_sewing(settled), record.readings)
    weighing, doubts = undoubted(weighing, states, design)
    verdict, mirror = judged(weighing, states), mirror_of(settled.cage)
    answer = TrueAnswer(
        design,
        record,
        weighing,
        verdict,
        tuple(doubts),
        best_question(weighing, verdict, feeling=design.cloth is None),
        None,
        mirrored=tuple(mirror.tapes.tolist()) if mirror is not None else (),
    )
    if not answer.explained:
        return answer
    return with_mending(answer, movable, limits, told)


def with_mending(
    answer: TrueAnswer, movable: Sequence[bool], limits: Limits, told: Callable[[str], object]
) -> TrueAnswer:
    """The same answer with the corrections that level the hem."""
    told("looking for what to mend")
    design, verdict = answer.design, answer.verdict
    planned = settle(lay_out(design, NODES))
    bench = Bench(planned, verdict.states.causes, movable, usual_step(design), limits.level, told)
    stories, errors = stories_of(bench, answer.weighing, verdict), errors_of(verdict)
    if not stories:
        return answer
    return replace(answer, mended=mended(bench, stories, errors), errors=tuple(errors))


def errors_of(verdict: Verdict) -> list[Move]:
    """What the likeliest explanation says is wrong: nothing, one error or two.

    One is as large as it is told: where a tape hangs slack any size fits, and the likeliest state may be the least.
    """
    states = verdict.states
    best = max(range(len(states.causes)), key=lambda place: round(float(verdict.alone[place]), 9))
    pair = verdict.pairs[0] if verdict.pairs else None
    if pair is not None and pair.chance > max(verdict.none, float(verdict.alone[best])):
        parts = [pair.first, pair.second]
    else:
        return (
            [] if verdict.none > verdict.alone[best] else [Move(states.causes[best], verdict.size(best)[0])]
        )
    return [Move(states.causes[states.of[state]], float(states.sizes[state])) for state in parts]


def kept_causes(causes: Sequence[Cause], keep: Sequence[str], line: str = "tape") -> list[bool]:
    """(K,) whether it is kept. line: 'tape' or 'seam'. Raises CommandError for a name that is none."""
    names = [cause_name(cause, line) for cause in causes]
    kept = [False] * len(causes)
    for name in keep:
        asked = " ".join(name.lower().split())
        found = [place for place, known in enumerate(names) if f" {asked} " in f" {known} "]
        if not found:
            like = nearest(asked, {part for known in names for part in parts_of(known)})
            try_this = f"Write {like}" if like else f"Write hoop 2, {line} 5, hoop 2 {line} 5 mark, tie 1"
            raise CommandError(Problem("--keep", name, "the cage has no such mark, hoop or tie", try_this))
        for place in found:
            kept[place] = True
    return kept


def parts_of(name: str) -> set[str]:
    words = name.split()
    return {" ".join(words[:count]) for count in (2, 4, len(words))}


def cause_name(cause: Cause, line: str) -> str:
    """'hoop 3 tape 5 mark', 'hoop 3 seam 5 mark', 'hoop 3 tape 5 drop', 'hoop 3 length', 'tie 1', 'panel 1 hoop 2'."""
    hoop = f"hoop {cause.hoop + 1}"
    if cause.what in (MARK, DROP):
        return f"{hoop} {line} {cause.tape + 1} {cause.what}"
    if cause.what == HOOP:
        return f"{hoop} length"
    return f"tie {cause.number + 1}" if cause.what == TIE else f"panel {cause.number + 1} {hoop}"

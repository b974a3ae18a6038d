"""What was found wrong with a hung cage, as JSON."""

from __future__ import annotations

from typing import Any

from cage3d.steady import steady
from cage3d.study.truing.answer import TrueAnswer
from cage3d.study.truing.causes import Cause
from cage3d.study.truing.words import (
    cause_in_words,
    move_in_words,
    question_in_words,
)


def answer_json(answer: TrueAnswer) -> dict[str, Any]:
    """Lengths in m, hoops and tapes from 1."""
    verdict, record = answer.verdict, answer.record
    return {
        "explained": answer.explained,
        "heights_not_read": [{"hoop": hoop + 1, "tape": tape + 1} for tape, hoop in record.heights_missing],
        "read_to_m": rounded(record.readings.step),
        "noticed": [{"kind": doubt.kind, "text": doubt.text} for doubt in answer.doubts],
        "nothing_wrong": rounded(verdict.none, 4),
        "two_errors": rounded(verdict.paired, 4),
        "causes": [cause_json(answer, place) for place in answer.told],
        "not_told_apart": [
            [answer.told.index(place) for place in group] for group in answer.groups if len(group) > 1
        ],
        "ask": question_json(answer),
        "mending": mending_json(answer),
    }


def rounded(value: float, digits: int = 5) -> float:
    return steady(value, digits)


def named(cause: Cause) -> dict[str, Any]:
    return {
        "what": cause.what,
        "tape": cause.tape + 1 if cause.tape >= 0 else None,
        "hoop": cause.hoop + 1 if cause.hoop >= 0 else None,
        "number": cause.number + 1 if cause.number >= 0 else None,
    }


def cause_json(answer: TrueAnswer, place: int) -> dict[str, Any]:
    cause, (size, spread) = answer.verdict.states.causes[place], answer.verdict.size(place)
    return named(cause) | {
        "change_m": rounded(size),
        "spread_m": rounded(spread),
        "probability": rounded(float(answer.verdict.chances[place]), 4),
        "text": cause_in_words(answer.design, cause, size),
    }


def question_json(answer: TrueAnswer) -> dict[str, Any] | None:
    question = answer.question
    if question is None:
        return None
    return {
        "kind": question.kind,
        "text": question_in_words(answer.design, question),
        "again": question.again,
        "bits": rounded(question.bits, 3),
    }


def mending_json(answer: TrueAnswer) -> dict[str, Any] | None:
    mended = answer.mended
    if mended is None:
        return None
    return {
        "allowed_m": rounded(mended.level),
        "hem_off_m": rounded(mended.before),
        "mended_off_m": rounded(mended.after),
        "worst_off_m": rounded(mended.worst),
        "levels": mended.levels,
        "corrections": [
            named(move.cause) | {"move_m": rounded(move.amount), "text": move_in_words(answer.design, move)}
            for move in mended.moves
        ],
    }

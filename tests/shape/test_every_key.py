"""Every key of a design against a figure worked out by hand: see `hand`."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, get_args

import pytest
from hand import cloth, making, sewn, steel, wanted, wearer
from hand.cage import Figure, agrees, laid_out
from pydantic import BaseModel

from cage3d.design.models import Design

FIGURES = [
    *wearer.WEARER,
    *steel.STEEL,
    *sewn.TAPES,
    *sewn.HOOPS,
    *sewn.PULLS,
    *cloth.GORES,
    *making.SKIRT,
    *making.PLACE,
    *making.BUYING,
    *making.WHOLE,
    *wanted.WANTED,
]


def models_in(annotation: Any) -> set[type[BaseModel]]:
    """The models a value of this type may be made of."""
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return {annotation}
    return {model for part in get_args(annotation) for model in models_in(part)}


def keys_of(model: type[BaseModel], before: str = "") -> Iterator[str]:
    """'steel.width' and so on; a key that may be written as one value or as keys of its own is both."""
    for name, field in model.model_fields.items():
        key, inner = f"{before}{field.alias or name}", models_in(field.annotation)
        for one in inner:
            yield from keys_of(one, f"{key}.")
        if not inner:
            yield key


def test_no_key_is_left_out() -> None:
    known = {figure.key for figure in FIGURES}
    written = set(keys_of(Design))
    assert written - known == set()
    parents = {key.rpartition(".")[0] for key in written}
    assert known - written <= parents


@pytest.mark.parametrize("figure", FIGURES, ids=lambda figure: figure.key)
def test_a_key_does_what_is_worked_out_by_hand(figure: Figure) -> None:
    found = figure.ask(laid_out(figure.changes))
    assert agrees(found, figure.answer, figure.near), f"{found} and not {figure.answer}"


@pytest.mark.parametrize("figure", FIGURES, ids=lambda figure: figure.key)
def test_without_the_key_it_is_another_figure(figure: Figure) -> None:
    """Or the test above could not fail."""
    assert not agrees(figure.ask(laid_out({})), figure.answer, figure.near)

"""What all parts of a design share, and keys that may be written in one of several forms.

A tag beginning with @ tells the form; it shows up in the place of a fault, and
`design.faults` takes it out again.
"""

from __future__ import annotations

from typing import Annotated, Any, ClassVar

from pydantic import (
    BaseModel,
    ConfigDict,
    Discriminator,
    SerializerFunctionWrapHandler,
    Tag,
    model_serializer,
)


class Written(BaseModel):
    """A mapping in the design: unknown keys are faults, values never change once read."""

    model_config = ConfigDict(extra="forbid", frozen=True, populate_by_name=True)


class LaterKeys(Written):
    """A mapping that has gained keys: one that does not use them is told by the same text as ever.

    Folders of results, sheets and fitting records know a design by a print of that text.
    """

    later: ClassVar[frozenset[str]] = frozenset()

    @model_serializer(mode="wrap")
    def _without_unused(self, told: SerializerFunctionWrapHandler) -> dict[str, Any]:
        fields = type(self).model_fields
        unused = {key for key in self.later if getattr(self, key) == fields[key].default}
        names = {fields[key].alias or key for key in unused} | unused
        return {key: value for key, value in told(self).items() if key not in names}


def form(mapping: str = "@value", many: str = "@value", word: str = "@value") -> Discriminator:
    """Which of its forms a value is written in: a mapping, a list, a plain word or a measure."""

    def which(written: Any) -> str:
        if written is None:
            return "@nothing"
        if isinstance(written, (dict, BaseModel)):
            return mapping
        if isinstance(written, (list, tuple)):
            return many
        is_word = isinstance(written, str) and not any(sign.isdigit() for sign in written)
        return word if is_word else "@value"

    return Discriminator(which)


Nothing = Annotated[None, Tag("@nothing")]

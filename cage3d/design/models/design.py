"""A whole written design: its parts, its name, and the unit of its bare lengths."""

from __future__ import annotations

from typing import Annotated, Any, ClassVar, Literal

from pydantic import Tag, model_validator

from cage3d.design.forms import LaterKeys, Nothing, form
from cage3d.design.models.around import Buying, Hem, Printing, Stage
from cage3d.design.models.cage import Hoop, Panel, Tapes, Tie
from cage3d.design.models.gores import Gores, Seams
from cage3d.design.models.skirt import Skirt
from cage3d.design.models.steel import Steel
from cage3d.design.models.wanted import WantedHoop
from cage3d.design.models.wearer import Padding, Waistband, Wearer
from cage3d.design.texts import AsUnit, Name, Text
from cage3d.wording import listed

NO_TAPES = Seams.model_construct(count=0, drops=())  # until the cloth is read


class Design(LaterKeys):
    """A whole written design, in SI units.

    Where `cloth` carries the hoops, `tapes` are its seams (`Gores.seams_as_tapes`).
    """

    later: ClassVar[frozenset[str]] = frozenset({"cloth"})

    name: Name
    production: Text | None = None
    notes: Text | None = None
    units: Annotated[Literal["in", "ft", "mm", "cm", "m"], AsUnit] | None = None
    wearer: Wearer
    waistband: Waistband = Waistband()
    padding: tuple[Padding, ...] = ()
    steel: Steel
    tapes: Tapes
    cloth: Gores | None = None
    hoops: tuple[Hoop, ...]
    ties: tuple[Tie, ...] = ()
    panels: tuple[Panel, ...] = ()
    skirt: Annotated[
        Annotated[Skirt, Tag("@one")] | Annotated[tuple[Skirt, ...], Tag("@several")] | Nothing,
        form(mapping="@one", many="@several"),
    ] = None
    hem: Hem = Hem()
    wanted: tuple[WantedHoop, ...] = ()
    stage: Stage = Stage()
    buying: Buying = Buying()
    printing: Printing = Printing()

    @model_validator(mode="before")
    @classmethod
    def _seams_for_tapes(cls, written: Any) -> Any:
        """A design of cloth writes no tapes: a place is kept for its seams."""
        of_cloth = isinstance(written, dict) and "cloth" in written and "tapes" not in written
        return {**written, "tapes": NO_TAPES} if of_cloth else written

    @model_validator(mode="after")
    def _seams_in_place(self) -> Design:
        if self.cloth is not None and self.tapes is NO_TAPES:
            object.__setattr__(self, "tapes", self.cloth.seams_as_tapes())
        return self

    def __repr__(self) -> str:
        return f"Design('{self.name}', {len(self.hoops)} hoops, {self.tapes.count} {self.line}s)"

    __str__ = __repr__

    @property
    def line(self) -> str:
        """What her eye follows down the cage, and its tables count: 'tape', or 'seam' of cloth."""
        return "tape" if self.cloth is None else "seam"

    @property
    def band_opens(self) -> Literal["front", "back"]:
        """Where the band opens and its buckle sits: where the hoops open, at centre front, and else at centre back."""
        return "front" if any(hoop.opening == "front" for hoop in self.hoops) else "back"

    @property
    def skirts(self) -> tuple[Skirt, ...]:
        """All that hang on the cage, from the innermost."""
        if self.skirt is None:
            return ()
        return self.skirt if isinstance(self.skirt, tuple) else (self.skirt,)

    @property
    def slides(self) -> tuple[int, ...]:
        """Hoops (from 0) whose join slides."""
        return tuple(number for number, hoop in enumerate(self.hoops) if hoop.slide is not None)

    def slid(self, longest: bool) -> Design:
        """The design with every hoop whose join slides at its shortest, or at its longest, and made fast there."""
        hoops = [
            hoop if slide is None else hoop.slid_to(slide.most if longest else slide.least)
            for hoop in self.hoops
            for slide in [hoop.slide]
        ]
        return self.model_copy(update={"hoops": tuple(hoops)})

    @property
    def stuff(self) -> str:
        """What its hoops are made of, in the middle of a sentence: 'steel', 'cane', 'steel and plastic'."""
        every = (self.steel_of(hoop).made_of.stuff for hoop in range(len(self.hoops)))
        return listed(list(dict.fromkeys(every)))

    def steel_of(self, hoop: int) -> Steel:
        """The strip of hoop `hoop` (from 0): the design's steel with the hoop's own figures over it."""
        return self.steel.over(self.hoops[hoop].steel.model_dump(exclude_none=True))

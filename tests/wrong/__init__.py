"""Every wrong input a maker is likely to write, by its name: what is replaced, and what is then said."""

from __future__ import annotations

from wrong.cage import CAGE
from wrong.case import Wrong
from wrong.costs import COSTS
from wrong.ties import TIES
from wrong.wearer import WEARER
from wrong.writing import WRITING

WRONG: dict[str, Wrong] = WRITING | WEARER | CAGE | TIES | COSTS

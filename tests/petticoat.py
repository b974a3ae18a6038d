"""A short petticoat as a maker writes it, and what is said when something in it is wrong."""

from __future__ import annotations

import pytest

from cage3d.design.read import read_text
from cage3d.errors import DesignError, Problem

# Line numbers in tests count from this text; each case changes one thing in it.
GOOD = """\
name: Short petticoat
units: in
wearer:
  waist: 26
  waist_height: 41 1/2
steel: {width: 7 mm, thickness: 0.5 mm}
tapes:
  count: 8
  drops: [8 1/4, 6, 5 1/2, 5]
hoops:
  - {length: 48}
  - {length: 60}
  - {length: 69}
  - {length: 74}
"""


def problems_of(text: str) -> tuple[Problem, ...]:
    with pytest.raises(DesignError) as caught:
        read_text(text, "petticoat.yaml")
    return caught.value.problems

"""A shape is sought among cages whose tapes span their steps: others would be refused when the design is read."""

from __future__ import annotations

import numpy as np
import pytest
from settled import sample_path

from cage3d.design.read import read
from cage3d.study.aiming.freedom import Freedom
from cage3d.study.aiming.search import Search
from cage3d.study.budget import Budget
from cage3d.study.numbers import number_names
from cage3d.units import INCH


@pytest.mark.parametrize(("shorter", "spanned"), [(0.0, True), (0.05, True), (0.25, False), (1.0, False)])
def test_a_drop_that_its_hoop_cannot_be_reached_by_is_out_of_bounds(shorter: float, spanned: bool) -> None:
    """By hand. The fan's hoop 2, made 8 in longer, is 12 / (2 pi) = 1.91 in wider all round than hoop 1, which it meets
    at the front. At a tape 0.18 of the girth on they are 2 x 1.91 sin(0.18 pi) = 2.05 in apart; its drop is 2 1/8 in.
    """
    design = read(sample_path("j"))
    names = number_names(design)
    way = np.zeros((len(names), 1))
    way[names.index("hoop 2 length")] = 8.0 * INCH
    way[[names.index("tape 2 drop 2"), names.index("tape 7 drop 2")]] = -shorter * INCH
    search = Search(design, Freedom(("both",), way), (), 48, 1e-3, str, Budget())
    assert search.in_bounds(np.ones(1)) is spanned

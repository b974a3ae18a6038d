"""How far a step of Newton's goes: when it is whole, and when it is shortened; worked by hand."""

from __future__ import annotations

from dataclasses import dataclass, field
from types import SimpleNamespace
from typing import Any, cast

import numpy as np
import pytest

from cage3d.settle.newton import search_along


@dataclass
class Valley:
    """A node on a line, its energy a function of x; what search and descent ask of a trial."""

    x: float
    energies: Any
    slopes: Any
    asked: list[float] = field(default_factory=list)

    def __post_init__(self) -> None:
        self.posture = SimpleNamespace(positions=np.array([[self.x, 0.0, 0.0]]))
        self.model = SimpleNamespace(weight=np.array([0.0]))
        self.energy = float(self.energies(self.x))
        self.gradient = np.array([float(self.slopes(self.x))])

    def moved(self, step: np.ndarray) -> Valley:
        self.asked.append(float(step[0]))
        return Valley(self.x + float(step[0]), self.energies, self.slopes)


def valley(x: float, energies: Any, slopes: Any) -> Any:
    return cast(Any, Valley(x, energies, slopes))


@pytest.mark.parametrize(
    ("step", "share"),
    [(-1.0, 1.0), (-1.9, 1.0), (-2.1, 1 / 2.1), (-3.0, 1 / 3.0), (-4.1, 0.3), (-20.0, 0.09)],
)
def test_a_step_is_shortened_until_the_energy_falls(step: float, share: float) -> None:
    """From 1 in x squared: a step that lands nearer to nothing is taken; a longer one goes to nothing, the lowest
    place, or is shortened to three tenths as often as it takes.
    """
    taken, further = search_along(valley(1.0, lambda x: x * x, lambda x: 2 * x), np.array([step]))
    assert (taken, further.x) == (pytest.approx(share), pytest.approx(1.0 + share * step))


def test_twelve_shortenings_are_tried() -> None:
    """Uphill all along, as by a cliff: each try a half to three tenths of the one before."""
    uphill = valley(1.0, lambda x: 0.0 if x == 1.0 else 1.0, lambda _x: 1.0)
    taken, same = search_along(uphill, np.array([-1.0]))
    assert (taken, same is uphill) == (0.0, True)
    # A parabola of slope -1 and rise 1 at the end s is lowest at s^2 / (2 (1 + s)): under three tenths of every s.
    assert uphill.asked == pytest.approx([-(0.3**n) for n in range(12)])


@pytest.mark.parametrize(("after", "share"), [(-0.4, 1.0), (-0.6, 0.5), (0.5, 1.0)])
def test_near_rest_the_slope_decides(after: float, share: float) -> None:
    """Where the gain drowns in rounding (1e-13 of energy, weight times height and one), the slope may have turned up
    again by half of what it was.
    """
    shallow = valley(1.0, lambda _x: 5.0, lambda x: 1e-14 * (1.0 if x == 1.0 else after if x == 0.0 else 0.1))
    taken, _ = search_along(shallow, np.array([-1.0]))
    assert taken == share


def test_what_rounding_hides_grows_with_energy_and_weight() -> None:
    """A slope of 2e-12 J is told apart from rounding at 1 J, not at 100 J, nor under 10 N a metre up for 1e13."""
    for energy, weight, hidden in ((1.0, 0.0, False), (100.0, 0.0, True), (1.0, 100.0, True)):
        # The energy rises, the slope says it may: only what drowns in rounding lets the step pass.
        found = valley(1.0, lambda x, e=energy: e + (1e-9 if x != 1.0 else 0.0), lambda _x: 2e-12)
        found.model.weight = np.array([weight])
        found.posture.positions = np.array([[1.0, 0.0, 1.0]])
        taken, _ = search_along(found, np.array([-1.0]))
        assert (taken > 0.0) is hidden, (energy, weight)


@pytest.mark.parametrize(
    ("rise", "after", "taken"), [(1e-10, 0.1, 1.0), (1e-10, -0.6, 0.0), (1e-9, 0.1, 0.0)]
)
def test_strings_found_anew_may_lift_the_energy_a_little(rise: float, after: float, taken: float) -> None:
    """A thousandfold of what rounding does (1e-13 of 1 J and one) is let pass where the slope says it goes down."""
    found = valley(
        1.0, lambda x: 1.0 + (rise if x != 1.0 else 0.0), lambda x: 4e-12 * (1.0 if x == 1.0 else after)
    )
    assert search_along(found, np.array([-1.0]))[0] == taken

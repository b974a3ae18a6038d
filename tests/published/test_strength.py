"""The tightest circle that a strip bears without a kink.

Source: beam theory, R = E t / (2 yield stress); worked at E = 200 GPa: 0.5 mm strip 50.0, 41.7
and 33.3 mm at 1000, 1200 and 1500 MPa.
"""

import numpy as np
import pytest
from rigs import ring_on_tapes

from cage3d.report import measure
from cage3d.settle import settle
from cage3d.settle.bends import StripFrames, strain_shares
from cage3d.settle.posture import first_posture
from cage3d.shape.lay_out import lay_out

TABLE = {1000e6: 50.0e-3, 1200e6: 41.7e-3, 1500e6: 33.3e-3}


def strip(stress: float) -> dict[str, float]:
    return {"width": 0.006, "thickness": 0.0005, "modulus": 200e9, "poisson": 0.3, "yield_stress": stress}


@pytest.mark.parametrize("stress", TABLE)
def test_a_circle_of_that_radius_uses_up_the_strip(stress):
    cage = lay_out(ring_on_tapes(2 * np.pi * TABLE[stress], 4, strip(stress)))
    rod = first_posture(cage).rod
    assert strain_shares(cage, StripFrames(rod.tangents, rod.normals, rod.widths)) == pytest.approx(
        1.0, rel=2e-3
    )


def test_the_report_says_the_same():
    report = measure(settle(lay_out(ring_on_tapes(2 * np.pi * 0.4, 8, strip(1200e6)))))
    assert report.hoops[0].strain_used == pytest.approx(41.7 / 400.0, rel=5e-3)
    assert report.hoops[0].smallest_bend_radius_m == pytest.approx(0.4, rel=5e-3)

"""How likely a tape that pulls so much, or hangs so slack, feels loose under a finger."""

from __future__ import annotations

import numpy as np
from scipy.special import expit

from cage3d.shape.arrays import Floats

# Of two hundred cages with one error, sewn with ordinary care and settled: what a tape's pull or slack with the error
# alone tells of the tape as it was sewn. Slack falls out by its sewing, a weak pull too.
EVEN_PULL = 0.05  # N
SLACK_SCALE = 1.5e-3  # m
SLIP = 0.02  # how often a finger is wrong


def chance_loose(pulls: Floats, slack: Floats) -> Floats:
    """(...) between 0 and 1, of pulls (...) N and slack (...) m."""
    certain = np.maximum(slack, 0.0) / SLACK_SCALE + np.log(EVEN_PULL / (np.maximum(pulls, 0.0) + EVEN_PULL))
    return np.asarray(SLIP + (1.0 - 2.0 * SLIP) * expit(certain))

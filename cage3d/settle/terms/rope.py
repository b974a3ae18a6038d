"""Heavy ropes fixed at one end that slide without friction over K places: energy, and its derivatives over the places.

With s_j the spans, d_j their rise, a_j = -d_j/s_j, sigma_j = s_1 + .. + s_j, and w, M, N the weight a length from the
fixed end and its first and second integral, what hangs from the last place being straight down:

    V = M(L) (z_0 + sum d - L + sigma_K) + N(L) + sum_j k_j N(sigma_j),   k_j = a_j - a_j+1,   a_K+1 = 1

A row of fewer places is filled up by repeating its last: such spans have no length, and count as straight down.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from scipy.interpolate import PPoly

from cage3d.shape.arrays import Bools, Floats

UP = np.array([0.0, 0.0, 1.0])
NO_SPAN = 1e-9  # m


@dataclass(frozen=True)
class Rope:
    """R ropes at one posture."""

    line: Floats  # (R, K + 1, 3) m, the fixed end and the places from above
    weight: Floats  # (R,) N
    length: Floats  # (R,) m
    heaviness: PPoly  # weight a length over a rope's share from the fixed end, of mean 1

    @cached_property
    def along(self) -> Floats:
        """(R, K, 3) m."""
        return np.diff(self.line, axis=1)

    @cached_property
    def spans(self) -> Floats:
        """(R, K) m."""
        return np.asarray(np.linalg.norm(self.along, axis=2))

    @cached_property
    def filled(self) -> Bools:
        """(R, K) spans that only fill up a row."""
        return np.asarray(self.spans < NO_SPAN)

    @cached_property
    def over_span(self) -> Floats:
        """(R, K) 1/m; nothing where a row is filled up."""
        return np.divide(1.0, self.spans, out=np.zeros_like(self.spans), where=~self.filled)

    @cached_property
    def tangents(self) -> Floats:
        """(R, K, 3) unit, away from the fixed end; nothing where a row is filled up."""
        return np.asarray(self.along * self.over_span[:, :, None])

    @cached_property
    def steepness(self) -> Floats:
        """(R, K) 1 straight down, 0 level."""
        return np.where(self.filled, 1.0, -self.tangents[:, :, 2])

    @cached_property
    def ends(self) -> Floats:
        """(R, K) m along the rope from the fixed end to each place."""
        return np.cumsum(self.spans, axis=1)

    def from_table(self, integrals: int, times: Floats) -> Floats:
        """(R, K) heaviness at the places, integrated so often, times (R,)."""
        table = self.heaviness.antiderivative(integrals) if integrals else self.heaviness
        return np.asarray(table(self.ends / self.length[:, None]) * times[:, None])

    @cached_property
    def there(self) -> Floats:
        """(R, K) N/m at the places."""
        return self.from_table(0, self.weight / self.length)

    @cached_property
    def down_to(self) -> Floats:
        """(R, K) N from the fixed end down to each place."""
        return self.from_table(1, self.weight)

    @cached_property
    def moments(self) -> Floats:
        """(R, K) N m, the integral of that."""
        return self.from_table(2, self.weight * self.length)

    @cached_property
    def span_weights(self) -> Floats:
        """(R, K) N of each span."""
        return np.diff(self.down_to, axis=1, prepend=0.0)

    @cached_property
    def span_moments(self) -> Floats:
        """(R, K) N m, the growth of the moments over each span."""
        return np.diff(self.moments, axis=1, prepend=0.0)

    @cached_property
    def bends(self) -> Floats:
        """(R, K) by how much steepness falls at each place."""
        below = np.concatenate([self.steepness[:, 1:], np.ones((len(self.spans), 1))], axis=1)
        return np.asarray(self.steepness - below)

    @cached_property
    def energy(self) -> Floats:
        """(R,) J."""
        edge = self.line[:, -1, 2] - self.length + self.ends[:, -1]
        whole = self.weight * self.length * float(self.heaviness.antiderivative(2)(1.0))
        return np.asarray(self.weight * edge + whole + (self.bends * self.moments).sum(axis=1))

    def span_slopes(self, down_to: Floats, span_moments: Floats, weight: Floats) -> tuple[Floats, Floats]:
        """((R, K) N over the spans, (R, K) N over their rises) slopes of the energy, for these integrals."""
        pulls = weight[:, None] + tail_sums(self.bends * down_to)
        mean = span_moments * self.over_span
        return pulls - self.steepness * mean, weight[:, None] - mean

    def point_slopes(self, losses: Floats) -> Floats:
        """(R, K + 1, 3) N, slope of the energy over every place; losses: (R, K) N of pull at each."""
        pulls, rises = self.span_slopes(self.down_to, self.span_moments, self.weight)
        return self.on_points(pulls - tail_sums(losses), rises, self.weight)

    @cached_property
    def point_slopes_with_length(self) -> Floats:
        """(R, K + 1, 3) N/m, how these grow with the rope's length while its weight stays."""
        reach = self.ends / self.length[:, None]
        down_to = -self.there * reach
        moments = self.moments / self.length[:, None] - self.down_to * reach
        none = np.zeros_like(self.weight)
        span_moments = np.diff(moments, axis=1, prepend=0.0)
        return self.on_points(*self.span_slopes(down_to, span_moments, none), none)

    def on_points(self, pulls: Floats, rises: Floats, weight: Floats) -> Floats:
        """(R, K + 1, 3) slopes over the places, of those over spans and rises, and over the fixed end's height."""
        slopes = self.on_spans(pulls, rises)
        slopes[:, 0] += weight[:, None] * UP
        return slopes

    def on_spans(self, pulls: Floats, rises: Floats | None = None) -> Floats:
        """(R, K + 1, 3) slopes over the places, of those over spans and rises alone."""
        vectors = pulls[:, :, None] * self.tangents
        if rises is not None:
            vectors = vectors + rises[:, :, None] * UP
        slopes = np.zeros_like(self.line)
        slopes[:, 1:] += vectors
        slopes[:, :-1] -= vectors
        return slopes

    def point_curves(self, losses: Floats) -> Floats:
        """(R, K, 3, K, 3) N/m, second derivative of the energy over all places but the fixed end."""
        count = self.spans.shape[1]
        spanned, mixed = self.span_curves
        tangents = self.tangents
        curves = np.einsum("rix,ril,rly->rixly", tangents, spanned, tangents, optimize=True)
        rising = np.einsum("ril,rly->rily", mixed, tangents)
        curves[:, :, 2] += rising
        curves[:, :, :, :, 2] += rising.transpose(0, 2, 3, 1)
        pulls = self.span_slopes(self.down_to, self.span_moments, self.weight)[0] - tail_sums(losses)
        flat = np.eye(3) - tangents[:, :, :, None] * tangents[:, :, None, :]
        each = np.arange(count)
        curves[:, each, :, each, :] += ((pulls * self.over_span)[:, :, None, None] * flat).transpose(
            1, 0, 2, 3
        )
        steps = np.eye(count) - np.eye(count, k=-1)  # spans of places
        return np.asarray(np.einsum("ik,rixly,lm->rkxmy", steps, curves, steps, optimize=True))

    @cached_property
    def span_curves(self) -> tuple[Floats, Floats]:
        """((R, K, K) N/m over two spans, (R, K, K) N/m over a rise and a span) of the energy."""
        count = self.spans.shape[1]
        each, over = np.arange(count), self.over_span
        later = np.maximum(each[:, None], each[None, :])
        spanned = tail_sums(self.bends * self.there)[:, later]
        # How a span's moments grow with its own length and with those above it.
        grown = np.tril(np.broadcast_to(self.span_weights[:, :, None], spanned.shape), -1)
        grown[:, each, each] = self.down_to
        leaning = np.where(self.filled, 0.0, -self.steepness * over)[:, :, None] * grown
        spanned = spanned + leaning + leaning.transpose(0, 2, 1)
        spanned[:, each, each] += 2.0 * self.steepness * over**2 * self.span_moments
        mixed = -over[:, :, None] * grown
        mixed[:, each, each] += over**2 * self.span_moments
        return spanned, mixed


def tail_sums(values: Floats) -> Floats:
    """(R, K) of each value and all behind it."""
    return np.asarray(np.cumsum(values[:, ::-1], axis=1)[:, ::-1])

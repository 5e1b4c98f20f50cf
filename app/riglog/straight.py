"""Straight lines through readings, with standard errors that do not trust every row to be news."""

from __future__ import annotations

import math
from typing import Final

import numpy as np

from app.riglog.reading import Floats

_HUBER: Final = 1.345
"""Huber's constant: 95 % as sharp as least squares where nothing is amiss (Ann. Math. Stat. 35, 1964)."""
_ROUNDS: Final = 30
_MAD: Final = 1.4826
"""Median absolute deviation to standard deviation."""
_SETTLED: Final = 1e-10
_LAST_ROUNDS: Final = 4
"""Each leaves less than a tenth of what is off, and at the first that is some five standard errors."""
_MANY: Final = 100_000
"""Rows; of a longer log the fit begins where every twentieth row leaves it, for every round costs."""


def robust_fit(design: Floats, values: Floats) -> tuple[Floats, Floats, Floats]:
    """Return (parameters, their covariance, residuals) of a linear fit in which outliers count little.

    `design` is (n, k). The covariance is widened for neighbouring residuals that are alike: n rows that
    follow each other at correlation r are worth n (1 - r)/(1 + r).
    """
    found: Floats = np.zeros(design.shape[1])
    weights: Floats = np.ones(len(values))
    rounds = _ROUNDS
    if len(values) > _MANY:
        found = robust_fit(design[::20], values[::20])[0]
        weights, rounds = _weights(values - design @ found), _LAST_ROUNDS
    for _ in range(rounds):
        normal = design.T @ (weights[:, None] * design)
        fresh = np.asarray(np.linalg.lstsq(normal, design.T @ (weights * values), rcond=None)[0], dtype=float)
        residuals = values - design @ fresh
        weights = _weights(residuals)
        settled = bool(np.allclose(fresh, found, rtol=_SETTLED, atol=0.0))
        found = fresh
        if settled:
            break
    rows = max(float(weights.sum()) - design.shape[1], 1.0)
    variance = float(np.sum(weights * residuals**2)) / rows * _alike(residuals)
    return found, variance * np.linalg.pinv(design.T @ (weights[:, None] * design)), residuals


def slope_through(x: Floats, y: Floats) -> tuple[float, float] | None:
    """Return the slope of y over x with its standard error, a constant left free; None with too few rows."""
    known = np.isfinite(x) & np.isfinite(y)
    if known.sum() < 10 or float(np.ptp(x[known])) == 0.0:
        return None
    design = np.column_stack([x[known], np.ones(int(known.sum()))])
    found, covariance, _ = robust_fit(design, y[known])
    return float(found[0]), math.sqrt(max(float(covariance[0, 0]), 0.0))


def agreement(x: Floats, y: Floats) -> tuple[float, float, float, float] | None:
    """Return (slope of y over x, its standard error, mean and rms of y - x); None with too few rows."""
    fit = slope_through(x, y)
    if fit is None:
        return None
    apart = (y - x)[np.isfinite(y - x)]
    return *fit, float(apart.mean()), float(np.sqrt(np.mean(apart**2)))


def _weights(residuals: Floats) -> Floats:
    """Return Huber's weights of residuals about their own spread."""
    off = np.abs(residuals)
    spread = max(_MAD * float(np.median(off)), 1e-12)
    return np.minimum(1.0, _HUBER * spread / np.maximum(off, 1e-300))


def _alike(residuals: Floats) -> float:
    """Return by how much variance grows because neighbours are alike."""
    centred = residuals - residuals.mean()
    power = float(centred @ centred)
    if len(residuals) < 3 or power == 0.0:
        return 1.0
    likeness = min(max(float(centred[1:] @ centred[:-1]) / power, 0.0), 0.99)
    return (1.0 + likeness) / (1.0 - likeness)

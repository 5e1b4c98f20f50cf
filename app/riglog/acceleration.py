"""How fast the shaft gathers speed, from a column of its angle or its speed."""

from __future__ import annotations

import math
from typing import Final

import numpy as np
from scipy.fft import irfft, next_fast_len, rfft

from app.riglog.channels import Channels
from app.riglog.reading import Floats

_WINDOW_S: Final = 0.2
_LEAST: Final = 7


def acceleration_rad_s2(log: Channels) -> Floats | None:
    """Return the shaft's angular acceleration at every row, rad/s2; None without time and angle or speed.

    A cubic through 0.2 s about each row (Savitzky and Golay, Anal. Chem. 36, 1964), on even steps of time.
    """
    if not log.has("time") or not (log.has("angle") or log.has("speed")):
        return None
    time = log.of["time"]
    moved = log.of["angle"] if log.has("angle") else log.of["speed"]
    known = np.isfinite(time) & np.isfinite(moved)
    if known.sum() < 4 * _LEAST or np.any(np.diff(time[known]) < 0) or np.ptp(time[known]) == 0.0:
        return None
    time = time.copy()
    time[known] = _spread(time[known])
    step = float(np.median(np.diff(time[known])))
    even = np.arange(time[known][0], time[known][-1] + 0.5 * step, step)
    if len(even) > 4 * len(time):  # a log with long gaps: even steps would not fit in memory
        return None
    width = _odd(min(_WINDOW_S / step, len(even) / 4))
    order = 2 if log.has("angle") else 1
    # by transforms: a window of thousands of rows, as a fast log has, takes seconds otherwise
    kernel = _kernel(width, order, step)
    padded = np.pad(
        np.interp(even, time[known], moved[known]), width // 2, mode="reflect", reflect_type="odd"
    )
    turned: Floats = np.interp(time, even, np.radians(_sliding(padded, kernel)))
    turned[~known] = math.nan
    return turned


def _kernel(width: int, order: int, step: float) -> Floats:
    """Return what a stretch of rows is weighed with for the derivative of its cubic in the middle."""
    half = width // 2
    # on -1 to 1: powers of thousands of rows would drown the cubic in rounding
    along = np.linspace(-1.0, 1.0, width)
    fit = np.linalg.pinv(np.vander(along, 4, increasing=True))
    kernel: Floats = fit[order] * math.factorial(order) / (half * step) ** order
    return kernel


def _sliding(values: Floats, kernel: Floats) -> Floats:
    """Return the kernel's sum over every stretch as long as itself."""
    length = next_fast_len(len(values) + len(kernel) - 1, real=True)
    whole = irfft(rfft(values, length) * rfft(kernel[::-1], length), length)
    sums: Floats = whole[len(kernel) - 1 : len(values)]
    return sums


def _spread(time: Floats) -> Floats:
    """Return times with rows of the same time spread evenly up to the next."""
    firsts = np.flatnonzero(np.diff(time, prepend=-np.inf) > 0)
    if len(firsts) == len(time):
        return time
    pace = (time[-1] - time[0]) / (firsts[-1] or 1)
    rows = np.append(firsts, len(time))
    ends = np.append(time[firsts], time[-1] + pace * (len(time) - firsts[-1]))
    spread: Floats = np.interp(np.arange(len(time)), rows, ends)
    return spread


def _odd(rows: float) -> int:
    return max(2 * int(rows / 2) + 1, _LEAST)

"""What a bracket log says: stiffness and dead band, told apart by two parallel lines.

Past the couple that slips the bolts the casing stands hard against one side of its clearance or the other,
and moves as movement = compliance x couple + middle +- half the dead band. Where it stands goes by which
way it was last pushed hard, so rows pushed hard one way make one line and those
pushed the other way a parallel one.

Glossary
--------
dead band   movement between the two lines: lash, or slip of the bolts in their holes
hard row    one whose couple is past 40 % of the peak; which line it is on is beyond doubt
crossing    a row between the lines: the casing on its way from one side to the other
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final, Literal

import numpy as np

from app.riglog.channels import Channels
from app.riglog.columns import Role
from app.riglog.log_error import LogError
from app.riglog.reading import Floats
from app.riglog.straight import robust_fit
from app.riglog.zero import Zero, zero_of

_HARD: Final = 0.4
_LEAST_HARD: Final = 20
_TWO_WAYS: Final = 0.5
"""Share of the peak that the other way has to reach."""
_SURE: Final = 3.0
"""Standard errors; an estimate within them of nought is not told from nought."""
_MOVES: Final = 4.0
"""Times its own jitter, a gauge has moved."""
_DIGITS: Final = 1e-12

Along = Literal["angle", "gauge"]


@dataclass(frozen=True)
class BracketLog:
    """What was found."""

    log: Channels
    """With the zeros taken off."""
    zero: Zero
    along: Along
    unit: Literal["deg", "mm"]
    couple_nm: Floats
    movement: Floats
    """deg or mm, as read."""
    stiffness: float
    """N.m for each deg, or for each mm at the gauge."""
    stiffness_error: float
    """Standard error."""
    dead_band: float | None
    """From one hard side to the other, in the unit; None where the couple went one way only."""
    dead_band_error: float
    middle: float
    """What the gauge reads midway between the lines at no couple."""
    crossing_nm: float | None
    """Couple, unsigned, at which the casing goes over to the other side; None where no band is told."""
    scatter: float
    """Robust standard deviation of the hard rows about their lines."""
    hard_rows: int
    sentences: tuple[str, ...]

    @property
    def banded(self) -> bool:
        """Return whether a dead band is told from none."""
        return self.dead_band is not None and self.dead_band > _SURE * self.dead_band_error


def read_bracket_log(log: Channels, zero: Mapping[Role, float] | None = None) -> BracketLog:
    """Return what a bracket log says; LogError, in a sentence, where it cannot give a stiffness."""
    along: Along = "angle" if log.has("angle") else "gauge"
    if not log.has(along):
        raise LogError(
            "There is neither gauge nor angle in the log: name one, such as --columns gauge=NAME, or it"
            " cannot give a stiffness."
        )
    found = zero_of(log, zero)
    log = log.less(found.offsets)
    couple = couple_of(log)
    movement = log.of[along]
    known = np.isfinite(couple) & np.isfinite(movement)
    if known.sum() < 2 * _LEAST_HARD:
        raise LogError(
            f"Only {int(known.sum())} rows hold both couple and {along}: {2 * _LEAST_HARD} are needed."
        )
    _refuse_still(couple[known], movement[known], along)
    return _fitted(log, found, along, couple, movement)


def couple_of(log: Channels) -> Floats:
    """Return the couple of every row, N.m; LogError if the log does not hold it."""
    if log.has("couple"):
        return log.of["couple"]
    if log.has("force", "arm"):
        couple: Floats = log.of["force"] * log.of["arm"] / 1000.0
        return couple
    if log.has("output", "input"):
        return np.asarray(log.of["output"] - log.of["input"])
    raise LogError(
        "There is no couple in the log: name it, or force and arm_mm, or output and input, in --columns."
    )


def _refuse_still(couple: Floats, movement: Floats, along: Along) -> None:
    unit = "deg" if along == "angle" else "mm"
    jitter = 1.4826 * float(np.median(np.abs(np.diff(movement)))) / math.sqrt(2.0)
    low, high = np.percentile(movement, [1.0, 99.0])
    # jitter alone spreads 4.7 times its own deviation over that range
    if high - low <= max((4.66 + _MOVES) * jitter, _DIGITS):
        raise LogError(
            f"The {along} moved {high - low:.2g} {unit}, no more than it jitters: a log without movement"
            " cannot give a stiffness. Push harder, or set the gauge further from the shaft."
        )
    shake = 1.4826 * float(np.median(np.abs(np.diff(couple)))) / math.sqrt(2.0)
    bottom, top = np.percentile(couple, [1.0, 99.0])
    if top - bottom <= max((4.66 + _MOVES) * shake, _DIGITS):
        raise LogError(
            f"The couple changes by {top - bottom:.2g} N.m only, no more than it jitters: a log without load"
            " cannot give a stiffness."
        )


def _fitted(log: Channels, zero: Zero, along: Along, couple: Floats, movement: Floats) -> BracketLog:
    known = np.isfinite(couple) & np.isfinite(movement)
    highest, lowest = float(np.nanpercentile(couple, 99.5)), float(np.nanpercentile(couple, 0.5))
    peak = max(highest, -lowest)
    both = min(highest, -lowest) >= _TWO_WAYS * peak
    hard = known & (np.abs(couple) > _HARD * peak)
    if min(int((hard & (couple > 0)).sum()), int((hard & (couple < 0)).sum())) < _LEAST_HARD:
        both = False
    design = np.column_stack([couple, np.ones(len(couple)), np.sign(couple)])[:, : 3 if both else 2]
    if not both:
        hard = known & (np.abs(couple) > _HARD * peak) & (np.sign(couple) == np.sign(highest + lowest))
    if hard.sum() < _LEAST_HARD:
        raise LogError(f"Only {int(hard.sum())} rows are past {_HARD:.0%} of the peak: load more often.")
    found, covariance, residuals = robust_fit(design[hard], movement[hard])
    errors = np.sqrt(np.maximum(np.diag(covariance), 0.0))
    compliance = float(found[0])
    _refuse_slope(compliance, float(errors[0]), along, peak)
    scatter = 1.4826 * float(np.median(np.abs(residuals)))
    band = 2.0 * float(found[2]) if both else None
    error = 2.0 * float(errors[2]) if both else 0.0
    return BracketLog(
        log=log,
        zero=zero,
        along=along,
        unit="deg" if along == "angle" else "mm",
        couple_nm=couple,
        movement=movement,
        stiffness=1.0 / compliance,
        stiffness_error=float(errors[0]) / compliance**2,
        dead_band=band,
        dead_band_error=error,
        middle=float(found[1]),
        crossing_nm=None
        if band is None
        else _crossing(couple, movement - compliance * couple, found, scatter),
        scatter=scatter,
        hard_rows=int(hard.sum()),
        sentences=(*_said(band, error, "deg" if along == "angle" else "mm"), *zero.sentences),
    )


def _refuse_slope(compliance: float, error: float, along: Along, peak_nm: float) -> None:
    if abs(compliance) <= _SURE * error or abs(compliance) * peak_nm <= _DIGITS:
        raise LogError(
            f"The {along} does not follow the couple past its dead band: it cannot give a stiffness. Push"
            f" harder than {peak_nm:.3g} N.m, or set the gauge further from the shaft."
        )
    if compliance < 0:
        raise LogError(
            f"The {along} moves against the couple: its sign is the other way round; say --signs {along}=-"
        )


def _crossing(couple: Floats, sideways: Floats, found: Floats, scatter: float) -> float | None:
    """Return the median couple, unsigned, of the rows midway between the lines."""
    half = float(found[2])
    if half <= _SURE * scatter:
        return None
    known = np.isfinite(couple) & np.isfinite(sideways)
    # a rig that rests before its first push stands in the middle without crossing
    pushed = np.flatnonzero(np.abs(couple) > _HARD * float(np.nanmax(np.abs(couple))))
    known[: pushed[0]] = False
    known[pushed[-1] :] = False
    between = known & (np.abs(sideways - float(found[1])) < 0.5 * half)
    return float(np.median(np.abs(couple[between]))) if between.sum() >= 3 else None


def _said(band: float | None, error: float, unit: str) -> list[str]:
    if band is None:
        return [
            "The couple went one way only, so lash and slip cannot be told from the zero: load both ways for"
            " the dead band."
        ]
    if band < -_SURE * error:
        return [
            "The casing lags behind no dead band but runs ahead of the lines: it gets stiffer with load, or"
            " a channel is delayed; the stiffness is that of the loaded rows."
        ]
    if band <= _SURE * error:
        return [f"No dead band is told from none: less than {max(band + _SURE * error, 0.0):.2g} {unit}."]
    return []

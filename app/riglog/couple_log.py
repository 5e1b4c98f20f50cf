"""What a couple log says: the couple's peak, its cycles, and whether torque meters and load cell agree.

Glossary
--------
slow rows   those where the shaft gathers so little speed that inertia hardly enters: only they are judged
residual    (output - input) - force x arm: nought if both ways of measuring the couple agree
rotor       what turns with the shaft between the meters; its inertia times acceleration is no couple on the
            casing, but a torque meter reads it
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final, Literal

import numpy as np

from app.riglog.acceleration import acceleration_rad_s2
from app.riglog.channels import Channels
from app.riglog.columns import Role
from app.riglog.log_error import LogError
from app.riglog.reading import Flags, Floats
from app.riglog.straight import agreement, slope_through
from app.riglog.zero import Zero, zero_of

_SLOW_SHARE: Final = 0.02
"""Of the peak: what inertia may add in a row that is judged."""
_SLOW_RAD_S2: Final = 2.0
"""Where no inertia can be estimated."""
_SPIKE_ROWS: Final = 5
"""A peak shorter than half of this is taken as a spike."""
_MIDDLE_OF_FIVE: Final = ((0, 1), (3, 4), (0, 3), (1, 4), (1, 2), (2, 3), (1, 2))
"""Pairs to put in order, one after another, until the third of five is the middle one."""
_READ: Final[tuple[Role, ...]] = ("output", "input", "couple", "force", "arm")
_CYCLE_SHARE: Final = 0.3
_LEAST_ROWS: Final = 50
_SURE: Final = 3.0
"""Times its standard error, an inertia is believed."""

Calm = Mapping[Role, Floats]
"""Channels with short spikes taken out."""
Source = Literal["torque meters", "load cell", "couple column"]


@dataclass(frozen=True)
class Peak:
    """The largest couple, with what was read there."""

    couple_nm: float
    """Unsigned."""
    line: int
    output_nm: float | None = None
    input_nm: float | None = None
    force_n: float | None = None
    arm_mm: float | None = None


@dataclass(frozen=True)
class Agreement:
    """Torque meters against load cell, in slow rows."""

    slope: float
    """N.m of output - input for each N.m of force x arm."""
    slope_error: float
    """Standard error."""
    mean_nm: float
    """Of the residual."""
    rms_nm: float


@dataclass(frozen=True)
class RotorInertia:
    """What the fast rows say of the rotor."""

    kg_m2: float
    error_kg_m2: float
    """Standard error."""


@dataclass(frozen=True)
class CoupleLog:
    """What was found. Arrays have a value for each row."""

    log: Channels
    """With the zeros taken off."""
    zero: Zero
    source: Source
    couple_nm: Floats
    """Output - input, or force x arm, short spikes taken out."""
    cell_nm: Floats | None
    """Force x arm, where both were read."""
    slow: Flags
    """Whether a row is judged."""
    fast_known: bool
    """Whether slow and fast rows could be told apart."""
    cycles: int
    peak: Peak
    """Of the rows that are judged."""
    cell_peak: Peak | None
    """Of force x arm over all rows: the casing feels that one whatever the speed."""
    fast_peak_nm: float | None
    """Of the rows that are not judged."""
    agreement: Agreement | None
    inertia: RotorInertia | None

    @property
    def highest(self) -> Peak:
        """Return the peak that becomes the couple: the larger of the two ways of measuring it."""
        if self.cell_peak is not None and self.cell_peak.couple_nm > self.peak.couple_nm:
            return self.cell_peak
        return self.peak


def read_couple(log: Channels, zero: Mapping[Role, float] | None = None) -> CoupleLog:
    """Return what a couple log says; LogError if it holds no couple, or too few rows."""
    if not (log.has("output", "input") or log.has("force", "arm") or log.has("couple")):
        raise LogError(
            "There is no couple in the log: name output and input torque, or force and its arm, such as"
            " --columns output=NAME,input=NAME or --columns force=NAME,arm_mm=250"
        )
    if len(log) < _LEAST_ROWS:
        raise LogError(f"The log has {len(log)} rows; {_LEAST_ROWS} are needed to tell a peak from noise.")
    found = zero_of(log, zero)
    log = log.less(found.offsets)
    calm = {role: _calm(log.of[role]) for role in _READ if log.has(role)}
    meters, cell = _couples(calm)
    couple = meters if meters is not None else cell
    if couple is None or not np.isfinite(couple).any():
        raise LogError(
            "No row of the log holds all that the couple is made of: look for gaps in the columns."
        )
    return _judged(log, calm, found, couple, cell if meters is not None else None)


def _couples(calm: Calm) -> tuple[Floats | None, Floats | None]:
    meters = calm.get("couple")
    if "output" in calm and "input" in calm:
        meters = calm["output"] - calm["input"]
    cell = calm["force"] * calm["arm"] / 1000.0 if "force" in calm and "arm" in calm else None
    return meters, cell


def _judged(log: Channels, calm: Calm, zero: Zero, couple: Floats, cell: Floats | None) -> CoupleLog:
    turning = acceleration_rad_s2(log)
    inertia = None
    if cell is not None and turning is not None:
        fit = slope_through(turning, couple - cell)
        inertia = None if fit is None or abs(fit[0]) < _SURE * fit[1] else RotorInertia(*fit)
    # inertia enters what the meters read and not the cell, so the cell says how large the couple is
    size = float(np.nanmax(np.abs(couple if cell is None else cell)))
    slow = _slow(couple, turning, inertia, size)
    cell_alone = not log.has("output", "input") and not log.has("couple")
    rows = np.isfinite(couple) if cell_alone else slow
    peak = _peak(log, calm, couple, rows)
    both = None if cell is None else agreement(cell[slow], couple[slow])
    fast = np.isfinite(couple) & ~slow
    return CoupleLog(
        log=log,
        zero=zero,
        source="load cell"
        if cell_alone
        else "torque meters"
        if log.has("output", "input")
        else "couple column",
        couple_nm=couple,
        cell_nm=cell,
        slow=slow,
        fast_known=turning is not None,
        cycles=_cycles(couple, peak.couple_nm),
        peak=peak,
        cell_peak=None
        if cell is None or not np.isfinite(cell).any()
        else _peak(log, calm, cell, np.isfinite(cell)),
        fast_peak_nm=float(np.abs(couple[fast]).max()) if fast.any() else None,
        agreement=None if both is None else Agreement(*both),
        inertia=inertia,
    )


def _slow(couple: Floats, turning: Floats | None, inertia: RotorInertia | None, size_nm: float) -> Flags:
    known = np.isfinite(couple)
    if turning is None:
        return known
    limit = _SLOW_RAD_S2
    if inertia is not None:
        limit = _SLOW_SHARE * size_nm / abs(inertia.kg_m2)
    slow: Flags = known & (np.abs(turning) <= limit)
    if not slow.any():
        raise LogError(
            "In no row is the shaft's acceleration small, so inertia cannot be told from couple: turn slower."
        )
    return slow


def _peak(log: Channels, calm: Calm, couple: Floats, rows: Flags) -> Peak:
    row = int(np.nanargmax(np.where(rows, np.abs(couple), np.nan)))

    def at(role: Role) -> float | None:
        return float(calm[role][row]) if role in calm else None

    arm = at("arm")
    return Peak(abs(float(couple[row])), log.table.line_of(row), at("output"), at("input"), at("force"), arm)


def _cycles(couple: Floats, peak_nm: float) -> int:
    """Return how often the couple went one way and then the other, past 30 % of the peak each way."""
    far = np.sign(couple) * (np.abs(couple) > _CYCLE_SHARE * peak_nm)
    far = far[np.isfinite(far) & (far != 0)]
    return int((np.count_nonzero(np.diff(far)) + 1) // 2) if len(far) else 0


def _calm(values: Floats) -> Floats:
    """Return the running median of five rows; a missing reading stays missing."""
    known = np.isfinite(values)
    calm = np.full(len(values), np.nan)
    if known.any():
        read = np.pad(values[known], _SPIKE_ROWS // 2, mode="edge")
        rows = [read[k : len(read) - _SPIKE_ROWS + 1 + k] for k in range(_SPIKE_ROWS)]
        for a, b in _MIDDLE_OF_FIVE:
            rows[a], rows[b] = np.minimum(rows[a], rows[b]), np.maximum(rows[a], rows[b])
        calm[known] = rows[_SPIKE_ROWS // 2]
    return calm

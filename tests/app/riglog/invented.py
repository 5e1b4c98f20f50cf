"""Two invented logs by a stated model: what the fits have to find again.

Both begin and end at rest. Noise is normal; every channel has an offset of its own. Nothing of a real rig is
in them.

Couple log: the couple goes as a sine, slowly for five cycles and then in three fast ones; the shaft's angle
runs with it. The rotor's inertia times acceleration is read by the output meter and not by the load cell.

Bracket log: couple in triangles, four cycles. Movement is compliance x couple and half the dead band to the
side that was last pushed harder than the couple that slips it.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

import numpy as np
from scipy.signal import fftconvolve

from app.riglog.reading import Floats

SEED: Final = 3
_RAMP_S: Final = 1.2


@dataclass(frozen=True)
class CoupleModel:
    """What the couple log is made from."""

    peak_nm: float = 31.0
    input_share: float = 0.12
    """Of the couple: what goes in."""
    inertia_kg_m2: float = 0.045
    arm_mm: float = 250.0
    offset_output_nm: float = 0.42
    offset_input_nm: float = -0.11
    offset_force_n: float = 3.1
    noise_nm: float = 0.08
    noise_n: float = 0.4
    swing_deg: float = 90.0
    slow_s: float = 8.0
    """Of one cycle."""
    fast_s: float = 1.6
    rest_s: float = 4.0
    rate_hz: float = 50.0


@dataclass(frozen=True)
class BracketModel:
    """What the bracket log is made from."""

    peak_nm: float = 45.0
    nm_per_deg: float = 5000.0
    gauge_arm_mm: float = 400.0
    dead_band_mm: float = 0.024
    slip_nm: float = 8.0
    """Couple that takes the casing over to the other side."""
    over_nm: float = 2.0
    """Range of couple in which it goes over."""
    offset_nm: float = 0.6
    offset_mm: float = 0.113
    noise_nm: float = 0.05
    noise_mm: float = 0.0015
    cycle_s: float = 16.0
    cycles: int = 4
    rest_s: float = 4.0
    rate_hz: float = 40.0

    @property
    def nm_per_mm(self) -> float:
        """Return the stiffness at the gauge."""
        return self.nm_per_deg / (math.radians(1.0) * self.gauge_arm_mm)


def couple_log_text(model: CoupleModel | None = None, seed: int = SEED) -> str:
    """Return the couple log as CSV."""
    model = model or CoupleModel()
    random = np.random.default_rng(seed)
    time, phase = _phase(model)
    couple = model.peak_nm * np.sin(phase)
    angle = model.swing_deg * np.sin(phase)
    step = 1.0 / model.rate_hz
    turning = np.radians(np.gradient(np.gradient(angle, step), step))
    inner = model.input_share * couple
    rows = len(time)
    output = inner + couple + model.inertia_kg_m2 * turning
    columns = [
        time,
        output + model.offset_output_nm + random.normal(0, model.noise_nm, rows),
        inner + model.offset_input_nm + random.normal(0, model.noise_nm, rows),
        couple / model.arm_mm * 1000.0 + model.offset_force_n + random.normal(0, model.noise_n, rows),
        angle,
    ]
    head = "time [s],output torque [N.m],input torque [N.m],cell force [N],shaft angle [deg]"
    return _text(head, columns, (2, 3, 3, 2, 2), ",", ".")


def bracket_log_text(model: BracketModel | None = None, seed: int = SEED) -> str:
    """Return the bracket log as CSV, with semicolons and decimal commas as many a rig writes it."""
    model = model or BracketModel()
    random = np.random.default_rng(seed)
    time = np.arange(round((model.cycles * model.cycle_s + 2 * model.rest_s) * model.rate_hz)) / model.rate_hz
    turn = np.clip((time - model.rest_s) / model.cycle_s, 0.0, model.cycles)
    couple = model.peak_nm * 2.0 / math.pi * np.arcsin(np.sin(2.0 * math.pi * turn))
    movement = couple / model.nm_per_mm + model.dead_band_mm / 2.0 * _side(couple, model)
    columns = [
        time,
        couple + model.offset_nm + random.normal(0, model.noise_nm, len(time)),
        movement + model.offset_mm + random.normal(0, model.noise_mm, len(time)),
    ]
    return _text("time [s];couple [N.m];dial gauge [mm]", columns, (3, 3, 4), ";", ",")


def _phase(model: CoupleModel) -> tuple[Floats, Floats]:
    """Return times and the phase of the swing, whose pace changes smoothly: no shaft starts in no time."""
    moving = 5 * model.slow_s + 3 * model.fast_s
    time = np.arange(round((moving + 2 * model.rest_s) * model.rate_hz)) / model.rate_hz
    into = time - model.rest_s
    slow = (into >= 0.0) & (into < 5 * model.slow_s)
    fast = (into >= 5 * model.slow_s) & (into < moving)
    pace = slow / model.slow_s + fast / model.fast_s
    ramp = np.hanning(round(_RAMP_S * model.rate_hz) + 2)
    smooth = fftconvolve(pace, ramp / ramp.sum(), mode="same")
    return time, 2.0 * math.pi * np.cumsum(smooth) / model.rate_hz


def _side(couple: Floats, model: BracketModel) -> Floats:
    """Return -1 to 1 for each row: the side the casing stands on, in the middle at first."""
    side = np.zeros(len(couple))
    at = 0.0
    for row, value in enumerate(couple):
        pushed = (abs(value) - model.slip_nm) / model.over_nm
        reach = min(max(2.0 * pushed - 1.0, -1.0), 1.0)
        at = max(at, reach) if value > 0 else min(at, -reach)
        side[row] = at
    return side


def _text(head: str, columns: list[Floats], places: tuple[int, ...], separator: str, decimal: str) -> str:
    rows = [
        separator.join(f"{value:.{digits}f}" for value, digits in zip(row, places, strict=True))
        for row in zip(*columns, strict=True)
    ]
    body = "\n".join(rows)
    return f"{head}\n{body if decimal == '.' else body.replace('.', decimal)}\n"

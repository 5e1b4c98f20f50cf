"""What a dial gauge on the casing should read when a mass is hung on a lever, one side and then the other.

Glossary
--------
lever          bolted to the casing, level, square to the shaft, out to both sides of it
hang           a mass at one end of the lever: a couple about the shaft, and the mass's own weight beside it
couple's share half the difference of the readings left and right
sag            half their sum: what the weight does whichever side it hangs on
gap at zero    between the readings with nothing hung, after the left and after the right hang: the lash
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Final, Literal

import numpy as np

from geometry.part import Place
from solver.load_cases import NMM_PER_NM, STANDARD_GRAVITY_MM_S2
from solver.results import CasingAnswer, Floats, Results
from solver.rigid import carry, pulled_at

GAUGE_MM: Final = 0.01
"""What a dial gauge may be off by when it is read: one division; common practice, from memory."""
SCATTER_MM: Final = 0.01
"""How far a mass hung by hand once more lets a reading come out elsewhere; common practice, from memory."""
READ_MM: Final = GAUGE_MM + SCATTER_MM
"""What one reading may be off by, all told."""
LEAST_BAND: Final = 0.05
"""No movement is foretold surer than this."""
Side = Literal["left", "right"]


class ProofError(ValueError):
    """A proof that cannot be foretold or worked out, in a sentence."""


@dataclass(frozen=True)
class GaugePlace:
    """Where the gauge's tip touches the casing, and the way it reads as more."""

    at_mm: Place
    along: Place


@dataclass(frozen=True)
class Hang:
    """What is hung, and where: X is right as seen from the wheel, so the left hang turns X toward Y."""

    mass_kg: float
    arm_mm: float
    """From the shaft axis to the cord, level."""
    station_mm: float
    """Of the lever along the shaft."""
    rake_deg: float = 0.0

    @property
    def couple_nm(self) -> float:
        """Return the couple about the shaft axis: a raked shaft takes cos(rake) of mass x g x arm."""
        force_n = self.mass_kg * STANDARD_GRAVITY_MM_S2 / 1000.0
        return force_n * self.arm_mm * math.cos(math.radians(self.rake_deg)) / NMM_PER_NM

    def wrench(self, side: Side, about_mm: Sequence[float] | Floats) -> Floats:
        """Return the (6,) force and moment about a point, N and N.mm."""
        rake = math.radians(self.rake_deg)
        weight = self.mass_kg * STANDARD_GRAVITY_MM_S2 / 1000.0
        at = (-self.arm_mm if side == "left" else self.arm_mm, 0.0, self.station_mm)
        return pulled_at(weight * np.array([0.0, -math.cos(rake), -math.sin(rake)]), at, about_mm)


@dataclass(frozen=True)
class Expected:
    """A band a reading should lie in, mm."""

    low_mm: float
    held_mm: float
    """The high end while every bolt is held by friction."""
    high_mm: float | None
    """The high end with all of them slipped; None where nothing but friction would stop the movement."""
    held_low_mm: float = field(default=-math.inf, compare=False)
    """The low end while held; below it bolts have slipped, where a gauge reads less as the casing turns."""


@dataclass(frozen=True)
class ExpectedReadings:
    """The bands for one card."""

    couple_share: Expected
    sag: Expected
    gap: Expected


def hung_mass_kg(couple_nm: float, arm_mm: float, rake_deg: float = 0.0) -> float:
    """Return the mass whose weight at that arm gives the couple about the shaft; ProofError if none does."""
    if not (couple_nm > 0.0 and arm_mm > 0.0 and abs(rake_deg) < 80.0):
        raise ProofError(
            f"no mass at {arm_mm:g} mm gives {couple_nm:g} N.m on a shaft raked by {rake_deg:g} deg: give a"
            " couple and an arm above zero, and a rake below 80 deg"
        )
    newton_mm = couple_nm * NMM_PER_NM / math.cos(math.radians(rake_deg))
    return newton_mm / arm_mm / (STANDARD_GRAVITY_MM_S2 / 1000.0)


def expected_readings(results: Results, gauge: GaugePlace, hang: Hang) -> ExpectedReadings:
    """Return the bands for couple's share, sag and gap at zero, for a gauge set to nought with the lever on.

    From all stuck, stiffest, to all slipped, softest, with half the lash; wider by the band of the analysis'
    own turn and by READ_MM. ProofError if nothing was solved.
    """
    stuck, slipped = _hung(results, gauge, hang)
    lash, band = _lash_mm(results, gauge), movement_band(results)
    half_lash = None if lash is None else lash / 2.0
    return ExpectedReadings(
        _band([_share(r) for r in stuck], [_share(r) for r in slipped], band, half_lash),
        _band([_sag(r) for r in stuck], [_sag(r) for r in slipped], band, 0.0),
        Expected(0.0, READ_MM, None if lash is None else lash + READ_MM),
    )


@dataclass(frozen=True)
class CoupleShares:
    """The couple's share in each state that was solved, without any width put about it, mm."""

    held_mm: tuple[float, ...]
    slipped_mm: tuple[float, ...] | None
    """None where nothing but friction would stop the movement."""
    half_lash_mm: float


def couple_shares(results: Results, gauge: GaugePlace, hang: Hang) -> CoupleShares:
    """Return what the couple alone makes the gauge read; ProofError if nothing was solved."""
    stuck, slipped = _hung(results, gauge, hang)
    held = tuple(v for v in map(_share, stuck) if v is not None)
    loose = tuple(v for v in map(_share, slipped) if v is not None)
    lash = _lash_mm(results, gauge)
    if not slipped or len(loose) < len(slipped) or lash is None:
        return CoupleShares(held, None, 0.0)
    return CoupleShares(held, loose, lash / 2.0)


def movement_band(results: Results) -> float:
    """Return how far a movement that was computed may be off, as a share of it.

    What the couple leaves open has no part in it: a proof hangs a mass that is known.
    """
    return max([LEAST_BAND, *(c.band_without("couple") for c in results.checks if c.name == "turn")])


def turn_arm_mm(gauge: GaugePlace) -> float:
    """Return how much of a turn about the shaft the gauge sees: mm for each radian."""
    return float(_seen(gauge, np.zeros(3))[5])


def _hung(
    results: Results, gauge: GaugePlace, hang: Hang
) -> tuple[list[tuple[float, float] | None], list[tuple[float, float] | None]]:
    """Return the readings left and right in every stuck state, and in every slipped one."""
    if not results.casing_answers:
        raise ProofError("nothing was solved, so there is nothing to expect: fill the blanks first")
    stuck = [_readings(a, gauge, hang) for a in results.casing_answers if a.taken == "stuck"]
    slipped = [_readings(a, gauge, hang) for a in results.casing_answers if a.taken == "all slipped"]
    return stuck, slipped


def _readings(answer: CasingAnswer, gauge: GaugePlace, hang: Hang) -> tuple[float, float] | None:
    """Return the readings left and right; None where the state cannot hold the hang."""
    loads = [hang.wrench(side, answer.reference_mm) for side in ("left", "right")]
    loose = ~np.array(answer.held)
    if any(np.abs(load[loose]).max(initial=0.0) > 1e-9 * np.abs(load).max() for load in loads):
        return None
    seen = _seen(gauge, answer.reference_mm)
    left, right = (float(seen @ answer.motions @ load) for load in loads)
    return left, right


def _seen(gauge: GaugePlace, about_mm: Floats) -> Floats:
    """Return the (6,) row that turns the casing's motion about a point into the gauge's reading."""
    along = np.asarray(gauge.along, dtype=float)
    row: Floats = (along / np.linalg.norm(along)) @ carry(about_mm, gauge.at_mm)[:3]
    return row


def _lash_mm(results: Results, gauge: GaugePlace) -> float | None:
    lash_deg = 0.0 if results.casing is None else results.casing.lash_deg
    return abs(turn_arm_mm(gauge)) * math.radians(lash_deg) if math.isfinite(lash_deg) else None


def _share(readings: tuple[float, float] | None) -> float | None:
    return None if readings is None else (readings[0] - readings[1]) / 2.0


def _sag(readings: tuple[float, float] | None) -> float | None:
    return None if readings is None else (readings[0] + readings[1]) / 2.0


def _band(
    stuck: Sequence[float | None], slipped: Sequence[float | None], band: float, more_mm: float | None
) -> Expected:
    held = [v for v in stuck if v is not None]
    every = [*held, *(v for v in slipped if v is not None)]
    low = min(every) - band * abs(min(every)) - READ_MM
    high = max(every) + band * abs(max(every)) + READ_MM
    held_low = min(held) - band * abs(min(held)) - READ_MM
    held_high = max(held) + band * abs(max(held)) + READ_MM
    if not slipped or None in slipped or more_mm is None:
        return Expected(low, held_high, None, held_low)
    if math.fsum(held) < 0.0:
        # a gauge that reads less: it loses what the bolts slip by
        return Expected(low - more_mm, held_high, high, held_low)
    return Expected(low, held_high, high + more_mm, held_low)

"""What the solver foretells of a bracket log: a band, never one line.

Its stiff edge has every connection stuck and stiff surroundings; its soft edge has all slipped, soft
surroundings, and the lash of slipped bolts besides.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from app.riglog.bracket_log import BracketLog
from app.riglog.log_error import LogError
from app.riglog.reading import Floats
from app.wording.lash_words import lash_words
from solver.load_cases import NMM_PER_NM
from solver.results import Results

_ABOUT_SHAFT = 5
_LEAST_BAND = 0.02


@dataclass(frozen=True)
class PredictedBand:
    """Between which turns the casing should stand."""

    stiff_nm_per_deg: float
    soft_nm_per_deg: float | None
    """None where slipped bolts leave a free motion: then the lash alone bounds it, or nothing."""
    lash_deg: float
    """Both ways together; inf where nothing bounds it."""

    def stiffness_deg(self, couple_nm: Floats) -> tuple[Floats, Floats]:
        """Return (least, most) turn that stiffness alone allows, signed like the couple."""
        most = (
            np.sign(couple_nm) * math.inf
            if self.soft_nm_per_deg is None
            else couple_nm / self.soft_nm_per_deg
        )
        return couple_nm / self.stiff_nm_per_deg, most

    def turn_deg(self, couple_nm: Floats) -> tuple[Floats, Floats]:
        """Return (least, most) turn away from the middle at each couple but nought, signed like it."""
        least, most = self.stiffness_deg(couple_nm)
        return least, most + np.sign(couple_nm) * self.lash_deg / 2.0


def predicted_band(results: Results) -> PredictedBand:
    """Return the band; LogError where nothing was solved."""
    stuck = [a for a in results.casing_answers if a.taken == "stuck" and a.held[_ABOUT_SHAFT]]
    slipped = [a for a in results.casing_answers if a.taken == "all slipped"]
    if not stuck or results.casing is None:
        raise LogError(
            "The bracket was not solved, so there is no stiffness to hold the log against: mend what its"
            " check says first."
        )

    def turned(motions: Floats) -> float:
        return math.degrees(float(motions[_ABOUT_SHAFT, _ABOUT_SHAFT])) * NMM_PER_NM

    # what the mesh leaves open widens the band like everything else that is not known
    stiffest = min(turned(a.motions) for a in (*stuck, *slipped) if a.held[_ABOUT_SHAFT])
    held = bool(slipped) and all(a.held[_ABOUT_SHAFT] for a in slipped)
    softest = max(turned(a.motions) for a in (*stuck, *slipped)) if held else None
    return PredictedBand(
        (1.0 + _LEAST_BAND) / stiffest,
        None if softest is None else (1.0 - _LEAST_BAND) / softest,
        results.casing.lash_deg,
    )


@dataclass(frozen=True)
class Held:
    """A measured stiffness and dead band beside the band."""

    nm_per_deg: float
    error: float
    dead_band_deg: float | None
    sentences: tuple[str, ...]


def in_degrees(log: BracketLog, gauge_arm_mm: float | None) -> Held:
    """Return the log's stiffness in N.m/deg; LogError for a gauge whose arm nobody told."""
    if log.along == "angle":
        return Held(log.stiffness, log.stiffness_error, log.dead_band, ())
    if gauge_arm_mm is None:
        raise LogError(
            "How far from the shaft axis does the gauge stand, square to the way it reads? Say"
            " --gauge-arm 150"
        )
    per_deg = math.radians(1.0) * gauge_arm_mm
    band = None if log.dead_band is None else log.dead_band / per_deg
    return Held(log.stiffness * per_deg, log.stiffness_error * per_deg, band, ())


def held_against(log: BracketLog, band: PredictedBand, gauge_arm_mm: float | None) -> Held:
    """Return the log's figures with what they say of the band; LogError for a gauge without an arm."""
    found = in_degrees(log, gauge_arm_mm)
    soft = band.soft_nm_per_deg
    told = f"{soft or 0.0:.0f} to {band.stiff_nm_per_deg:.0f} N.m/deg foretold"
    measured = f"Measured {found.nm_per_deg:.0f} N.m/deg (standard error {found.error:.0f})"
    if found.nm_per_deg + 3.0 * found.error < (soft or 0.0):
        said = [
            f"{measured} is softer than the {told}: a bolt is loose, the bar gives, or the plate is thinner."
        ]
    elif found.nm_per_deg - 3.0 * found.error > band.stiff_nm_per_deg:
        said = [
            f"{measured} is stiffer than the {told}: something else holds the casing, or the gauge's"
            " arm is off."
        ]
    else:
        said = [f"{measured} lies within the {told}."]
    if found.dead_band_deg is not None:
        beyond = found.dead_band_deg > band.lash_deg
        said.append(
            f"The dead band of {found.dead_band_deg:.2g} deg is {'more than' if beyond else 'within'} the"
            f" lash of slipped bolts, {lash_words(band.lash_deg)}"
            + (": there is play outside the bracket, or holes are larger than drawn." if beyond else ".")
        )
    return Held(found.nm_per_deg, found.error, found.dead_band_deg, tuple(said))

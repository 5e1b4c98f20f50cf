"""Developed length of a fold: DIN 6935, and the workshop's K-factor.

Glossary
--------
turned angle    how far the sheet is turned out of flat: 0 flat, 90 a square corner
opening angle   beta, between the two legs inside the fold: 180 flat, 90 a square corner
leg             outside length of a panel: to the corner where the outer faces meet, or, if the sheet is
                turned by more than 90 deg, to the tangent square to the leg at the outside of the bend
bend zone       the part of the flat pattern that becomes the bend; its developed width is angle x (r + K t)
deduction       v, what the flat pattern is shorter than the sum of the legs
K               place of the neutral line, as a share of the thickness from the inner face; half of k
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

LEAST_RADIUS_SHARE: Final = 0.1
"""Least inside radius over thickness: below it k has no meaning and a mesh's inner face degenerates."""
SOURCE: Final = "DIN 6935"


class BendError(ValueError):
    """A fold that cannot be developed: angle, radius, thickness or K out of range."""


@dataclass(frozen=True)
class BendAllowance:
    """One fold, developed."""

    turned_deg: float
    inside_radius_mm: float
    thickness_mm: float
    k_factor: float
    """K in force."""
    zone_width_mm: float
    """Developed width of the bend zone."""
    setback_mm: float
    """What each leg loses to the bend: outside length less the straight part."""
    deduction_mm: float
    """v: flat length = sum of the legs - v."""
    source: str

    def straight_mm(self, leg_mm: float) -> float:
        """Return the straight part of a leg, in mm; BendError if the leg ends inside the bend."""
        if not math.isfinite(leg_mm) or leg_mm < self.setback_mm:
            raise BendError(
                f"a leg of {leg_mm:g} mm ends inside the bend, which takes {self.setback_mm:.2f} mm of it: "
                "make the leg longer or the inside radius smaller"
            )
        return leg_mm - self.setback_mm

    def flat_length_mm(self, leg_a_mm: float, leg_b_mm: float) -> float:
        """Return the flat length L = a + b - v of two legs; BendError if a leg ends inside the bend."""
        return self.straight_mm(leg_a_mm) + self.zone_width_mm + self.straight_mm(leg_b_mm)


def opening_angle_deg(turned_deg: float) -> float:
    """Return the opening angle beta of a turned angle; BendError outside 0 to 180."""
    if not 0.0 <= turned_deg <= 180.0:
        raise BendError(f"a fold cannot be turned by {turned_deg:g} deg: give 0 (flat) to 180")
    return 180.0 - turned_deg


def turned_angle_deg(opening_deg: float) -> float:
    """Return the turned angle of an opening angle beta; BendError outside 0 to 180."""
    if not 0.0 <= opening_deg <= 180.0:
        raise BendError(f"a fold cannot open to {opening_deg:g} deg: give 180 (flat) to 0")
    return 180.0 - opening_deg


def din_k(inside_radius_mm: float, thickness_mm: float) -> float:
    """Return DIN 6935's k = 0.65 + 0.5 log10(r/s), 1 above r/s = 5; BendError if r/s is below 0.1."""
    _refuse_tight(inside_radius_mm, thickness_mm)
    ratio = inside_radius_mm / thickness_mm
    return 1.0 if ratio > 5.0 else 0.65 + 0.5 * math.log10(ratio)


def k_factor(inside_radius_mm: float, thickness_mm: float) -> float:
    """Return the workshop K-factor that DIN 6935 amounts to, k/2; BendError if r/s is below 0.1."""
    return din_k(inside_radius_mm, thickness_mm) / 2.0


def zone_width_mm(
    turned_deg: float, inside_radius_mm: float, thickness_mm: float, k: float | None = None
) -> float:
    """Return the bend zone's developed width, angle x (r + K t).

    `k` is the workshop K-factor; None takes DIN 6935. BendError for an angle, radius, thickness or K out of
    range.
    """
    return bend_allowance(turned_deg, inside_radius_mm, thickness_mm, k).zone_width_mm


def bend_allowance(
    turned_deg: float, inside_radius_mm: float, thickness_mm: float, k: float | None = None
) -> BendAllowance:
    """Return the fold developed by DIN 6935, or by a given workshop K-factor.

    The deduction is 2 setback - zone width, which is DIN 6935's v in both its ranges: setback r + s up to an
    opening angle of 90 deg, (r + s) tan((180 - beta)/2) above. Above 165 deg DIN 6935 takes v as nothing;
    here the same formula goes on, so that the flat length stays what the fold map makes of it.
    BendError for an angle, radius, thickness or K out of range.
    """
    beta_deg = opening_angle_deg(turned_deg)
    _refuse_tight(inside_radius_mm, thickness_mm)
    if k is not None and not 0.0 < k < 1.0:
        raise BendError(
            f"the K-factor {k:g} is outside 0 to 1: the neutral line lies in the sheet, usually 0.3 to 0.5"
        )
    share = k_factor(inside_radius_mm, thickness_mm) if k is None else k
    turned = math.radians(turned_deg)
    width = turned * (inside_radius_mm + share * thickness_mm)
    outside_radius = inside_radius_mm + thickness_mm
    setback = outside_radius if beta_deg <= 90.0 else outside_radius * math.tan(turned / 2.0)
    source = SOURCE if k is None else "K-factor given in the file"
    return BendAllowance(
        turned_deg, inside_radius_mm, thickness_mm, share, width, setback, 2.0 * setback - width, source
    )


def _refuse_tight(inside_radius_mm: float, thickness_mm: float) -> None:
    if not (math.isfinite(thickness_mm) and thickness_mm > 0.0):
        raise BendError(f"a sheet cannot be {thickness_mm:g} mm thick: give a thickness above zero")
    if not math.isfinite(inside_radius_mm) or inside_radius_mm < LEAST_RADIUS_SHARE * thickness_mm:
        raise BendError(
            f"an inside radius of {inside_radius_mm:g} mm in {thickness_mm:g} mm sheet is below a tenth "
            f"of the thickness: give at least {LEAST_RADIUS_SHARE * thickness_mm:g} mm"
        )

"""What the brake has to know of each fold: where, how far, radius, K, least leg and die. No Qt.

Least leg and die width are common practice, no source: a die at least 8 t wide and wide enough for the
radius, and a leg that reaches over its edge while it is bent.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from geometry.bend_zones import BendZone, FoldedPattern, folded_pattern
from geometry.flat_pattern import flat_pattern
from geometry.plate import Plate

_DIES_MM: Final = (6, 8, 10, 12, 16, 20, 25, 32, 40, 50, 63, 80, 100, 125, 160, 200, 250)
_DIE_OVER_T: Final = 8.0
_PARALLEL: Final = 1e-6
"""Sine of the angle between two folds that count as parallel."""


@dataclass(frozen=True)
class BendRow:
    """One fold."""

    fold: str
    direction: str
    turned_deg: float
    tool_radius_mm: float
    """The inside radius: the punch's."""
    k_factor: float
    k_source: str
    zone_mm: float
    deduction_mm: float
    legs_mm: tuple[float, float]
    """Outside lengths of both legs, the shorter first, at their longest.

    A leg that ends in another fold parallel to this one reaches to the corner of its outer faces there."""
    least_leg_mm: float
    """Outside; a shorter one falls into the die."""
    die_mm: float
    short: bool
    """Whether what lies on the die is shorter than the die lets it be: of a leg that ends in another fold,
    what is flat of it once that is folded."""


def bend_rows(plate: Plate) -> tuple[BendRow, ...]:
    """Return a row for each fold, in the plate's order; ShapeError for a plate that cannot be folded."""
    folded = folded_pattern(plate, flat_pattern(plate))
    zones: dict[str, list[BendZone]] = {}
    for zone in folded.zones:
        zones.setdefault(zone.fold.name, []).append(zone)
    return tuple(_row(folded, zones[fold.name]) for fold in plate.folds)


def _row(folded: FoldedPattern, zones: Sequence[BendZone]) -> BendRow:
    """Return the row of a fold from its zones, of which it has several where its line has gaps."""
    fold, allowance = zones[0].fold, zones[0].allowance
    legs = sorted(max(_reach_mm(folded, zone, side) for zone in zones) for side in (0, 1))
    flat = min(_straight_mm(folded, zone, side) for zone in zones for side in (0, 1))
    radius, thickness = fold.inside_radius_mm, allowance.thickness_mm
    die = die_width_mm(radius, thickness, fold.angle_deg)
    least = least_leg_mm(die, fold.angle_deg)
    return BendRow(
        fold.name,
        fold.direction,
        fold.angle_deg,
        radius,
        allowance.k_factor,
        allowance.source,
        zones[0].width_mm,
        allowance.deduction_mm,
        (legs[0] + allowance.setback_mm, legs[1] + allowance.setback_mm),
        least,
        die,
        flat + allowance.setback_mm < least,
    )


def die_width_mm(inside_radius_mm: float, thickness_mm: float, turned_deg: float) -> float:
    """Return the width of die: 8 t, or what the bend's outside and a thickness beyond it span, if more."""
    turned = math.radians(min(turned_deg, 90.0))
    span = 2.0 * (inside_radius_mm + thickness_mm) * math.sin(turned / 2.0) + 2.0 * thickness_mm
    wanted = max(_DIE_OVER_T * thickness_mm, span)
    return float(next((die for die in _DIES_MM if die >= wanted - 1e-9), math.ceil(wanted)))


def least_leg_mm(die_mm: float, turned_deg: float) -> float:
    """Return the outside length of leg that still lies on the die's edge at the end of the bend."""
    half_opening = math.radians(180.0 - min(turned_deg, 90.0)) / 2.0
    return die_mm / 2.0 / math.sin(half_opening)


def _straight_mm(folded: FoldedPattern, zone: BendZone, side: int) -> float:
    """Return how far the panel on one side reaches from the tangent line."""
    panel = folded.panels[zone.panels[side]]
    offs = (np.array(panel.exterior.coords) - np.array(zone.middle)) @ np.array(zone.aside)
    reach = offs.max() if side else -offs.min()
    return float(reach) - zone.width_mm / 2.0


def _reach_mm(folded: FoldedPattern, zone: BendZone, side: int) -> float:
    """Return how far the leg on one side reaches from the tangent line, once all is folded."""
    reach = _straight_mm(folded, zone, side)
    way = 1.0 if side else -1.0
    for other in folded.zones:
        across = zone.along[0] * other.along[1] - zone.along[1] * other.along[0]
        if other is zone or zone.panels[side] not in other.panels or abs(across) > _PARALLEL:
            continue
        off = way * float(np.subtract(other.middle, zone.middle) @ np.array(zone.aside))
        flat = off - (zone.width_mm + other.width_mm) / 2.0
        if flat > 0.0:
            reach = max(reach, flat + other.allowance.setback_mm)
    return reach

"""What one connection's friction has to give; light to import, for whoever only tells of bolts."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Grip:
    """What friction can hold at one connection."""

    friction: float
    preload_n: float
    radius_mm: float
    """Friction radius: spin T counts as a shear T / radius."""
    clearance_mm: float
    """How far the bolt can move in its hole from the middle before it comes hard against it."""

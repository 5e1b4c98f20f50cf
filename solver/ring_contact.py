"""A clamped ring: when it opens, what it then asks of its bolt, and the torque its friction holds.

Glossary
--------
ring        the footprint: between the hole (ri) and the edge of what is pressed on (ro)
e           farthest the clamping force may lie from the middle with the whole ring closed (its kernel)
opening     (N + M/e) over the low preload; above 1 the connection opens
pull        N, tension that parts the faces, counted as 0 where it presses them together
tilt        M, moment about an axis in the face
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

SOURCE: Final = "closed form: linear pressure on a ring"


class RingError(ValueError):
    """A ring without breadth, or a load that is no number."""


@dataclass(frozen=True)
class Ring:
    """The ring a bolt clamps."""

    outer_mm: float
    """Outer diameter."""
    inner_mm: float
    """Diameter of the hole in it."""

    def __post_init__(self) -> None:
        """Refuse a ring without breadth; raises RingError."""
        if not (math.isfinite(self.outer_mm) and 0.0 <= self.inner_mm < self.outer_mm):
            raise RingError(
                f"a footprint from {self.inner_mm:g} to {self.outer_mm:g} mm diameter has no ring to clamp: "
                "take a wider washer or a smaller hole"
            )

    @property
    def area_mm2(self) -> float:
        """Return the ring's area."""
        return math.pi / 4.0 * (self.outer_mm**2 - self.inner_mm**2)

    @property
    def kernel_mm(self) -> float:
        """Return e = (ro^2 + ri^2) / (4 ro)."""
        return (self.outer_mm**2 + self.inner_mm**2) / (8.0 * self.outer_mm)

    @property
    def friction_radius_mm(self) -> float:
        """Return the radius friction acts at under even pressure, 2/3 (ro^3 - ri^3) / (ro^2 - ri^2)."""
        ro, ri = self.outer_mm / 2.0, self.inner_mm / 2.0
        return 2.0 / 3.0 * (ro**2 + ro * ri + ri**2) / (ro + ri)


@dataclass(frozen=True)
class Opening:
    """How near a clamped ring is to opening."""

    used: float
    """(N + M/e) / low preload; above 1 the connection opens. Infinite without preload, 0 without load."""
    demand_n: float
    """N + M/e: the preload that would just keep the whole ring closed."""
    preload_n: float
    formula: str
    source: str


def opening(ring: Ring, pull_n: float, tilt_nmm: float, low_preload_n: float) -> Opening:
    """Return how near a ring is to opening under a pull and a tilt; RingError for what is no number."""
    demand = _pull(pull_n) + _size(tilt_nmm) / ring.kernel_mm
    low = _pull(low_preload_n)
    used = demand / low if low > 0.0 else math.inf
    if demand == 0.0:
        used = 0.0
    return Opening(used, demand, low, "(N + M/e) / F_low, e = (ro^2 + ri^2) / 4 ro", SOURCE)


def bolt_tension_n(ring: Ring, pull_n: float, tilt_nmm: float) -> float:
    """Return the tension the bolt is asked for, N + M/ro: the ring tips about its outer edge."""
    return _pull(pull_n) + _size(tilt_nmm) / (ring.outer_mm / 2.0)


def opening_tilt_nmm(ring: Ring, preload_n: float, pull_n: float = 0.0) -> float:
    """Return the tilt at which the ring begins to open, (F - N) e; 0 if the pull alone opens it."""
    return max(0.0, preload_n - _pull(pull_n)) * ring.kernel_mm


def friction_torque_nmm(ring: Ring, friction: float, clamping_n: float) -> float:
    """Return the torque about the bolt's own axis that friction on the ring holds, mu F r."""
    return friction * max(0.0, clamping_n) * ring.friction_radius_mm


def _pull(pull_n: float) -> float:
    return max(0.0, pull_n) if math.isfinite(pull_n) else _no_number(pull_n)


def _size(value: float) -> float:
    return abs(value) if math.isfinite(value) else _no_number(value)


def _no_number(value: float) -> float:
    raise RingError(f"the load on a clamped ring is {value}: give a finite force and moment")

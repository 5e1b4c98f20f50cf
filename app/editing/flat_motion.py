"""A flat pattern turned and shifted in its own plane."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

from geometry.flat_segments import Flat, Floats
from geometry.part import Part
from geometry.plate import Plate

_SAME: float = 1e-9


@dataclass(frozen=True)
class FlatMotion:
    """A turn about the flat origin, then a shift."""

    turn_rad: float
    shift_mm: Flat

    @classmethod
    def bringing(cls, start: Flat, end: Flat, turn: Floats) -> FlatMotion:
        """Return the motion with a (2, 2) turn that brings one place to another; a hair is nothing."""
        angle = math.atan2(float(turn[1, 0]), float(turn[0, 0]))
        angle = 0.0 if abs(angle) < _SAME else angle
        turned = cls(angle, (0.0, 0.0)).of(start)
        shift = tuple(0.0 if abs(e - t) < 1e-7 else e - t for e, t in zip(end, turned, strict=True))
        return cls(angle, (shift[0], shift[1]))

    @property
    def is_nothing(self) -> bool:
        """Whether it leaves everything where it is."""
        return self.turn_rad == 0.0 and self.shift_mm == (0.0, 0.0)

    def is_like(self, other: FlatMotion) -> bool:
        """Return whether two motions are one."""
        near = math.dist(self.shift_mm, other.shift_mm) < 1e-6
        return near and abs(math.remainder(self.turn_rad - other.turn_rad, 2.0 * math.pi)) < 1e-8

    def of(self, place: Flat) -> Flat:
        """Return where a place goes."""
        c, s = math.cos(self.turn_rad), math.sin(self.turn_rad)
        (x, y), (dx, dy) = place, self.shift_mm
        return (c * x - s * y + dx, s * x + c * y + dy)

    def of_plate(self, plate: Plate) -> Plate:
        """Return the plate with its flat pattern moved; the placement is left as it is."""
        if self.is_nothing:
            return plate
        moved: Any = self._moved
        openings = []
        for opening in plate.openings:
            if opening.kind == "cut-out":
                openings.append(
                    opening.but(corners=tuple(moved(c, "at_mm", "arc_via_mm") for c in opening.corners))
                )
            elif opening.kind == "slot":
                turned = opening.angle_deg + math.degrees(self.turn_rad)
                openings.append(moved(opening, "centre_mm").but(angle_deg=turned))
            else:
                openings.append(moved(opening, "centre_mm"))
        return plate.but(
            outline=tuple(moved(corner, "at_mm", "arc_via_mm") for corner in plate.outline),
            openings=tuple(openings),
            folds=tuple(moved(fold, "from_mm", "to_mm") for fold in plate.folds),
        )

    def _moved(self, part: Part, *names: str) -> Part:
        places = {name: getattr(part, name) for name in names}
        return part.but(**{name: None if at is None else self.of(at) for name, at in places.items()})

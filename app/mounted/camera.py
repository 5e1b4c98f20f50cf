"""Where the mounted bracket is looked at from: a parallel projection whose horizon never rolls.

Glossary
--------
azimuth    turn of the eye about the vertical, degrees: 0 stands behind the wheel, 90 to the driver's right
elevation  how far the eye is above the level, degrees
toward     unit vector from the bracket to the eye
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

LEAST_MM_PER_PX: Final = 1e-3
MOST_MM_PER_PX: Final = 1e2
MARGIN: Final = 0.16
"""Share of the picture left free round what is fitted: balloons stand there."""
TURN_DEG_PER_PX: Final = 0.4


@dataclass(frozen=True)
class Camera:
    """A stand of the eye; every change returns another. Pixels count from the picture's top left."""

    rake_deg: float = 0.0
    azimuth_deg: float = -32.0
    elevation_deg: float = 22.0
    centre_mm: tuple[float, float, float] = (0.0, 0.0, 0.0)
    mm_per_px: float = 0.5
    size_px: tuple[int, int] = (700, 450)

    @property
    def axes(self) -> Floats:
        """Return (3, 3) rows: to the right in the picture, up in the picture, and toward the eye."""
        rake = np.radians(self.rake_deg)
        level = np.array([0.0, -np.sin(rake), np.cos(rake)])
        vertical = np.array([0.0, np.cos(rake), np.sin(rake)])
        turn, rise = np.radians(self.azimuth_deg), np.radians(self.elevation_deg)
        outward = np.sin(turn) * np.array([1.0, 0.0, 0.0]) + np.cos(turn) * level
        toward = np.cos(rise) * outward + np.sin(rise) * vertical
        right = np.cos(turn) * np.array([1.0, 0.0, 0.0]) - np.sin(turn) * level
        return np.stack([right, np.cross(toward, right), toward])

    def project(self, points: Floats) -> Floats:
        """Return (n, 3) of places in space: x and y in pixels, and mm toward the eye."""
        off = np.asarray(points, dtype=float).reshape(-1, 3) - np.asarray(self.centre_mm)
        seen: Floats = off @ self.axes.T
        width, height = self.size_px
        seen[:, 0] = seen[:, 0] / self.mm_per_px + width / 2.0
        seen[:, 1] = height / 2.0 - seen[:, 1] / self.mm_per_px
        return seen

    def at_px(self, x_px: float, y_px: float, depth_mm: float = 0.0) -> Floats:
        """Return the place in space (3,) under a pixel, `depth_mm` toward the eye from the centre."""
        width, height = self.size_px
        seen = np.array(
            [(x_px - width / 2.0) * self.mm_per_px, (height / 2.0 - y_px) * self.mm_per_px, depth_mm]
        )
        place: Floats = np.asarray(self.centre_mm) + seen @ self.axes
        return place

    def turned(self, right_px: float, down_px: float) -> Camera:
        """Return the camera after a drag that turns: level stays level, and it stops straight above."""
        azimuth = (self.azimuth_deg - TURN_DEG_PER_PX * right_px + 180.0) % 360.0 - 180.0
        elevation = min(90.0, max(-90.0, self.elevation_deg + TURN_DEG_PER_PX * down_px))
        return replace(self, azimuth_deg=azimuth, elevation_deg=elevation)

    def panned(self, right_px: float, down_px: float) -> Camera:
        """Return the camera after what it shows was moved by so many pixels."""
        width, height = self.size_px
        return self._looking_at(self.at_px(width / 2.0 - right_px, height / 2.0 - down_px))

    def zoomed(self, factor: float, x_px: float, y_px: float) -> Camera:
        """Return the camera `factor` times nearer; the place under the pixel stays under it."""
        nearer = min(MOST_MM_PER_PX, max(LEAST_MM_PER_PX, self.mm_per_px / factor))
        share = nearer / self.mm_per_px
        width, height = self.size_px
        centre = self.at_px(
            x_px + (width / 2.0 - x_px) * share,
            y_px + (height / 2.0 - y_px) * share,
        )
        return replace(self._looking_at(centre), mm_per_px=nearer)

    def fitted(self, points: Floats, top_px: float = 0.0) -> Camera:
        """Return the camera that shows all the places, with a margin; unchanged if there are none.

        `top_px` at the top of the picture are left free for words.
        """
        if len(points) == 0:
            return self
        seen = np.asarray(points) @ self.axes.T
        low, high = seen.min(axis=0), seen.max(axis=0)
        width, height = self.size_px
        top_px = min(top_px, height / 2.0)
        free = np.array([max(width, 1), max(height - top_px, 1)])
        spans = (high - low)[:2] / ((1.0 - 2.0 * MARGIN) * free)
        nearer = min(MOST_MM_PER_PX, max(LEAST_MM_PER_PX, float(spans.max())))
        centre = (low + high) / 2.0 + np.array([0.0, nearer * top_px / 2.0, 0.0])
        return replace(self._looking_at(centre @ self.axes), mm_per_px=nearer)

    def standing(self, toward: Floats) -> Camera:
        """Return the camera looking from the side a vector points to."""
        rake = np.radians(self.rake_deg)
        x, y, z = np.asarray(toward, dtype=float) / np.linalg.norm(toward)
        level, vertical = -np.sin(rake) * y + np.cos(rake) * z, np.cos(rake) * y + np.sin(rake) * z
        elevation = float(np.degrees(np.arcsin(np.clip(vertical, -1.0, 1.0))))
        azimuth = float(np.degrees(np.arctan2(x, level))) if abs(elevation) < 89.99 else 0.0
        return replace(self, azimuth_deg=azimuth, elevation_deg=elevation)

    def sized(self, width_px: int, height_px: int) -> Camera:
        """Return the camera for a picture of another size, showing as much of the shorter side."""
        shorter = min(self.size_px), min(width_px, height_px)
        scale = self.mm_per_px * shorter[0] / max(shorter[1], 1)
        return replace(self, size_px=(max(width_px, 1), max(height_px, 1)), mm_per_px=scale)

    def _looking_at(self, centre: Floats) -> Camera:
        return replace(self, centre_mm=(float(centre[0]), float(centre[1]), float(centre[2])))

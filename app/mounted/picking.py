"""What lies under a pixel, and whether a place is seen: by the projected triangles themselves."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from app.mounted.assembly import Assembly
from app.mounted.camera import Camera
from app.mounted.frame import Frame
from app.mounted.shapes import Floats, Ints, Kind

_NEAR_PX: Final = 6.0
"""A line is picked from this far."""
_PICKED_LINES: Final = ("wheel", "shaft", "kept clear")


@dataclass(frozen=True, eq=False)
class Picked:
    """The thing under a pixel."""

    kind: Kind
    name: str
    at_mm: Floats
    """(3,) in space, as drawn."""
    value: float | None
    """Von Mises stress there, MPa; None off the map."""


@dataclass(frozen=True, eq=False)
class Hit:
    """The nearest triangle under a pixel."""

    triangle: int
    shares: Floats
    """(3,) of its corners."""
    depth_mm: float
    """Toward the eye from the camera's centre."""


class Projection:
    """Triangles as one camera sees them."""

    def __init__(self, camera: Camera, points: Floats, triangles: Ints) -> None:
        """Project them once; each question then costs a comparison of their boxes."""
        self._seen = camera.project(points)
        corners = self._seen[triangles][:, :, :2]
        self._low, self._high = corners.min(axis=1), corners.max(axis=1)
        self._triangles = triangles

    def hit(self, x_px: float, y_px: float) -> Hit | None:
        """Return the nearest triangle under a pixel, None if there is none."""
        place = np.array([x_px, y_px])
        near = np.flatnonzero(((self._low <= place) & (place <= self._high)).all(axis=1))
        if len(near) == 0:
            return None
        corners = self._seen[self._triangles[near]]
        a, b, c = corners[:, 0], corners[:, 1], corners[:, 2]
        whole = _cross(b - a, c - a)
        with np.errstate(divide="ignore", invalid="ignore"):
            second = _cross(place - a[:, :2], c - a) / whole
            third = _cross(b - a, place - a[:, :2]) / whole
            shares = np.stack([1.0 - second - third, second, third], axis=1)
        inside = np.isfinite(shares).all(axis=1) & (shares >= -1e-9).all(axis=1)
        if not inside.any():
            return None
        depths = np.einsum("ki,ki->k", shares, corners[:, :, 2])
        best = int(np.argmax(np.where(inside, depths, -np.inf)))
        return Hit(int(near[best]), shares[best], float(depths[best]))


def picked(assembly: Assembly, frame: Frame, x_px: float, y_px: float) -> Picked | None:
    """Return what lies under a pixel of a frame of the assembly.

    What is see-through is picked only where nothing else is, and lines only where there is neither.
    """
    for faces, surfaces in ((frame.solid, assembly.solid), (frame.see_through, assembly.see_through)):
        hit = Projection(frame.camera, faces.points, faces.triangles).hit(x_px, y_px)
        if hit is None:
            continue
        ends = np.cumsum([len(s.triangles) for s in surfaces])
        number = int(np.searchsorted(ends, hit.triangle, side="right"))
        surface = surfaces[number]
        corners = surface.triangles[hit.triangle - (ends[number - 1] if number else 0)]
        at = hit.shares @ faces.points[faces.triangles[hit.triangle]]
        value = None if surface.values is None else float(hit.shares @ surface.values[corners])
        return Picked(surface.kind, surface.name, at, value)
    for line in assembly.shapes.lines:
        if line.kind in _PICKED_LINES and len(line.ends):
            _, off, at = nearest_line(frame.camera, line.ends, x_px, y_px)
            if off <= _NEAR_PX:
                return Picked(line.kind, line.name, at, None)
    return None


def nearest_line(camera: Camera, ends: Floats, x_px: float, y_px: float) -> tuple[int, float, Floats]:
    """Return the piece (of (k, 2, 3)) that passes nearest to a pixel, how many pixels off, and where."""
    seen = camera.project(ends.reshape(-1, 3)).reshape(-1, 2, 3)[:, :, :2]
    start, way = seen[:, 0], seen[:, 1] - seen[:, 0]
    place = np.array([x_px, y_px])
    square = np.maximum(np.einsum("ki,ki->k", way, way), 1e-12)
    shares = np.clip(np.einsum("ki,ki->k", place - start, way) / square, 0.0, 1.0)
    off = np.linalg.norm(start + shares[:, None] * way - place, axis=1)
    best = int(np.argmin(off))
    at = ends[best, 0] + shares[best] * (ends[best, 1] - ends[best, 0])
    return best, float(off[best]), at


def _cross(a: Floats, b: Floats) -> Floats:
    return np.asarray(a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0])

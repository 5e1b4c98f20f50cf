"""Where the surface of the dash bar is, seen from a hole."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from geometry.bar_section import Angle, Channel, FlatBar, RectangularTube, Round, RoundTube
from geometry.fixing import DashBar

Floats = NDArray[np.float64]


def bar_normal(bar: DashBar, along: Floats, way: Floats) -> Floats:
    """Return the normal of the bar's face that looks at the plate most squarely.

    A round tube has one square to the bar.
    """
    axes = _across_bar(bar, along)
    shares = axes @ way
    if isinstance(bar.section, Round):
        size = float(np.linalg.norm(shares))
        return np.asarray(-(shares @ axes) / size) if size > 1e-9 else axes[1]
    nearest = int(np.argmax(np.abs(shares)))
    return np.asarray(-np.copysign(1.0, shares[nearest]) * axes[nearest])


def has_face(bar: DashBar, normal: Floats) -> bool:
    """Return whether there is metal at the side of the outer box that `normal` looks out of.

    An angle has two such sides, a channel three; anything else has all.
    """
    span = np.subtract(bar.to_mm, bar.from_mm)
    length = float(np.linalg.norm(span))
    if not length > 0.0:
        return True
    across, upward = _across_bar(bar, span / length) @ normal
    if isinstance(bar.section, Angle):
        return bool(max(across, upward) < 0.5)
    return not isinstance(bar.section, Channel) or bool(across < 0.5)


def clamped_of_bar_mm(bar: DashBar, along: Floats, way: Floats) -> float:
    """Return how much of the bar's metal a bolt goes through: a wall, or all of a solid bar that way."""
    if not isinstance(bar.section, FlatBar):
        return bar.section.wall_mm
    sides = bar.section.width_mm, bar.section.height_mm
    return sides[int(np.argmax(np.abs(_across_bar(bar, along) @ way)))]


def depth_to_bar(bar: DashBar, along: Floats, start: Floats, way: Floats) -> float | None:
    """Return how far along `way` the bar's surface lies from `start` (measured from the bar's own start).

    None if passed by.
    """
    axes = _across_bar(bar, along)
    at, step = axes @ start, axes @ way
    if isinstance(bar.section, Round):
        radius = bar.section.outer_mm / 2.0
        square, half, rest = float(step @ step), float(at @ step), float(at @ at) - radius**2
        root = half**2 - square * rest
        if square < 1e-12 or root < 0.0:
            return None
        return (-half - math.sqrt(root)) / square
    halves = np.array([bar.section.width_mm, bar.section.height_mm]) / 2.0
    enters, leaves = -math.inf, math.inf
    for place, move, reach in zip(at, step, halves, strict=True):
        if abs(move) < 1e-9:
            if abs(place) > reach:
                return None
            continue
        near, far = sorted(((-reach - place) / move, (reach - place) / move))
        enters, leaves = max(enters, near), min(leaves, far)
    return enters if math.isfinite(enters) and enters <= leaves else None


def bore_mm(bar: DashBar, axis: Floats) -> float | None:
    """Return how far it is from wall to wall inside a tube for a bolt along `axis`; None of any other bar."""
    section = bar.section
    if isinstance(section, RoundTube):
        return section.outer_mm - 2.0 * section.wall_mm
    if not isinstance(section, RectangularTube):
        return None
    wide = across_face_mm(bar, axis) == section.width_mm
    return (section.height_mm if wide else section.width_mm) - 2.0 * section.wall_mm


def to_edge_mm(bar: DashBar, at_mm: Floats, axis: Floats) -> float:
    """Return how far a bolt is from the ends of the bar, and from the sides of the face it goes through.

    It stands at `at_mm` and runs along `axis`. Below nought beyond them; 0 for a bar of no length.
    """
    start, end = np.asarray(bar.from_mm, dtype=float), np.asarray(bar.to_mm, dtype=float)
    length = float(np.linalg.norm(end - start))
    if not length > 0.0:
        return 0.0
    along = (end - start) / length
    station = float((at_mm - start) @ along)
    return min(station, length - station, to_side_mm(bar, at_mm, axis))


def to_side_mm(bar: DashBar, at_mm: Floats, axis: Floats) -> float:
    """Return how far a bolt is from the sides of the face it goes through; inf of a round bar: it has none.

    It stands at `at_mm` and runs along `axis`. Below nought beyond them.
    """
    if isinstance(bar.section, Round):
        return math.inf
    _, beside = _along_and_beside(bar, axis)
    return across_face_mm(bar, axis) / 2.0 - abs(float((at_mm - np.asarray(bar.from_mm)) @ beside))


def corner_mm(bar: DashBar) -> float:
    """Return how much of a face the rounded corner takes at each side at least; 0 of sharp ones or none.

    Of a cold formed hollow section 1.6 to 2.4 times the wall up to 6 mm, 2 to 3 times above (EN 10219-2, from
    memory, to be verified).
    """
    if not isinstance(bar.section, RectangularTube):
        return 0.0
    wall = bar.section.wall_mm
    return (1.6 if wall <= 6.0 else 2.0) * wall


def across_face_mm(bar: DashBar, axis: Floats) -> float:
    """Return how wide the face is that a bolt along `axis` goes through, square to the bar.

    A round bar's is its diameter. For a bar of no length whichever side of it.
    """
    if isinstance(bar.section, Round):
        return bar.section.outer_mm
    along, beside = _along_and_beside(bar, axis)
    upright = _across_bar(bar, along)[1]
    return bar.section.height_mm if abs(float(beside @ upright)) > math.sqrt(0.5) else bar.section.width_mm


def _along_and_beside(bar: DashBar, axis: Floats) -> tuple[Floats, Floats]:
    """Return unit vectors along a bar, and across it square to a bolt that runs along `axis`."""
    span = np.subtract(bar.to_mm, bar.from_mm)
    along = span / max(float(np.linalg.norm(span)), 1e-300)
    beside = np.cross(along, axis)
    return along, beside / max(float(np.linalg.norm(beside)), 1e-300)


def depth_inside_bar(bar: DashBar, places: Floats) -> Floats:
    """Return how deep places (n, 3) lie inside the bar's outer surface, mm (n,); 0 or less outside.

    All outside for a bar of no length.
    """
    start, span = np.asarray(bar.from_mm, dtype=float), np.subtract(bar.to_mm, bar.from_mm)
    length = float(np.linalg.norm(span))
    if not length > 0.0:
        return np.full(len(places), -math.inf)
    along = span / length
    local = places - start
    station = local @ along
    across = local @ _across_bar(bar, along).T
    if isinstance(bar.section, Round):
        depth = bar.section.outer_mm / 2.0 - np.linalg.norm(across, axis=1)
    else:
        halves = np.array([bar.section.width_mm, bar.section.height_mm]) / 2.0
        depth = (halves - np.abs(across)).min(axis=1)
    return np.asarray(np.minimum(depth, np.minimum(station, length - station)))


def bar_spots(bar: DashBar, apart_mm: float) -> Floats:
    """Return places (n, 3) over the bar's outer surface and along its middle, in space, about so far apart.

    Farther on a bar larger than any; none on one of no length.
    """
    start, span = np.asarray(bar.from_mm, dtype=float), np.subtract(bar.to_mm, bar.from_mm)
    length = float(np.linalg.norm(span))
    if not length > 0.0:
        return np.empty((0, 3))
    if isinstance(bar.section, Round):
        radius = bar.section.outer_mm / 2.0
        turns = np.linspace(0.0, 2.0 * math.pi, 4 * _steps(math.pi / 2.0 * radius, apart_mm, 50), False)
        ring = radius * np.column_stack([np.cos(turns), np.sin(turns)])
    else:
        halves = np.array([bar.section.width_mm, bar.section.height_mm]) / 2.0
        across, up = (np.linspace(-h, h, 1 + _steps(2.0 * h, apart_mm, 50)) for h in halves)
        grid = np.stack(np.meshgrid(across, up), axis=-1).reshape(-1, 2)
        ring = grid[(np.abs(grid) >= halves - 1e-9).any(axis=1)]
    ring = np.vstack([ring, np.zeros((1, 2))]) @ _across_bar(bar, span / length)
    along = start + np.linspace(0.0, 1.0, 1 + _steps(length, apart_mm, 500))[:, None] * span
    return np.asarray((along[:, None] + ring[None]).reshape(-1, 3))


def _steps(length_mm: float, apart_mm: float, most: int) -> int:
    """Return how many steps a length is cut into: no more than `most`, and three at least."""
    return max(3, math.ceil(min(length_mm / apart_mm, most)))


def _across_bar(bar: DashBar, along: Floats) -> Floats:
    """Return the (2, 3) directions of the section's width and height.

    Height is as near to `up` as the bar lets it be.
    """
    up = np.asarray(bar.up, dtype=float)
    height = up - (up @ along) * along
    if float(np.linalg.norm(height)) < 1e-6 * max(float(np.linalg.norm(up)), 1e-300):
        least = np.eye(3)[int(np.argmin(np.abs(along)))]
        height = least - (least @ along) * along
    height = height / np.linalg.norm(height)
    return np.vstack([np.cross(height, along), height])

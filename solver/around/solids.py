"""The solid things of a bracket in space, and what a place lies in."""

from __future__ import annotations

import math
from functools import cached_property
from typing import Final

import numpy as np
from numpy.typing import NDArray

from geometry.bar_face import depth_inside_bar
from geometry.bracket import Bracket
from geometry.casing import Casing
from geometry.casing_in_space import casing_to_space
from geometry.plate_body import PlateBody, depth_in_plate, plate_body
from geometry.survey import plate_shape

Floats = NDArray[np.float64]

TOUCH_MM: Final = 0.5
"""Faces that touch, and drawings that are a hair off, stand in nobody's way."""
_WAYS: Final = ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))
_STEP_MM: Final = 4.0
"""Between places on the casing's block."""


class Solids:
    """All solid things of a bracket in space; each is worked out once, when it is first asked for."""

    def __init__(self, bracket: Bracket) -> None:
        """Take the bracket."""
        self.bracket = bracket

    @cached_property
    def plates(self) -> tuple[PlateBody, ...]:
        """Return every plate that can be folded and placed."""
        bodies = (plate_body(plate_shape(plate)) for plate in self.bracket.plates)
        return tuple(body for body in bodies if body is not None)

    @cached_property
    def casing_spots(self) -> Floats:
        """Return places (n, 3) spread over the faces of the casing's block, none without a casing."""
        casing = self.bracket.casing
        return np.empty((0, 3)) if casing is None else _block_in_space(casing)

    def in_the_way(self, spots: Floats) -> tuple[str, Floats] | None:
        """Return the first thing that any of the places (n, 3) lies in, and those places; None if none."""
        bracket = self.bracket
        for body in self.plates:
            inside = depth_in_plate(body, spots) > TOUCH_MM
            if inside.any():
                return f"plate {body.name}", spots[inside]
        if bracket.casing is not None:
            inside = depth_in_casing(bracket.casing, spots) > TOUCH_MM
            if inside.any():
                return "the casing", spots[inside]
        if bracket.dash_bar is not None:
            inside = depth_inside_bar(bracket.dash_bar, spots) > TOUCH_MM
            if inside.any():
                return f"the {bracket.dash_bar.name}", spots[inside]
        return None


def depth_in_block(low: Floats, high: Floats, spots: Floats) -> Floats:
    """Return how deep places (n, 3) lie in a block, mm (n,); 0 or less outside."""
    first, last = np.minimum(low, high), np.maximum(low, high)
    return np.asarray(np.minimum(spots - first, last - spots).min(axis=1))


def depth_in_casing(casing: Casing, spots: Floats) -> Floats:
    """Return how deep places (n, 3) lie in the casing's block, mm (n,); 0 or less outside."""
    origin = casing_to_space(casing, (0.0, 0.0, 0.0))
    axes = np.stack([casing_to_space(casing, way) - origin for way in _WAYS])
    own = (spots - origin) @ axes.T
    return depth_in_block(np.asarray(casing.envelope.low_mm), np.asarray(casing.envelope.high_mm), own)


def tilted(spots: Floats, pivot: Floats, tilt_deg: float) -> Floats:
    """Return places (n, 3) after the column has tilted about an axis along X: wheel up is positive."""
    turn = math.radians(tilt_deg)
    cos, sin = math.cos(turn), math.sin(turn)
    # the wheel is toward +Z; up is +Y
    rotation = np.array([[1.0, 0.0, 0.0], [0.0, cos, sin], [0.0, -sin, cos]])
    return np.asarray((spots - pivot) @ rotation.T + pivot)


def cylinder(way: Floats, radius: float, length: float) -> Floats:
    """Return places (n, 3) through a cylinder that begins at the origin, rim included."""
    across = np.cross(way, np.eye(3)[int(np.argmin(np.abs(way)))])
    across = across / np.linalg.norm(across)
    other = np.cross(way, across)
    turns = np.linspace(0.0, 2.0 * math.pi, 24, endpoint=False)
    ring = np.cos(turns)[:, None] * across + np.sin(turns)[:, None] * other
    radii = np.array([1.0, 0.6, 0.2]) * radius
    # a washer's thickness and what it lies on are no obstacle
    levels = np.linspace(1.5, length, max(4, int(length / 2.0)))
    disc = (radii[:, None, None] * ring[None]).reshape(-1, 3)
    return np.asarray((levels[:, None, None] * way + disc[None]).reshape(-1, 3))


def _block_in_space(casing: Casing) -> Floats:
    """Return places (n, 3) spread over the faces of the casing's block, in space."""
    low = np.minimum(casing.envelope.low_mm, casing.envelope.high_mm)
    high = np.maximum(casing.envelope.low_mm, casing.envelope.high_mm)
    counts = [max(2, min(80, 1 + int((b - a) / _STEP_MM))) for a, b in zip(low, high, strict=True)]
    steps = [np.linspace(a, b, n) for a, b, n in zip(low, high, counts, strict=True)]
    faces = []
    for axis in range(3):
        one, other = (steps[i] for i in range(3) if i != axis)
        grid = np.stack([g.ravel() for g in np.meshgrid(one, other)], axis=1)
        faces += [np.insert(grid, axis, end, axis=1) for end in (low[axis], high[axis])]
    spots = np.vstack(faces)
    origin = casing_to_space(casing, (0.0, 0.0, 0.0))
    axes = np.stack([casing_to_space(casing, way) - origin for way in _WAYS])
    return np.asarray(spots @ axes + origin)

"""The solid things of a bracket in space, and what a place lies in."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
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
_LAID_MM: Final = 1.5
"""A washer's thickness and what a cylinder lies on are no obstacle."""
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

    def in_the_way(self, cylinder: Cylinder) -> tuple[str, Floats] | None:
        """Return the first thing that reaches into a cylinder, and the places (n, 3) where; None if none.

        A sheet may be thinner than the way between two places of the cylinder, so its own are looked at too.
        """
        # a plate comes before casing and bar, as in what is said of it
        found = {f"plate {b.name}": [b.spots[cylinder.depth(b.spots) > TOUCH_MM]] for b in self.plates}
        for what, spots, _ in self.lie_in(cylinder.spots):
            found.setdefault(what, []).append(spots)
        hits = ((what, np.vstack(places)) for what, places in found.items())
        return next(((what, places) for what, places in hits if len(places)), None)

    def lie_in(self, spots: Floats) -> Iterator[tuple[str, Floats, float]]:
        """Yield everything that places (n, 3) lie in, those places, and how deep the deepest does."""
        bracket = self.bracket
        depths = [
            (f"plate {body.name}", depth_in_plate(body, spots), min(TOUCH_MM, body.thickness_mm / 4.0))
            for body in self.plates
        ]
        if bracket.casing is not None:
            depths.append(("the casing", depth_in_casing(bracket.casing, spots), TOUCH_MM))
        if bracket.dash_bar is not None:
            name = f"the {bracket.dash_bar.name}"
            depths.append((name, depth_inside_bar(bracket.dash_bar, spots), TOUCH_MM))
        for what, deep, least in depths:
            inside = deep > least
            if inside.any():
                yield what, spots[inside], float(deep.max())


@dataclass(frozen=True, eq=False)
class Cylinder:
    """Room that something round takes: a socket, or the column."""

    start_mm: Floats
    way: Floats
    """(3,) unit vector from its start."""
    radius_mm: float
    length_mm: float

    @cached_property
    def spots(self) -> Floats:
        """Return places (n, 3) through it, rim included."""
        across = np.cross(self.way, np.eye(3)[int(np.argmin(np.abs(self.way)))])
        across = across / np.linalg.norm(across)
        other = np.cross(self.way, across)
        turns = np.linspace(0.0, 2.0 * math.pi, 24, endpoint=False)
        ring = np.cos(turns)[:, None] * across + np.sin(turns)[:, None] * other
        radii = np.array([1.0, 0.6, 0.2]) * self.radius_mm
        levels = np.linspace(_LAID_MM, self.length_mm, max(4, int(self.length_mm / 2.0)))
        disc = (radii[:, None, None] * ring[None]).reshape(-1, 3)
        return np.asarray(self.start_mm + (levels[:, None, None] * self.way + disc[None]).reshape(-1, 3))

    def depth(self, places: Floats) -> Floats:
        """Return how deep places (n, 3) lie in it, mm (n,); 0 or less outside."""
        off = places - self.start_mm
        along = off @ self.way
        beside = self.radius_mm - np.linalg.norm(off - along[:, None] * self.way, axis=1)
        return np.asarray(np.minimum(beside, np.minimum(along - _LAID_MM, self.length_mm - along)))

    def tilted(self, pivot: Floats, tilt_deg: float) -> Cylinder:
        """Return it after the column has tilted about an axis along X."""
        start = tilted(self.start_mm[None], pivot, tilt_deg)[0]
        way = tilted(self.way[None], np.zeros(3), tilt_deg)[0]
        return Cylinder(start, way, self.radius_mm, self.length_mm)


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

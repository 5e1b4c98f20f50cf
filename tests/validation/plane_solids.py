"""Flat solids whose thickness is held, so that theory of plane elasticity is their exact answer."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import numpy as np
from numpy.typing import NDArray

from geometry.solid_mesh import SolidMesh
from solver.elasticity import surface_points
from solver.solid import ElasticMaterial, Support, Traction
from tests.validation.solid_blocks import Map, faces_where, joined

Floats = NDArray[np.float64]
Curve = Callable[[Floats], Floats]
"""From (n,) shares of a curve, 0 to 1, to (n, 2) positions."""

STEEL = ElasticMaterial(210_000.0, 0.3)
THICKNESS_MM = 0.3


def plane_solid(bricks: Sequence[tuple[tuple[int, int], Map]]) -> SolidMesh:
    """Return a solid one layer thick from maps of the unit square."""
    return joined([((across, along, 1), mapping) for (across, along), mapping in bricks])


def held_flat(mesh: SolidMesh) -> Support:
    """Return the support that keeps every node in its plane."""
    return Support(np.arange(len(mesh.points)), z=0.0)


def between(start: Curve, end: Curve, crowding: float = 1.0, cells: int = 1) -> Map:
    """Return the map of straight lines from one curve to another.

    With a crowding above 1 the cells, of which the number must then be told, are finer toward the first.
    """
    even = np.linspace(0.0, 1.0, cells + 1)

    def place(unit: Floats) -> Floats:
        share = np.interp(unit[:, :1], even, even**crowding)
        flat = (1 - share) * start(unit[:, 1]) + share * end(unit[:, 1])
        return np.column_stack([flat, THICKNESS_MM * unit[:, 2]])

    return place


def line(start: tuple[float, float], end: tuple[float, float]) -> Curve:
    """Return a straight line."""
    return lambda share: np.outer(1 - share, start) + np.outer(share, end)


def arc(centre: tuple[float, float], radius: float, start_deg: float, end_deg: float) -> Curve:
    """Return an arc of a circle."""

    def place(share: Floats) -> Floats:
        angle = np.radians(start_deg + share * (end_deg - start_deg))
        return np.asarray(centre) + radius * np.column_stack([np.cos(angle), np.sin(angle)])

    return place


def rectangle(x: tuple[float, float], y: tuple[float, float]) -> Map:
    """Return the map onto a rectangle."""
    return between(line((x[0], y[0]), (x[0], y[1])), line((x[1], y[0]), (x[1], y[1])))


def traction_from(
    mesh: SolidMesh, where: Callable[[Floats], NDArray[np.bool_]], traction: Callable[[Floats], Floats]
) -> Traction:
    """Return a traction that varies over the outside faces whose nodes meet a condition."""
    faces = faces_where(mesh, where)
    points = surface_points(mesh, faces)
    return Traction(faces, traction(points.reshape(-1, 3)).reshape(points.shape))

"""The reference quadratic tetrahedron and triangle: shape functions, their gradients and quadrature.

Node order as in `geometry.solid_mesh`, which is also that of scikit-fem.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

import numpy as np
from numpy.typing import NDArray
from skfem import ElementTetP2, ElementTriP2
from skfem.quadrature import get_quadrature
from skfem.refdom import RefTet, RefTri

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class ReferenceElement:
    """Shape functions at some points of the reference element, with the weights of a quadrature."""

    values: Floats
    """(points, nodes)."""
    gradients: Floats
    """(points, nodes, reference directions)."""
    weights: Floats
    """(points,) adding up to the reference volume, or zeros when the points are no quadrature."""


@cache
def tetrahedron(order: int = 2) -> ReferenceElement:
    """Return the ten-node tetrahedron at quadrature points exact to a polynomial order (2: 4 points)."""
    points, weights = get_quadrature(RefTet, order)
    return _sampled(ElementTetP2(), points, weights)


@cache
def tetrahedron_vertices() -> ReferenceElement:
    """Return the ten-node tetrahedron at its four vertices."""
    element = ElementTetP2()
    return _sampled(element, element.doflocs[:4].T, np.zeros(4))


@cache
def triangle(order: int = 4) -> ReferenceElement:
    """Return the six-node triangle at quadrature points exact to a polynomial order (4: 6 points)."""
    points, weights = get_quadrature(RefTri, order)
    return _sampled(ElementTriP2(), points, weights)


def triangle_evenly(parts: int) -> ReferenceElement:
    """Return the six-node triangle at the middles of `parts` x `parts` even triangles of it."""
    step = 1.0 / parts
    upright = [(i + 1 / 3, j + 1 / 3) for i in range(parts) for j in range(parts - i)]
    hanging = [(i + 2 / 3, j + 2 / 3) for i in range(parts) for j in range(parts - i - 1)]
    points = step * np.array([*upright, *hanging], dtype=np.float64).T
    return _sampled(ElementTriP2(), points, np.full(points.shape[1], 0.5 * step**2))


def _sampled(element: ElementTetP2 | ElementTriP2, points: Floats, weights: Floats) -> ReferenceElement:
    sampled = [element.lbasis(points, node) for node in range(len(element.doflocs))]
    values = np.stack([np.broadcast_to(value, points.shape[1:]) for value, _ in sampled], axis=1)
    gradients = np.stack([np.broadcast_to(gradient, points.shape) for _, gradient in sampled])
    return ReferenceElement(values, np.ascontiguousarray(gradients.transpose(2, 0, 1)), weights)

"""The reference quadratic tetrahedron and triangle: shape functions, their gradients and quadrature.

Node order as in `geometry.solid_mesh`. tests/solver/test_shape_functions.py holds all of it against
scikit-fem.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from itertools import permutations

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

_TETRAHEDRON_EDGES = ((0, 1), (1, 2), (0, 2), (0, 3), (1, 3), (2, 3))
_TRIANGLE_EDGES = ((0, 1), (1, 2), (0, 2))


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
    """Return the ten-node tetrahedron at quadrature points exact to a polynomial order.

    One point to order 1, four to 2, five to 3, eleven to 4; beyond that many, of a product rule.
    """
    if order not in _ON_TETRAHEDRON:
        return _sampled(*_product_rule(order), _TETRAHEDRON_EDGES)
    orbits = _ON_TETRAHEDRON[order]
    shares = np.concatenate([_orbit(share) for share, _ in orbits])
    weights = np.concatenate([np.full(len(_orbit(share)), weight) for share, weight in orbits])
    return _sampled(shares, weights, _TETRAHEDRON_EDGES)


@cache
def tetrahedron_vertices() -> ReferenceElement:
    """Return the ten-node tetrahedron at its four vertices."""
    return _sampled(np.eye(4), np.zeros(4), _TETRAHEDRON_EDGES)


@cache
def triangle() -> ReferenceElement:
    """Return the six-node triangle at quadrature points exact to order 4: six points."""
    shares = np.concatenate([_orbit(share) for share, _ in _ON_TRIANGLE])
    weights = np.repeat([weight for _, weight in _ON_TRIANGLE], 3)
    return _sampled(shares, weights, _TRIANGLE_EDGES)


_A, _B = (5.0 - 5.0**0.5) / 20.0, (5.0 + 3.0 * 5.0**0.5) / 20.0
_C, _D = (1.0 + (5.0 / 14.0) ** 0.5) / 4.0, (1.0 - (5.0 / 14.0) ** 0.5) / 4.0
_Orbit = tuple[tuple[float, ...], float]
_ON_TETRAHEDRON: dict[int, tuple[_Orbit, ...]] = {
    1: (((0.25,) * 4, 1.0 / 6.0),),
    2: (((_B, _A, _A, _A), 1.0 / 24.0),),
    3: (((0.25,) * 4, -2.0 / 15.0), ((0.5, 1.0 / 6.0, 1.0 / 6.0, 1.0 / 6.0), 3.0 / 40.0)),
    4: (
        ((0.25,) * 4, -74.0 / 5625.0),
        ((11.0 / 14.0, 1.0 / 14.0, 1.0 / 14.0, 1.0 / 14.0), 343.0 / 45000.0),
        ((_C, _C, _D, _D), 56.0 / 2250.0),
    ),
}
"""Points by their four shares, in every order, and the weight of each.

Keast 1986 (orders 2 to 4), from memory, to be verified against the document; they integrate every polynomial
of their order (tests/solver/test_shape_functions.py).
"""
_ON_TRIANGLE: tuple[_Orbit, ...] = (
    ((0.108103018168070, 0.445948490915965, 0.445948490915965), 0.5 * 0.223381589678011),
    ((0.816847572980459, 0.091576213509771, 0.091576213509771), 0.5 * 0.109951743655322),
)
"""The same on the triangle; Dunavant 1985, degree 4, from memory, to be verified against the document."""


def _orbit(share: tuple[float, ...]) -> Floats:
    return np.array(sorted(set(permutations(share)), reverse=True))


def _product_rule(order: int) -> tuple[Floats, Floats]:
    """Return shares and weights of Gauss points of a cube that is drawn together to a tetrahedron."""
    # Drawing together multiplies by a polynomial of order 2.
    places, weights = np.polynomial.legendre.leggauss(order // 2 + 2)
    u, v, w = (axis.ravel() for axis in np.meshgrid(*[0.5 * (places + 1.0)] * 3, indexing="ij"))
    weight = np.prod(np.meshgrid(*[0.5 * weights] * 3, indexing="ij"), axis=0).ravel()
    x, y, z = u, v * (1.0 - u), w * (1.0 - u) * (1.0 - v)
    return np.column_stack([1.0 - x - y - z, x, y, z]), weight * (1.0 - u) ** 2 * (1.0 - v)


def _sampled(shares: Floats, weights: Floats, edges: tuple[tuple[int, int], ...]) -> ReferenceElement:
    """Return the shape functions at points given by their shares of the vertices (points, vertices).

    The first vertex is the origin, the others lie at one along each direction.
    """
    count = shares.shape[1]
    slopes = np.vstack([np.full(count - 1, -1.0), np.eye(count - 1)])
    values = [shares * (2.0 * shares - 1.0)]
    gradients = [(4.0 * shares - 1.0)[:, :, None] * slopes]
    for i, j in edges:
        values.append(4.0 * shares[:, [i]] * shares[:, [j]])
        gradients.append(
            4.0 * (shares[:, [i]][:, :, None] * slopes[j] + shares[:, [j]][:, :, None] * slopes[i])
        )
    return ReferenceElement(np.concatenate(values, axis=1), np.concatenate(gradients, axis=1), weights)

"""Shape functions against scikit-fem, quadrature against integrals in closed form."""

from __future__ import annotations

from itertools import product
from math import factorial

import numpy as np
import pytest
from skfem import ElementTetP2, ElementTriP2

from solver.shape_functions import ReferenceElement, tetrahedron, tetrahedron_vertices, triangle


def _points(sampled: ReferenceElement, vertices: np.ndarray, edges: np.ndarray) -> np.ndarray:
    """Where the shape functions were taken: they give a linear field back from its values at the nodes."""
    return sampled.values @ np.concatenate([vertices, edges])


_TET = np.array([[0, 0, 0], [1, 0, 0], [0, 1, 0], [0, 0, 1]], dtype=float)
_TET_MIDDLES = np.array(
    [_TET[[a, b]].mean(axis=0) for a, b in ((0, 1), (1, 2), (0, 2), (0, 3), (1, 3), (2, 3))]
)
_TRI = np.array([[0, 0], [1, 0], [0, 1]], dtype=float)
_TRI_MIDDLES = np.array([_TRI[[a, b]].mean(axis=0) for a, b in ((0, 1), (1, 2), (0, 2))])


@pytest.mark.parametrize(
    ("sampled", "element", "vertices", "middles"),
    [
        *((tetrahedron(order), ElementTetP2(), _TET, _TET_MIDDLES) for order in (1, 2, 3, 4, 6)),
        (tetrahedron_vertices(), ElementTetP2(), _TET, _TET_MIDDLES),
        (triangle(), ElementTriP2(), _TRI, _TRI_MIDDLES),
    ],
)
def test_shape_functions_are_those_of_scikit_fem(
    sampled: ReferenceElement, element: ElementTetP2 | ElementTriP2, vertices: np.ndarray, middles: np.ndarray
) -> None:
    points = _points(sampled, vertices, middles).T
    for node in range(sampled.values.shape[1]):
        value, gradient = element.lbasis(points, node)
        assert np.allclose(sampled.values[:, node], value, atol=1e-13)
        assert np.allclose(sampled.gradients[:, node].T, gradient, atol=1e-13)


@pytest.mark.parametrize("order", [1, 2, 3, 4, 5, 6])
def test_tetrahedra_integrate_every_polynomial_of_their_order(order: int) -> None:
    sampled = tetrahedron(order)
    points = _points(sampled, _TET, _TET_MIDDLES)
    for powers in product(range(order + 1), repeat=3):
        if sum(powers) <= order:
            # int x^a y^b z^c over the unit tetrahedron is a! b! c! / (a + b + c + 3)!
            exact = np.prod([float(factorial(p)) for p in powers]) / factorial(sum(powers) + 3)
            assert sampled.weights @ np.prod(points**powers, axis=1) == pytest.approx(exact, rel=1e-13)


def test_the_triangle_integrates_every_polynomial_of_order_4() -> None:
    sampled = triangle()
    points = _points(sampled, _TRI, _TRI_MIDDLES)
    for a, b in product(range(5), repeat=2):
        if a + b <= 4:
            exact = factorial(a) * factorial(b) / factorial(a + b + 2)
            assert sampled.weights @ (points[:, 0] ** a * points[:, 1] ** b) == pytest.approx(
                exact, rel=1e-12
            )

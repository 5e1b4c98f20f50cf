"""Round a sharp inside corner finer meshes read ever more stress: it is judged beyond half the thickness."""

from __future__ import annotations

import numpy as np

from geometry.plate import Corner
from tests.brackets import one_piece, solved_once

NOTCH = (-55.0, -40.0)
THICKNESS_MM = 6.0


def test_what_is_nearer_to_a_sharp_corner_than_half_the_thickness_is_not_judged() -> None:
    bracket = one_piece(thickness_mm=THICKNESS_MM)
    (plate,) = bracket.plates
    low_left, *others = (corner.at_mm for corner in plate.outline)
    cut = [(low_left[0], NOTCH[1]), NOTCH, (NOTCH[0], low_left[1]), *others]
    notched = bracket.but(plates=(plate.but(outline=tuple(Corner(at_mm=at) for at in cut)),))
    survey = solved_once(notched, 20.0).surveys[0]
    (corner,) = survey.corners
    assert corner.flat_mm == NOTCH
    mesh = survey.plate.mesh
    away = np.hypot(*(mesh.flat_points[mesh.vertex_nodes, :2] - np.array(NOTCH)).T)
    judged = np.hypot(*(mesh.flat_points[survey.nodes, :2] - np.array(NOTCH)).T)
    assert away.min() < 1e-6
    assert judged.min() >= 0.5 * THICKNESS_MM - 1e-3
    assert (judged[corner.rows] <= THICKNESS_MM).all()
    assert len(corner.rows) == np.sum(judged <= THICKNESS_MM) > 0

from __future__ import annotations

import time

import numpy as np
import pytest

from app.mounted.plate_shapes import plate_shapes
from app.mounted.shapes import Surface
from geometry.flat_pattern import flat_pattern
from geometry.plate import Corner, Hole, Plate
from tests.app.mounted.solved_example import bracket
from tests.brackets import rectangle, straps
from tests.pace import paced


def volume(surface: Surface) -> float:
    """By the divergence theorem: right only for a closed skin with normals outward."""
    a, b, c = (surface.points[surface.triangles[:, k]] for k in range(3))
    return float(np.einsum("ki,ki->k", a, np.cross(b, c)).sum() / 6.0)


def test_a_flat_plate_is_closed_and_as_large_as_its_sheet() -> None:
    plate = rectangle("p", (0, 80), (0, 50), [Hole(name="h", centre_mm=(30, 20), diameter_mm=12)])
    (solid,) = plate_shapes(plate).surfaces
    assert volume(solid) == pytest.approx(flat_pattern(plate).polygon.area * plate.thickness_mm)


def test_a_folded_plate_keeps_its_volume_but_for_the_chords_of_the_bend() -> None:
    (plate,) = bracket().plates
    (solid,) = plate_shapes(plate).surfaces
    assert volume(solid) == pytest.approx(flat_pattern(plate).polygon.area * plate.thickness_mm, rel=0.02)
    # The foot is turned toward the driver: it reaches along Z, and the plate no higher than its bend.
    assert solid.points[:, 2].max() > 30.0
    assert solid.points[:, 1].max() < max(corner.at_mm[1] for corner in plate.outline) - 20.0


def test_sharp_edges_are_those_of_the_sheet_and_bends_are_round() -> None:
    plate = rectangle("p", (0, 80), (0, 50), [])
    shapes = plate_shapes(plate)
    edges = next(line for line in shapes.lines if line.pen == "edge")
    lengths = np.linalg.norm(edges.ends[:, 1] - edges.ends[:, 0], axis=1)
    assert lengths.sum() == pytest.approx(4 * 80 + 4 * 50 + 4 * 6)
    assert len(shapes.rounds[0].ends) == 0
    (folded,) = bracket().plates
    shapes = plate_shapes(folded)
    assert len(shapes.rounds[0].ends) > 0
    tangents = next(line for line in shapes.lines if line.pen == "thin")
    assert np.linalg.norm(tangents.ends[:, 1] - tangents.ends[:, 0], axis=1) == pytest.approx([150.0] * 4)


def test_a_plate_that_cannot_be_made_is_an_empty_drawing() -> None:
    corners = (Corner(at_mm=(0, 0), radius_mm=90), Corner(at_mm=(10, 0)), Corner(at_mm=(0, 10)))
    assert plate_shapes(Plate(name="p", material=None, thickness_mm=2, outline=corners)).surfaces == ()


def test_it_is_quick_enough_to_follow_a_drag() -> None:
    plates = (*bracket().plates, *straps("in line").plates)
    best = min(_seconds(plate) for plate in plates for _ in range(3))
    assert best < paced(0.15)


def _seconds(plate: Plate) -> float:
    plate_shapes.cache_clear()
    begun = time.process_time()
    plate_shapes(plate)
    return time.process_time() - begun

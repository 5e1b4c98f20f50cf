from __future__ import annotations

import numpy as np
import pytest

from app.mounted.field_shapes import field_shapes, skin_triangles
from app.mounted.motion import movements
from app.mounted.shapes import Shapes
from app.wording.figures import Units
from solver.results import Results
from tests.app.example_results import example_field
from tests.app.mounted.solved_example import bracket, hot, results


def drawn(whole: Results, units: Units = "mm") -> Shapes:
    (plate,) = bracket().plates
    return field_shapes(whole.plates[0], plate, movements(whole, 0)["plate"], units=units)


def fills(shapes: Shapes) -> dict[str, np.ndarray]:
    return {s.fill: s.values for s in shapes.surfaces if s.values is not None}


def test_below_four_fifths_all_of_the_map_is_pale() -> None:
    assert set(fills(drawn(hot(0.79)))) == {"plate", "low"}


def test_bands_end_at_four_fifths_and_at_the_allowable() -> None:
    whole = hot(1.6)
    allowable = whole.plates[0].allowable_mpa
    bands = fills(drawn(whole))
    assert set(bands) == {"plate", "low", "near", "over"}
    assert bands["low"].max() <= 0.8 * allowable + 1e-6
    assert bands["near"].min() >= 0.8 * allowable - 1e-6
    assert bands["near"].max() <= allowable + 1e-6
    assert bands["over"].min() >= allowable - 1e-6
    assert bands["over"].max() == pytest.approx(1.6 * allowable)


def test_only_what_is_over_is_hatched() -> None:
    shapes = drawn(hot(1.6))
    (hatch,) = [line for line in shapes.lines if line.pen == "hatch"]
    (over,) = [s for s in shapes.surfaces if s.fill == "over"]
    low, high = over.points.min(axis=0) - 1e-6, over.points.max(axis=0) + 1e-6
    assert ((hatch.ends >= low) & (hatch.ends <= high)).all()
    assert not [line for line in drawn(hot(0.95)).lines if line.pen == "hatch"]


def test_contour_lines_carry_their_own_value() -> None:
    whole = hot(1.6)
    allowable = whole.plates[0].allowable_mpa
    shapes = drawn(whole)
    limits = [line for line in shapes.lines if line.pen == "limit"]
    assert len(limits) == 2
    words = {mark.words for mark in shapes.marks}
    assert f"{0.8 * allowable:.3g} MPa" in words
    assert all(float(word.split()[0]) <= 1.6 * allowable for word in words)


def test_contour_lines_in_ksi_stand_at_round_ksi() -> None:
    """1 ksi is 6.894757 MPa (NIST SP 811)."""
    whole = hot(1.6)
    highest = 1.6 * whole.plates[0].allowable_mpa / 6.894757
    words = {mark.words for mark in drawn(whole, "inch").marks}
    assert f"{0.8 / 1.6 * highest:.3g} ksi" in words
    assert not any("MPa" in word for word in words)
    plain = sorted(float(word) for word in words if " " not in word)
    assert plain
    assert plain[-1] <= highest
    assert all(value % 2.5 == 0.0 for value in plain)


def test_the_skin_is_closed() -> None:
    field = results().plates[0]
    triangles = skin_triangles(field.mesh)
    a, b, c = (field.mesh.points[triangles[:, k]] for k in range(3))
    by_skin = np.einsum("ki,ki->k", a, np.cross(b, c)).sum() / 6.0
    corners = field.mesh.points[field.mesh.tets[:, :4]]
    edges = corners[:, 1:] - corners[:, :1]
    assert by_skin == pytest.approx(np.linalg.det(edges).sum() / 6.0)


def test_a_mesh_without_named_faces_has_a_skin_too() -> None:
    assert len(skin_triangles(example_field("front").mesh)) == 4

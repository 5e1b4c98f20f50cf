"""Room for the bulges of arcs: by hand on single triangles, and on a plate with two rings close together."""

from __future__ import annotations

import math

import numpy as np
import pytest

from geometry.flat_segments import FULL_TURN, Arc
from geometry.footprint import Footprint
from geometry.mesh_bulges import LEAST_ROOM, crowded
from geometry.mesh_lines import DividedLines
from geometry.mesh_refining import refine
from geometry.plate import Corner, Hole, Plate
from geometry.plate_mesh import mesh_plate

RADIUS_MM = 10.0
HALF_CHORD_MM = 4.0
RISE_MM = RADIUS_MM - math.sqrt(RADIUS_MM**2 - HALF_CHORD_MM**2)


def one_stretch(apex_mm: tuple[float, float]) -> bool:
    """Return whether a chord from x = -4 to 4 on a circle below it is crowded by a triangle above it."""
    circle = Arc((0.0, -math.sqrt(RADIUS_MM**2 - HALF_CHORD_MM**2)), RADIUS_MM, 0.0, FULL_TURN)
    points = np.array([(-HALF_CHORD_MM, 0.0), (HALF_CHORD_MM, 0.0)])
    lines = DividedLines(points, (), np.zeros((0, 2), dtype=np.int64), {(0, 1): circle}, {})
    vertices = np.vstack([points, [apex_mm]])
    return bool(crowded(lines, vertices, np.array([[0, 1, 2]]))[0])


@pytest.mark.parametrize(("share", "least_heights"), [(0.5, 2.0), (0.0, 4.0), (1.0, 4.0)])
def test_an_apex_needs_height(share: float, least_heights: float) -> None:
    x = (2.0 * share - 1.0) * HALF_CHORD_MM
    just = least_heights * RISE_MM / (1.0 - LEAST_ROOM)
    assert one_stretch((x, 0.99 * just))
    assert not one_stretch((x, 1.01 * just))


def test_a_triangle_on_the_hollow_side_has_room() -> None:
    assert not one_stretch((0.0, -0.1))


def test_nothing_is_crowded_without_arcs() -> None:
    lines = DividedLines(np.zeros((3, 2)), (), np.zeros((0, 2), dtype=np.int64), {}, {})
    assert crowded(lines, np.zeros((3, 2)), np.array([[0, 1, 2]])).shape == (0,)


@pytest.mark.parametrize("gap_mm", [0.35, 1.0, 2.0])
def test_rings_close_together_can_be_meshed_and_refined(gap_mm: float) -> None:
    plate = Plate(
        name="p",
        material="S275",
        thickness_mm=6,
        outline=tuple(Corner(at_mm=at) for at in ((-40, -40), (40, -40), (40, 40), (-40, 40))),
        openings=(Hole(name="h", centre_mm=(3, 1), diameter_mm=11),),
    )
    footprint = Footprint("b", (3, 1), 5.5, front_outer_mm=10, back_outer_mm=12 + gap_mm)
    mesh = mesh_plate(plate, (footprint,))
    assert mesh.least_quality > 0.01
    for seed in range(4):
        marked = np.random.default_rng(seed).random(len(mesh.flat_triangles)) < 0.2
        assert refine(mesh, plate, (footprint,), marked).least_quality > 0.005

"""Circles that run over an edge of the plate leave no node that belongs to no element."""

from __future__ import annotations

import numpy as np
import pytest

from geometry.footprint import Footprint
from geometry.plate import Corner, Hole, Plate
from geometry.plate_mesh import mesh_plate


@pytest.mark.parametrize("edge_mm", [12.2, 12.9, 13.3, 14.0, 14.7, 14.95])
def test_every_node_belongs_to_an_element(edge_mm: float) -> None:
    plate = Plate(
        name="p",
        material="S275",
        thickness_mm=6,
        outline=tuple(Corner(at_mm=at) for at in ((-40, -30), (edge_mm, -30), (edge_mm, 30), (-40, 30))),
        openings=(Hole(name="h", centre_mm=(0, 0), diameter_mm=11),),
    )
    mesh = mesh_plate(plate, (Footprint("b", (0, 0), 5.5, front_outer_mm=10, back_outer_mm=13),))
    assert mesh.clipped
    assert np.array_equal(np.unique(mesh.tets), np.arange(len(mesh.points)))


def test_a_gently_waisted_strap_is_meshed_with_its_bolts_near_the_waist() -> None:
    """Chords of an arc of 123 mm radius lay 0.15 mm outside the sheet, and the circles went out to them."""
    corners = (
        Corner(at_mm=(24.7, 0.0), arc_via_mm=(21.8, 26.58125)),
        *(Corner(at_mm=at) for at in ((24.7, 53.1625), (-24.7, 53.1625), (-24.7, 0.0))),
    )
    places = {"1": (-12.7, 11.1), "2": (12.7, 11.1), "3": (0.0, 41.2625)}
    plate = Plate(
        name="strap",
        material="S275",
        thickness_mm=6.35,
        outline=corners,
        openings=tuple(Hole(name=name, centre_mm=at, diameter_mm=7.2) for name, at in places.items()),
    )
    rings = tuple(
        Footprint(name, at, 3.6, front_outer_mm=7.94, back_outer_mm=10.55) for name, at in places.items()
    )
    mesh = mesh_plate(plate, rings)
    assert mesh.clipped
    assert mesh.least_quality > 0.0

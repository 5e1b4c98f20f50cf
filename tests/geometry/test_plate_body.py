"""A folded plate as a solid in space."""

from __future__ import annotations

import numpy as np
import pytest
import shapely

from geometry.plate_body import _depth_of_near, depth_in_plate, plate_body
from geometry.survey import survey
from tests.brackets import one_piece


@pytest.mark.parametrize("folded", [False, True])
@pytest.mark.parametrize("thickness_mm", [1.5, 6.0])
def test_no_metal_is_further_from_a_spot_than_is_said(folded: bool, thickness_mm: float) -> None:
    """By lot over the flat metal and through the thickness, bends too."""
    (shape, *_) = survey(one_piece(folded=folded, thickness_mm=thickness_mm)).shapes
    body = plate_body(shape)
    assert body is not None
    lot = np.random.default_rng(5)
    low_x, low_y, high_x, high_y = body.metal.bounds
    flat = lot.uniform((low_x, low_y, 0.0), (high_x, high_y, thickness_mm), (4000, 3))
    metal = body.fold_map.to_space(flat[shapely.contains_xy(body.metal, flat[:, :2])])
    assert len(metal) > 1000
    nearest = [np.linalg.norm(body.spots - place, axis=1).min() for place in metal[:1000]]
    assert max(nearest) <= body.reach_mm
    # nor is it said of places that are far off
    assert max(nearest) > 0.25 * body.reach_mm


@pytest.mark.parametrize("thickness_mm", [1.5, 6.0])
def test_places_that_are_left_out_for_being_far_off_lie_in_no_metal(thickness_mm: float) -> None:
    """By lot in the box around the folded plate, most of which is air."""
    (shape, *_) = survey(one_piece(folded=True, thickness_mm=thickness_mm)).shapes
    body = plate_body(shape)
    assert body is not None
    lot = np.random.default_rng(6)
    places = lot.uniform(body.spots.min(axis=0) - 5.0, body.spots.max(axis=0) + 5.0, (60_000, 3))
    every = _depth_of_near(body, places)
    assert (every > 0.0).sum() > 100
    assert np.array_equal(depth_in_plate(body, places), every)

"""Points of a mesh's lines that all but coincide are one."""

from __future__ import annotations

import math

from hypothesis import given
from hypothesis import strategies as st

from geometry.merged_points import MergedPoints

MERGE_MM = 0.1
SPOTS = st.tuples(st.floats(-1.0, 1.0), st.floats(-1.0, 1.0))


@given(st.lists(SPOTS, min_size=1, max_size=30))
def test_each_takes_the_number_of_the_nearest_that_is_near_and_else_its_own(
    spots: list[tuple[float, float]],
) -> None:
    """Against all that are known, one by one: no square of a grid hides a neighbour."""
    points = MergedPoints(MERGE_MM)
    for spot in spots:
        known = list(points.places)
        number = points.number(spot)
        near = [math.dist(spot, other) for other in known]
        if known and min(near) <= MERGE_MM:
            assert near[number] == min(near)
            assert points.places == known
        else:
            assert number == len(known)
            assert points.places == [*known, spot]


def test_the_first_of_all_is_merged_with_as_any_other() -> None:
    points = MergedPoints(MERGE_MM)
    assert [points.number(at) for at in ((0.0, 0.0), (0.05, 0.0), (-0.05, -0.05), (0.2, 0.0))] == [0, 0, 0, 1]


def test_exact_merges_what_is_the_same_alone() -> None:
    points = MergedPoints(MERGE_MM)
    assert points.number((0.0, 0.0)) == 0
    assert points.number((0.05, 0.0), exact=True) == 1
    assert points.number((0.05, 5e-8), exact=True) == 1
    assert points.add((0.05, 0.0)) == 2

"""Bearing of sheet below 3 mm, EN 1993-1-3 table 8.4, and pull-through as under screws, table 8.2."""

from __future__ import annotations

import pytest

from solver.thin_sheet import thin_bearing_n, thin_pull_through_n
from tests.validation.reference import agrees

SOURCE = "EN 1993-1-3 table 8.4, worked by hand (from memory, to be verified)"


@pytest.mark.parametrize(
    ("thickness", "e1", "by_hand"),
    [
        # 2.5 x 0.5 x 0.84 x 360 x 8 x 0.75 / 1.25
        (0.75, 12.0, 1814.4),
        # 2.5 x 0.5 x 0.92 x 360 x 8 x 1 / 1.25
        (1.0, 12.0, 2649.6),
        # 2.5 x 1 x 1 x 360 x 8 x 2 / 1.25
        (2.0, 30.0, 11520.0),
    ],
)
def test_m8_in_s235(thickness: float, e1: float, by_hand: float) -> None:
    agrees(
        thin_bearing_n(360.0, 8.0, thickness, e1),
        by_hand,
        1e-9,
        source=SOURCE,
        name=f"M8 in {thickness:g} mm S235, e1 {e1:g} mm, N",
    )


def test_a_head_is_pulled_through_thin_sheet() -> None:
    """0.5 x 16 x 1.5 x 360 / 1.25 N, by hand."""
    agrees(
        thin_pull_through_n(16.0, 1.5, 360.0),
        3456.0,
        1e-9,
        source="EN 1993-1-3 table 8.2, worked by hand (from memory, to be verified)",
        name="16 mm pulled through 1.5 mm S235, N",
    )

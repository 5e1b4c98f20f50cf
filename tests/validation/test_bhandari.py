"""Bhandari, Design of Machine Elements, examples 7.3 and 7.4 (published): eccentric bolt groups, by hand."""

import numpy as np

from solver.bolt_group import elastic_group
from tests.validation.reference import agrees


def test_7_3_four_bolts() -> None:
    places = [(100, 75), (100, -75), (-100, -75), (-100, 75)]
    group = elastic_group(places, (0.0, -10_000.0), at_mm=(500.0, 0.0))
    sizes = np.hypot(*group.forces_n.T) / 1000.0
    source = "Bhandari example 7.3 (published)"
    agrees(sizes.max(), 12.093, 0.001, source=source, name="by hand, largest bolt, kN")
    agrees(sizes.min(), 8.139, 0.001, source=source, name="by hand, smallest bolt, kN")


def test_7_4_three_in_line() -> None:
    group = elastic_group([(75, 0), (0, 0), (-75, 0)], (0.0, -5_000.0), at_mm=(305.0, 0.0))
    sizes = np.hypot(*group.forces_n.T) / 1000.0
    source = "Bhandari example 7.4 (published)"
    for computed, published, where in zip(
        sizes, (11.833, 1.667, 8.5), ("near", "middle", "far"), strict=True
    ):
        agrees(computed, published, 0.001, source=source, name=f"by hand, {where} bolt, kN")

"""Shigley, Mechanical Engineering Design, example 8-7: four bolts, eccentric shear.

Geometry published, figures from memory, backed by an independent calculation. By hand; the finite-element
side of it, with every connection slipped, is another test.
"""

import numpy as np

from solver.bolt_group import elastic_group
from tests.validation.reference import agrees

SOURCE = "Shigley example 8-7 (from memory, to be verified)"


def test_four_bolts_by_hand() -> None:
    places = [(75, 60), (75, -60), (-75, -60), (-75, 60)]
    group = elastic_group(places, (0.0, -16_000.0), at_mm=(425.0, 0.0))
    sizes = np.hypot(*group.forces_n.T) / 1000.0
    agrees(sizes[0], 20.97, 0.002, source=SOURCE, name="by hand, near pair, upper, kN")
    agrees(sizes[1], 20.97, 0.002, source=SOURCE, name="by hand, near pair, lower, kN")
    agrees(sizes[2], 14.79, 0.002, source=SOURCE, name="by hand, far pair, lower, kN")
    agrees(sizes[3], 14.79, 0.002, source=SOURCE, name="by hand, far pair, upper, kN")
    agrees(group.largest_n / 1000.0, 20.97, 0.002, source=SOURCE, name="by hand, largest, kN")

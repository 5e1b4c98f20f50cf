"""Steel Buildings in Europe, part 5, example 3.4 (published): fin plate with ten M20 8.8."""

from solver.bolt_group import elastic_group
from solver.joint_rules import bearing_allowable_n
from tests.validation.reference import agrees

SOURCE = "Steel Buildings in Europe, part 5, example 3.4 (published)"


def test_largest_bolt() -> None:
    places = [(x, 70.0 * row) for x in (-30.0, 30.0) for row in range(-2, 3)]
    group = elastic_group(places, (0.0, -350_000.0), at_mm=(80.0, 0.0))
    agrees(group.largest_n / 1000.0, 56.38, 0.001, source=SOURCE, name="by hand, largest bolt, kN")


def test_bearing_along_and_across() -> None:
    # The book rounds its factors on the way: 89 and 114 kN.
    upright = bearing_allowable_n(800, 430, 20, 10, 22, e1_mm=40, e2_mm=50, p1_mm=70, p2_mm=60)
    sideways = bearing_allowable_n(800, 430, 20, 10, 22, e1_mm=50, e2_mm=40, p1_mm=60, p2_mm=70)
    agrees(upright / 1000.0, 89, 0.01, source=SOURCE, name="bearing upright, kN")
    agrees(sideways / 1000.0, 114, 0.01, source=SOURCE, name="bearing sideways, kN")
    agrees(upright / 1000.0, 88.3, 0.001, source="EN 1993-1-8 (closed form)", name="fin plate upright, kN")
    agrees(sideways / 1000.0, 113.4, 0.001, source="EN 1993-1-8 (closed form)", name="fin plate sideways, kN")

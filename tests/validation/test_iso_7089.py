"""ISO 7089 (published): plain washers."""

import pytest

from geometry.bolt_tables import bolt_size
from tests.validation.reference import agrees

SOURCE = "ISO 7089 (published)"
WASHERS_MM = {
    "M5": (5.3, 10, 1),
    "M6": (6.4, 12, 1.6),
    "M8": (8.4, 16, 1.6),
    "M10": (10.5, 20, 2),
    "M12": (13, 24, 2.5),
    "M14": (15, 28, 2.5),
    "M16": (17, 30, 3),
}


@pytest.mark.parametrize(("name", "washer_mm"), WASHERS_MM.items())
def test_washers(name: str, washer_mm: tuple[float, float, float]) -> None:
    size = bolt_size(name)
    agrees(size.washer_inner_mm, washer_mm[0], 0.0, source=SOURCE, name=f"washer d1 {name}, mm")
    agrees(size.washer_outer_mm, washer_mm[1], 0.0, source=SOURCE, name=f"washer d2 {name}, mm")
    agrees(size.washer_thickness_mm, washer_mm[2], 0.0, source=SOURCE, name=f"washer h {name}, mm")

"""ISO 273 (published): clearance holes, fine, medium and coarse."""

import pytest

from geometry.bolt_tables import bolt_size
from tests.validation.reference import agrees

SOURCE = "ISO 273 (published)"
HOLES_MM = {
    "M5": (5.3, 5.5, 5.8),
    "M6": (6.4, 6.6, 7),
    "M8": (8.4, 9, 10),
    "M10": (10.5, 11, 12),
    "M12": (13, 13.5, 14.5),
    "M14": (15, 15.5, 16.5),
    "M16": (17, 17.5, 18.5),
    "M8x1": (8.4, 9, 10),
}


@pytest.mark.parametrize(("name", "holes_mm"), HOLES_MM.items())
def test_holes(name: str, holes_mm: tuple[float, float, float]) -> None:
    size = bolt_size(name)
    agrees(size.hole_fine_mm, holes_mm[0], 0.0, source=SOURCE, name=f"fine hole {name}, mm")
    agrees(size.hole_medium_mm, holes_mm[1], 0.0, source=SOURCE, name=f"medium hole {name}, mm")
    agrees(size.hole_coarse_mm, holes_mm[2], 0.0, source=SOURCE, name=f"coarse hole {name}, mm")

"""Heights of nuts: every size has one, and one table serves findings and the parts to buy."""

from __future__ import annotations

import pytest

from geometry.bolt_tables import BOLT_SIZES, BoltSize
from geometry.nuts import nut_height_mm
from tests.brackets import one_piece


@pytest.mark.parametrize("size", BOLT_SIZES, ids=lambda size: size.name)
def test_a_locking_nut_is_higher_than_a_plain_one_and_both_near_the_diameter(size: BoltSize) -> None:
    bolt = one_piece().bolts[0]
    plain = nut_height_mm(size, bolt.but(locking=None))
    locking = nut_height_mm(size, bolt.but(locking="locking nut"))
    assert 0.8 * size.diameter_mm < plain < locking < 1.45 * size.diameter_mm


def test_m8_as_in_iso_4032_and_iso_7040() -> None:
    """6.8 and 9.5 mm at most: ISO 4032 and ISO 7040, from memory, to be verified."""
    size = next(size for size in BOLT_SIZES if size.name == "M8")
    bolt = one_piece().bolts[0]
    assert nut_height_mm(size, bolt.but(locking="thread lock")) == 6.8
    assert nut_height_mm(size, bolt.but(locking="Locking nut, new")) == 9.5

"""Lengths bolts are sold in, and the nearest of them either way."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.bolt_lengths import sold_mm
from geometry.bolt_tables import BOLT_SIZES, BoltSize, bolt_size

INCH_MM = 25.4


def every_length_mm(size: BoltSize) -> list[float]:
    """Return all lengths sold of a size, from the shortest, each asked for just past the one before."""
    found: list[float] = []
    while (longer := sold_mm(found[-1] + 1e-3 if found else 0.0, size)) is not None:
        found.append(longer)
    return found


def test_metric_ones_are_those_of_iso_4017() -> None:
    """From 8 mm by 2 to 12, 16, then by 5 to 70, by 10 to 160, by 20 to 200: ISO 4014 and ISO 4017.

    From memory, to be verified.
    """
    steps = [*range(20, 70, 5), *range(70, 160, 10), *range(160, 201, 20)]
    assert every_length_mm(bolt_size("M8")) == [8, 10, 12, 16, *steps]


def test_inch_ones_go_by_the_eighth_and_then_by_the_quarter() -> None:
    """From 3/8 in by eighths to 1 in, by quarters to 6 in: what shops list (common practice, no source)."""
    inches = [mm / INCH_MM for mm in every_length_mm(bolt_size("5/16-18"))]
    assert (inches[0], inches[-1]) == pytest.approx((0.375, 6.0))
    for short, long in pairwise(inches):
        assert long - short == pytest.approx(0.125 if short < 0.99 else 0.25)


@given(st.floats(8.0, 200.0), st.sampled_from(BOLT_SIZES))
def test_the_nearest_lies_on_the_side_that_is_asked_for(mm: float, size: BoltSize) -> None:
    longer, shorter = sold_mm(mm, size), sold_mm(mm, size, down=True)
    every = every_length_mm(size)
    assert longer == next((sold for sold in every if sold >= mm - 1e-6), None)
    assert shorter == next((sold for sold in reversed(every) if sold <= mm + 1e-6), None)


@pytest.mark.parametrize("size", BOLT_SIZES, ids=lambda size: size.name)
def test_a_length_that_is_sold_is_its_own_nearest(size: BoltSize) -> None:
    """The last digit of a sum of inches decides nothing."""
    for sold in every_length_mm(size):
        for off in (-1e-9, 0.0, 1e-9):
            assert sold_mm(sold + off, size) == sold_mm(sold + off, size, down=True) == sold


def test_none_is_sold_beyond_the_longest_or_below_the_shortest() -> None:
    assert sold_mm(200.1, bolt_size("M10")) is None
    assert sold_mm(7.9, bolt_size("M10"), down=True) is None
    assert sold_mm(6.1 * INCH_MM, bolt_size("1/4-20")) is None
    assert sold_mm(0.3 * INCH_MM, bolt_size("1/4-20"), down=True) is None

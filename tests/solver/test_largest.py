"""Rounding names no place: of figures alike the first is the largest."""

from __future__ import annotations

import math

import numpy as np
import pytest

from solver.largest import (
    ALIKE,
    alike_to_largest,
    first_of_largest,
    largest_of,
    place_of_largest,
    rows_of_largest,
    settled,
)

HAIR = 1e-3 * ALIKE


def test_of_figures_alike_the_first_is_taken() -> None:
    assert first_of_largest([1.0, 2.0, 2.0 * (1.0 + HAIR)]) == 1
    assert first_of_largest([1.0, 2.0, 2.0 * (1.0 + 10.0 * ALIKE)]) == 2


def test_below_nought_and_at_nought_as_well() -> None:
    assert first_of_largest([-3.0, -2.0 * (1.0 + HAIR), -2.0]) == 1
    assert first_of_largest([-1.0, 0.0, 0.0]) == 1
    assert first_of_largest([-math.inf, -math.inf]) == 0


def test_nothing_is_alike_to_the_endless_but_the_endless() -> None:
    assert first_of_largest([1e300, math.inf, math.inf]) == 1


def test_what_is_no_number_is_not_passed_over() -> None:
    assert first_of_largest([1.0, math.nan, 3.0]) == 1


def test_of_none_there_is_no_largest() -> None:
    with pytest.raises(ValueError, match="zero-size"):
        first_of_largest([])


def test_places_of_tables() -> None:
    table = np.array([[1.0, 5.0], [5.0 * (1.0 + HAIR), 2.0]])
    assert place_of_largest(table) == (0, 1)
    assert rows_of_largest(np.array([[1.0, 5.0], [1.0 + HAIR, 6.0]])).tolist() == [0, 1]
    assert alike_to_largest(table).tolist() == [[False, True], [True, False]]


def test_things_by_size() -> None:
    assert largest_of([("a", 1.0), ("b", 4.0), ("c", 4.0 + 4.0 * HAIR)], lambda t: t[1])[0] == "b"


def test_mirrored_sizes_are_put_in_one_order_however_they_were_rounded() -> None:
    rng = np.random.default_rng(5)
    one = rng.uniform(0.1, 1.0, 50) * 10.0 ** rng.integers(-6, 6, 50)
    sizes = np.repeat(one, 2)
    for _ in range(5):
        noisy = sizes * (1.0 + rng.uniform(-1e-12, 1e-12, 100))
        order = np.argsort(-settled(noisy), kind="stable")
        assert order.tolist() == np.argsort(-sizes, kind="stable").tolist()
    assert np.allclose(settled(sizes), sizes, rtol=ALIKE, atol=0.0)

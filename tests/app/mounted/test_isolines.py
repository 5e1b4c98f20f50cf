from __future__ import annotations

import numpy as np
import pytest

from app.mounted.isolines import Carried, line_at, nice_levels, split

X, Y, VALUE = 0, 1, 2


def square(steps: int = 6) -> Carried:
    """A unit square of triangles; the third column is x + 2 y."""
    x, y = (a.ravel() for a in np.meshgrid(np.linspace(0, 1, steps), np.linspace(0, 1, steps)))
    cell = np.array([[0, 1, steps], [1, steps + 1, steps]])
    rows = [cell + i + j * steps for i in range(steps - 1) for j in range(steps - 1)]
    return Carried(np.column_stack([x, y, x + 2 * y]), np.concatenate(rows).astype(np.int64))


def area(part: Carried) -> float:
    a, b, c = (part.attributes[part.triangles[:, k]][:, :2] for k in range(3))
    u, v = b - a, c - a
    return float((u[:, 0] * v[:, 1] - u[:, 1] * v[:, 0]).sum() / 2)


def test_split_parts_lie_on_their_sides_and_fill_the_whole() -> None:
    low, high = split(square(), VALUE, 0.83)
    assert low.attributes[:, VALUE].max() <= 0.83 + 1e-12
    assert high.attributes[:, VALUE].min() >= 0.83 - 1e-12
    # x + 2 y < 0.83 is a triangle with legs 0.83 and 0.415.
    assert area(low) == pytest.approx(0.83 * 0.415 / 2)
    assert area(low) + area(high) == pytest.approx(1.0)


def test_split_keeps_the_sense_of_every_triangle() -> None:
    for part in split(square(), VALUE, 1.31):
        a, b, c = (part.attributes[part.triangles[:, k]][:, :2] for k in range(3))
        u, v = b - a, c - a
        assert (u[:, 0] * v[:, 1] - u[:, 1] * v[:, 0]).min() > 0


def test_a_level_outside_the_values_leaves_one_part_empty() -> None:
    low, high = split(square(), VALUE, 9.0)
    assert (len(high.triangles), area(low)) == (0, pytest.approx(1.0))


def test_a_line_runs_where_the_value_is_and_hangs_together() -> None:
    pieces, chains = line_at(square(), VALUE, 1.5)
    assert pieces[:, :, VALUE] == pytest.approx(np.full(pieces.shape[:2], 1.5))
    lengths = np.linalg.norm(pieces[:, 1, :2] - pieces[:, 0, :2], axis=1)
    # From (0, 0.75) to (1, 0.25).
    assert lengths.sum() == pytest.approx(np.hypot(1.0, 0.5))
    assert len(set(chains.tolist())) == 1


def test_two_hills_give_two_chains() -> None:
    whole = square(9)
    hills = np.abs(whole.attributes[:, X] - 0.5)
    two = Carried(np.column_stack([whole.attributes[:, :2], hills]), whole.triangles)
    _, chains = line_at(two, VALUE, 0.4)
    assert len(set(chains.tolist())) == 2


@pytest.mark.parametrize("highest", [0.7, 21.7, 126.0, 900.0])
def test_levels_are_round_and_few(highest: float) -> None:
    levels = nice_levels(highest, ())
    assert 4 <= len(levels) <= 10
    assert levels[-1] <= highest * (1.0 + 1e-9)
    step = levels[0]
    assert levels == pytest.approx([step * k for k in range(1, len(levels) + 1)])
    assert float(f"{step:.2g}") == pytest.approx(step)


def test_limits_that_are_reached_are_levels_and_push_close_ones_away() -> None:
    levels = nice_levels(200.0, (125.0, 156.7, 300.0))
    assert 125.0 in levels
    assert 156.7 in levels
    assert 300.0 not in levels
    assert 150.0 not in levels
    assert nice_levels(0.0, (5.0,)) == []

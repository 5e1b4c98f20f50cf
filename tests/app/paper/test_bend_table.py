"""The bend table against the fold map and by hand."""

from __future__ import annotations

import math

import numpy as np
import pytest

from app.paper.bend_table import bend_rows, die_width_mm, least_leg_mm
from geometry.fold_map import FoldMap
from geometry.plate import Corner, FoldLine, Plate
from tests.app.paper.papers import sample


def test_the_legs_are_what_the_folded_plate_measures() -> None:
    corners = tuple(Corner(at_mm=p) for p in ((0, 0), (60, 0), (60, 100), (0, 100)))
    fold = FoldLine(name="f", from_mm=(0, 30), to_mm=(60, 30), inside_radius_mm=3, k_factor=0.4)
    plate = Plate(name="p", material="S235", thickness_mm=2, outline=corners, folds=(fold,))
    (row,) = bend_rows(plate)
    ends = FoldMap(plate).to_space(np.array([[30.0, 0.0, 0.0], [30.0, 0.0, 2.0], [30.0, 100.0, 0.0]]))
    # outside of an upward fold is the back: the short leg stands up, the long one reaches from its outer face
    assert row.legs_mm[0] == pytest.approx(float(ends[:2, 2].max()), abs=1e-6)
    assert row.legs_mm[1] == pytest.approx(100.0 - float(ends[:2, 1].min()), abs=1e-6)
    assert sum(row.legs_mm) - row.deduction_mm == pytest.approx(100.0)
    assert row.zone_mm == pytest.approx(math.pi / 2 * (3 + 0.4 * 2))
    assert row.tool_radius_mm == 3


def test_die_and_least_leg_by_hand() -> None:
    assert die_width_mm(2.0, 2.0, 90.0) == 16.0  # 8 t
    # R6 in 2 mm: 2 x 8 x sin 45 + 4 = 15.3, still 16; R 12: 2 x 14 x 0.707 + 4 = 23.8, so 25
    assert die_width_mm(6.0, 2.0, 90.0) == 16.0
    assert die_width_mm(12.0, 2.0, 90.0) == 25.0
    # half of 16 over sin 45
    assert least_leg_mm(16.0, 90.0) == pytest.approx(11.31, abs=0.01)
    # hardly turned at all it lies flat over half the die
    assert least_leg_mm(16.0, 1e-6) == pytest.approx(8.0)


def test_a_short_leg_is_told() -> None:
    tray = sample("gauge_tray").plate("tray")
    assert not any(row.short for row in bend_rows(tray))
    moved = tuple(
        f.but(from_mm=(f.from_mm[0], -78.5), to_mm=(f.to_mm[0], -78.5)) if f.name == "lip" else f
        for f in tray.folds
    )
    rows = {row.fold: row for row in bend_rows(tray.but(folds=moved))}
    assert rows["lip"].short
    assert not rows["foot"].short

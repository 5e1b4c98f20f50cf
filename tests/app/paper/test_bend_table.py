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


def test_a_leg_between_two_folds_reaches_to_the_outer_faces_of_both() -> None:
    corners = tuple(Corner(at_mm=p) for p in ((0, 0), (160, 0), (160, 60), (0, 60)))
    folds = tuple(
        FoldLine(name=name, from_mm=(x, 0), to_mm=(x, 60), inside_radius_mm=6, k_factor=0.4)
        for name, x in (("left", 40), ("right", 120))
    )
    plate = Plate(name="p", material="S235", thickness_mm=4, outline=corners, folds=folds)
    channel = bend_rows(plate)
    along = np.linspace(0.0, 160.0, 801)
    skin = FoldMap(plate).to_space(np.column_stack([along, np.full(801, 30.0), np.zeros(801)]))
    web = float(np.ptp(skin[:, 0]))  # a rule laid across the back of the channel
    # straight 80 less a zone of pi/2 (6 + 1.6), and 10 of outside radius at each end
    assert web == pytest.approx(80.0 - math.pi / 2 * 7.6 + 20.0)
    for row in channel:
        assert row.legs_mm[1] == pytest.approx(web)
    flanges = sum(row.legs_mm[0] for row in channel)
    assert web + flanges - sum(row.deduction_mm for row in channel) == pytest.approx(160.0)
    # only the flat part bears on the die: 80 - 11.9 + 10 = 78 is enough, however long the corner makes it
    assert not any(row.short for row in channel)


def test_folds_at_an_angle_to_each_other_lengthen_no_leg() -> None:
    corners = tuple(Corner(at_mm=p) for p in ((0, 0), (100, 0), (100, 100), (0, 100)))
    one = FoldLine(name="low", from_mm=(0, 30), to_mm=(60, 30), inside_radius_mm=3)
    plate = Plate(name="p", material="S235", thickness_mm=2, outline=corners, folds=(one,))
    alone = bend_rows(plate)[0]
    slanted = FoldLine(name="slanted", from_mm=(0, 70), to_mm=(40, 100), inside_radius_mm=3)
    both = {row.fold: row for row in bend_rows(plate.with_fold(slanted))}
    assert both["low"].legs_mm[0] == pytest.approx(alone.legs_mm[0])
    assert both["low"].legs_mm[1] <= alone.legs_mm[1] + 1e-9


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

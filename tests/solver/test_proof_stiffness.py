"""Measured stiffness from gauge readings: by hand, and the dash bar's own beam model measured back."""

from __future__ import annotations

import math

import numpy as np
import pytest

from geometry.fixing import BarEnd, DashBar, RectangularTube, RoundTube
from solver.dash_bar import bar_model
from solver.proof_readings import ProofError
from solver.proof_stiffness import HungReadings, Measured, bar_end_stiffness, compared, measured_stiffness

E, NU = 210_000.0, 0.3
READ = HungReadings(left_mm=0.12, after_left_mm=0.01, right_mm=-0.10, after_right_mm=-0.01)


def bar(end: BarEnd, *, round_tube: bool = False) -> DashBar:
    return DashBar(
        from_mm=(-500, 100, 0),
        to_mm=(500, 100, 0),
        section=RoundTube(outer_mm=42.4, wall_mm=2.6)
        if round_tube
        else RectangularTube(width_mm=40, height_mm=50, wall_mm=3),
        ends=(end, end),
    )


def moved_mm(of: DashBar, pull_n: float) -> float:
    """Return what the beam model moves at its middle, up, under a pull up."""
    model = bar_model(of, [500.0], E, NU)
    middle = model.motions[model.node_at(500.0)]
    load = middle.T @ np.array([0.0, pull_n, 0.0, 0.0, 0.0, 0.0])
    return float((middle @ np.linalg.solve(model.stiffness, load))[1])


def test_the_three_readings_by_hand() -> None:
    assert READ.couple_share_mm == pytest.approx(0.11)
    assert READ.sag_mm == pytest.approx(0.01)
    assert READ.gap_mm == pytest.approx(0.02)
    # 0.11 less half of 0.02 is 0.1 mm at 60 mm: 0.0955 deg, so 30 N.m are 314 N.m/deg
    found = measured_stiffness(READ, 30.0, 60.0, read_mm=0.01)
    assert found.nm_per_deg == pytest.approx(314.2, abs=0.1)
    assert found.low == pytest.approx(30 / math.degrees(math.atan(0.11 / 60)))
    assert found.high == pytest.approx(30 / math.degrees(math.atan(0.09 / 60)))


def test_it_is_told_beside_the_donors() -> None:
    words = compared(Measured(540.0, 500.0, 580.0), Measured(300.0, 290.0, 310.0))
    assert words == "1.8 times as stiff as the donor's, measured (1.6 to 2.0 as far as the gauge tells)"
    assert "or more" in compared(Measured(540.0, 500.0, None), Measured(300.0, 290.0, 310.0))


@pytest.mark.parametrize("round_tube", [False, True])
@pytest.mark.parametrize("k", [20.0, 150.0, 900.0])
def test_a_bar_end_is_measured_back(k: float, round_tube: bool) -> None:
    of = bar(BarEnd(kind="stiffness", bending_nm_per_deg=(k, k)), round_tube=round_tube)
    found = bar_end_stiffness(of, E, NU, 600.0, moved_mm(of, 600.0), read_mm=1e-4)
    assert found.nm_per_deg == pytest.approx(k, rel=1e-6)
    assert found.high is not None
    assert found.low < k < found.high


def test_a_bar_end_cannot_be_told_from_a_weld_by_a_coarse_gauge() -> None:
    of = bar(BarEnd(kind="welded"))
    found = bar_end_stiffness(of, E, NU, 600.0, moved_mm(of, 600.0) + 0.005, read_mm=0.01)
    assert found.high is None
    assert found.low > 100.0
    pinned = bar(BarEnd(kind="pinned"))
    soft = bar_end_stiffness(pinned, E, NU, 600.0, moved_mm(pinned, 600.0), read_mm=0.002)
    assert soft.low == 0.0
    assert soft.high is not None
    assert soft.high < 20.0


def test_readings_that_cannot_be_so_are_sentences() -> None:
    of = bar(BarEnd(kind="pinned"))
    with pytest.raises(ProofError, match="ends give way"):
        bar_end_stiffness(of, E, NU, 600.0, 2.0 * moved_mm(of, 600.0))
    with pytest.raises(ProofError, match="less than with both ends welded"):
        bar_end_stiffness(of, E, NU, 600.0, 0.02, read_mm=0.001)
    with pytest.raises(ProofError, match="tells nothing"):
        bar_end_stiffness(of, E, NU, 0.0, 1.0)
    with pytest.raises(ProofError, match="no more than it can be read to"):
        measured_stiffness(HungReadings(0.01, 0.0, -0.01, 0.0), 30.0, 60.0)
    with pytest.raises(ProofError, match="give both above zero"):
        measured_stiffness(READ, 0.0, 60.0)

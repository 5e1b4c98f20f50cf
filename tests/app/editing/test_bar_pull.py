"""A pull at the dash bar against a beam by hand: the ends' stiffness comes back, with its source."""

from __future__ import annotations

import pytest

from app.editing.bar_pull import IMMOVABLE_NM_PER_DEG, BarReadings, bar_answer, with_measured_ends
from app.editing.refused import EditRefused
from geometry.bracket import Bracket
from geometry.fixing import BarEnd, DashBar, RectangularTube

LONG, E = 1000.0, 210_000.0
SECOND_MOMENT = (40 * 50**3 - 34 * 44**3) / 12.0
BAR = DashBar(
    from_mm=(-500, 100, 0),
    to_mm=(500, 100, 0),
    section=RectangularTube(width_mm=40, height_mm=50, wall_mm=3),
    ends=(BarEnd(kind="bolted flange"), BarEnd(kind="bolted flange")),
)
BRACKET = Bracket(dash_bar=BAR)


def bends_mm(pull_n: float, k_nm_per_deg: float) -> float:
    """Return what the middle bends by, Euler's beam on two springs; shear adds some 3 % to it.

    The ends' moment is M = F L / 8 / (1 + 2 E I / k L) and takes M L^2 / 8 E I off F L^3 / 48 E I.
    """
    k = k_nm_per_deg * 1000.0 * 57.29578
    moment = pull_n * LONG / 8.0 / (1.0 + 2.0 * E * SECOND_MOMENT / (k * LONG))
    return pull_n * LONG**3 / (48 * E * SECOND_MOMENT) - moment * LONG**2 / (8 * E * SECOND_MOMENT)


def read(**changes: object) -> BarReadings:
    given: dict[str, object] = {
        "pull_n": 600.0,
        "middle_mm": bends_mm(600.0, 500.0) + 0.05,
        "ends_mm": (0.04, 0.06),
        "who": "R. Inventley, three gauges",
    }
    return BarReadings(**(given | changes))  # type: ignore[arg-type]


def test_the_ends_are_as_stiff_as_the_beam_by_hand_says() -> None:
    changed = with_measured_ends(BRACKET, read())
    assert changed.dash_bar is not None
    for end in changed.dash_bar.ends:
        assert end.kind == "stiffness"
        assert end.bending_nm_per_deg is not None
        low, high = end.bending_nm_per_deg
        # what is not shear is what by hand says: the beam's shear makes the ends look stiffer here
        assert low < 500.0 < 1.2 * high
        assert end.seen_by is not None
        assert end.seen_by.startswith("measured: 600 N at its middle")
        assert "R. Inventley, three gauges" in end.seen_by
    assert "N.m/deg" in bar_answer(BRACKET, read()).words


def test_an_end_that_cannot_be_told_from_a_weld_has_no_upper_end() -> None:
    ends = bar_answer(BRACKET, read(middle_mm=bends_mm(600.0, 1e5) + 0.065)).ends
    assert ends[0].bending_nm_per_deg is not None
    assert ends[0].bending_nm_per_deg[1] == IMMOVABLE_NM_PER_DEG


@pytest.mark.parametrize(
    ("bracket", "changes", "words"),
    [
        (Bracket(), {}, "There is no dash bar to measure"),
        (BRACKET.but(dash_bar=BAR.but(material="cheese")), {}, "cheese, is not known"),
        (BRACKET, {"middle_mm": 0.0}, "tells nothing"),
        (BRACKET, {"middle_mm": 9.0}, "its ends give way"),
        (BRACKET, {"middle_mm": 0.06}, "less than with both ends welded"),
    ],
)
def test_readings_that_cannot_be_so_are_a_sentence(
    bracket: Bracket, changes: dict[str, object], words: str
) -> None:
    with pytest.raises(EditRefused, match=words):
        with_measured_ends(bracket, read(**changes))

"""Metal thicker than its table knows: one sentence and no verdict, never a fault, never a pass."""

from __future__ import annotations

import pytest

from geometry.bar_section import FlatBar
from geometry.findings import findings_of
from geometry.fixing import DashBar
from solver.analyse import analyse
from solver.evaluation import loaded
from solver.weld_checks import weld_checks, weld_results
from tests.brackets import WELDED, one_piece, solved_once, welded_strip


@pytest.mark.parametrize(("name", "thickness_mm"), [("6061-T6", 12.7), ("5052-H32", 14.0), ("6061-T6", 0.3)])
def test_a_sheet_whose_strength_is_in_no_table_is_not_judged(name: str, thickness_mm: float) -> None:
    """Half an inch of aluminium ended in a fault: nothing was there to hold its stress against."""
    bracket = one_piece()
    plate = bracket.plates[0].but(material=name, thickness_mm=thickness_mm)
    results = analyse(bracket.with_plate(plate))
    assert results.verdict == "no verdict"
    assert any("is not in the table" in reason for reason in results.reasons)
    assert not results.checks


def test_a_bar_too_thick_for_its_table_bars_the_verdict() -> None:
    """Its stress was left out without a word: a bracket could pass with nobody having looked at its bar."""
    bracket = one_piece()
    assert bracket.dash_bar is not None
    bar = bracket.dash_bar.but(section=FlatBar(width_mm=40, height_mm=45))
    thick = bracket.but(dash_bar=bar.but(section=FlatBar(width_mm=41, height_mm=45)))
    found = {f.code: f for f in findings_of(thick)}
    assert found["material-thickness"].bars_verdict
    assert "material-thickness" not in {f.code for f in findings_of(bracket.but(dash_bar=bar))}


def test_a_weld_to_such_a_bar_is_not_judged_by_its_throat() -> None:
    """A strength of nought made demand and used share of its throat no numbers."""
    half = 25.0
    bar = DashBar(
        from_mm=(-300, -half, 3),
        to_mm=(300, -half, 3),
        section=FlatBar(width_mm=2 * half, height_mm=2 * half),
        ends=(WELDED, WELDED),
    )
    solved = solved_once(welded_strip(anchor=False).but(dash_bar=bar, anchors=()), 20.0)
    load = loaded(solved.states, solved.cases, 30.0)
    assert [check.name for check in weld_checks(solved, load)] == ["section at weld foot"]
    assert [weld.used for weld in weld_results(solved, load)] == [None]

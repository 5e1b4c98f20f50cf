"""A range of stiffness that begins at nought: its low side holds nothing, its high side all it says."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest

from geometry.bracket import Bracket
from geometry.casing import Bearing, Column, ColumnMount
from solver.assumptions import assumptions_of
from solver.evaluation import State
from solver.free_motions import free_motions
from solver.load_cases import load_cases
from solver.solved import Solved, solved, with_inputs
from tests.brackets import NO_BEARINGS, linked, one_piece, straps

LAYOUTS = ("side by side", "in line", "across")
HIGH = 10_000.0


def bearings(low: float) -> Column:
    return Column(
        held_by="bearings",
        bearings=tuple(
            Bearing(name=name, station_mm=at, stiffness_n_per_mm=(low, HIGH))
            for name, at in (("lower", -200), ("upper", 300))
        ),
    )


def mount(low: float) -> Column:
    held = ColumnMount(name="m", station_mm=200, sideways_n_per_mm=(low, HIGH), along_n_per_mm=(low, HIGH))
    return Column(held_by="donor mount", mount=held)


def words_of(bracket: Bracket) -> list[tuple[str, tuple[str, ...]]]:
    linkage, plates = linked(bracket)
    return [(m.words, m.driven_by) for m in free_motions(bracket, linkage, plates, load_cases(bracket))]


@pytest.mark.parametrize("layout", LAYOUTS)
@pytest.mark.parametrize("column", [bearings, mount])
def test_what_may_hold_nothing_stops_no_free_motion(layout: str, column: Callable[[float], Column]) -> None:
    loose = words_of(straps(layout, column=NO_BEARINGS))
    assert loose
    assert words_of(straps(layout, column=column(0.0))) == loose
    assert words_of(straps(layout, column=column(HIGH))) != loose


def again(whole: Solved, column: Column) -> Solved:
    """The same plates with another column, nothing else kept."""
    return solved(whole.bracket.but(column=column), whole.plates, whole.surveys, whole.sections)


def state(whole: Solved, taken: str, side: str) -> State:
    return next(s for s in whole.states if (s.taken, s.stiffness) == (taken, side))


@pytest.mark.parametrize("layout", ["side_by_side", "in_line"])
@pytest.mark.parametrize("column", [bearings, mount])
@pytest.mark.parametrize("taken", ["stuck", "all slipped"])
def test_each_side_is_that_of_its_own_column(
    layout: str,
    column: Callable[[float], Column],
    taken: str,
    request: pytest.FixtureRequest,
) -> None:
    whole: Solved = request.getfixturevalue(layout)
    range_from_nought = again(whole, column(0.0))
    for side, alone in (("low", again(whole, NO_BEARINGS)), ("high", again(whole, column(HIGH)))):
        found, expected = state(range_from_nought, taken, side), state(alone, taken, "low")
        assert found.holds == expected.holds
        held = [case.rest for case, holds in zip(whole.cases, expected.holds, strict=True) if holds]
        assert held
        loads = np.column_stack(held)
        assert found.response.casing @ loads == pytest.approx(
            expected.response.casing @ loads, rel=1e-6, abs=1e-9
        )


def test_the_quick_path_keeps_both_sides_apart(side_by_side: Solved) -> None:
    whole = again(side_by_side, bearings(0.0))
    quick = with_inputs(whole, whole.bracket.but(loads=whole.bracket.loads.but(pull_n=120.0)))
    sides = {s.stiffness: s.holds for s in quick.states if s.taken == "all slipped"}
    assert not all(sides["low"])
    assert all(sides["high"])


@pytest.mark.parametrize(("lows", "told"), [((500, 500), True), ((500, HIGH), False), ((HIGH, HIGH), False)])
def test_that_ranges_are_not_mixed_is_told_where_there_are_several(
    lows: tuple[float, float], told: bool
) -> None:
    stiffnesses = zip((-200, 300), lows, strict=True)
    column = Column(
        held_by="bearings",
        bearings=tuple(
            Bearing(name=f"at {at}", station_mm=at, stiffness_n_per_mm=(low, HIGH)) for at, low in stiffnesses
        ),
    )
    sentences, _ = assumptions_of(one_piece(column=column), {})
    assert any("one low while another is high is not computed" in words for words in sentences) is told

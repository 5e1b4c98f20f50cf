"""What results hold for drawing a load case: movements of plates, casing and dash bar, agreeing."""

from __future__ import annotations

from dataclasses import replace
from itertools import product
from types import SimpleNamespace

import numpy as np
import pytest

from geometry.casing_in_space import casing_to_space
from solver.answers import case_results, plate_fields
from solver.checking import check_all
from solver.evaluation import loaded
from solver.movement_checks import largest_movement_mm, turns_deg
from solver.results import CaseResult, PlateField
from tests.brackets import meshed, one_piece, solved_on

BRACKET = one_piece(folded=True)


@pytest.fixture(scope="module")
def answers() -> tuple[tuple[CaseResult, ...], PlateField]:
    plates = meshed(BRACKET, 20.0)
    whole = solved_on(BRACKET, plates)
    checked = check_all(whole, 30.0, slide=False)
    (field,) = plate_fields(checked, plates)
    return case_results(whole, checked.load), field


def test_the_governing_case_is_one_of_the_cases(
    answers: tuple[tuple[CaseResult, ...], PlateField],
) -> None:
    _, field = answers
    governing = field.displacement_mm[field.mesh.vertex_nodes]
    off = np.abs(field.case_displacements_mm - governing).max(axis=(1, 2))
    assert off.min() < 1e-5 * np.abs(governing).max()


def test_the_largest_movement_is_of_the_plate_or_the_casing(
    answers: tuple[tuple[CaseResult, ...], PlateField],
) -> None:
    cases, field = answers
    assert BRACKET.casing is not None
    envelope = BRACKET.casing.envelope
    sides = zip(envelope.low_mm, envelope.high_mm, strict=True)
    corners = np.array([casing_to_space(BRACKET.casing, (x, y, z)) for x, y, z in product(*sides)])
    assert len(field.case_displacements_mm) == len(cases)
    for case, moved in zip(cases, field.case_displacements_mm, strict=True):
        shift, turn = case.casing_motion[:3], case.casing_motion[3:]
        casing = np.linalg.norm(shift + np.cross(turn, corners), axis=1).max()
        plate = np.linalg.norm(moved, axis=1).max()
        # Middles of edges count there too, and stand a hair further out.
        assert max(casing, plate) == pytest.approx(case.movement_mm, rel=0.02)


def test_the_bar_moves_with_the_plate_and_stands_still_where_it_is_welded(
    answers: tuple[tuple[CaseResult, ...], PlateField],
) -> None:
    cases, field = answers
    number = max(range(len(cases)), key=lambda i: cases[i].movement_mm)
    case = cases[number]
    assert case.bar_stations_mm[[0, -1]] == pytest.approx([0.0, 1200.0])
    assert np.abs(case.bar_motions[[0, -1]]).max() == 0.0
    assert BRACKET.dash_bar is not None
    at = np.asarray(BRACKET.dash_bar.from_mm) + np.outer(case.bar_stations_mm, [1.0, 0.0, 0.0])
    points = field.mesh.points[field.mesh.vertex_nodes]
    for node in range(1, len(at) - 1):
        nearest = int(np.argmin(np.linalg.norm(points - at[node], axis=1)))
        motion = case.bar_motions[node]
        there = motion[:3] + np.cross(motion[3:], points[nearest] - at[node])
        moved = field.case_displacements_mm[number][nearest]
        assert np.linalg.norm(there - moved) < 0.2 * case.movement_mm


def test_the_turn_is_about_the_shaft_and_the_lean_about_what_lies_across_it() -> None:
    """Radians in degrees; two small leans at right angles add up as vectors do."""
    ways = np.array([[3e-3, 0.0, 0.0], [4e-3, 0.0, -6e-3], [0.0, -2e-3, 0.0]])
    load = SimpleNamespace(casing=np.vstack([np.ones((3, 3)), ways]))
    turn, lean = turns_deg(load)  # type: ignore[arg-type]
    assert turn == pytest.approx(np.degrees([0.0, 2e-3, 0.0]))
    assert lean == pytest.approx(np.degrees([5e-3, 0.0, 6e-3]))


def test_movement_by_unit_loads_is_that_by_every_mode() -> None:
    """At another couple, with another plate in its place, and for columns that are of no state."""
    whole = solved_on(BRACKET, meshed(BRACKET, 20.0))
    for couple_nm, modes in ((30.0, 1.0), (-7.0, 1.0), (30.0, 2.0)):
        survey = replace(whole.surveys[0], movement_modes=modes * whole.surveys[0].movement_modes)
        other = replace(whole, surveys=(survey,))
        load = loaded(whole.states, whole.cases, couple_nm)
        assert len({column.taken for column in load.columns}) == 2
        moves = (survey.movement_modes @ load.amounts[0]).reshape(-1, 3, len(load.columns))
        by_modes = np.linalg.norm(moves, axis=1).max(axis=0)
        envelope = largest_movement_mm(replace(whole, surveys=()), load, np.ones(len(by_modes), dtype=bool))
        expected = np.maximum(by_modes, envelope[0])
        assert (by_modes > envelope[0]).any()
        for kept in (len(load.by_state), 1, 0):
            part = replace(load, by_state=load.by_state[:kept])
            for wanted in (np.ones(len(expected), dtype=bool), np.arange(len(expected)) % 3 == 0):
                found, _ = largest_movement_mm(other, part, wanted)
                assert found == pytest.approx(np.where(wanted, expected, 0.0), rel=1e-9)

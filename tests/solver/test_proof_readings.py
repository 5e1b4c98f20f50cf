"""What a gauge should read, against rigid-body kinematics by hand; and against a solved bracket."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from solver.casing_answers import casing_answers
from solver.load_cases import weight_n
from solver.proof_readings import (
    LEAST_BAND,
    READ_MM,
    Expected,
    GaugePlace,
    Hang,
    ProofError,
    expected_readings,
    hung_mass_kg,
    turn_arm_mm,
)
from solver.results import CasingAnswer, CasingMovement, Floats, Results
from tests.app.example_results import example_results
from tests.brackets import NO_BEARINGS, one_piece, solved_once, straps

RIGHT = GaugePlace((60.0, 0.0, -20.0), (0.0, 1.0, 0.0))
"""60 mm right of the shaft, reading upward: a turn from X toward Y reads as more."""
REFERENCE = np.array([0.0, 0.0, -50.0])


def answer(motions: Floats, taken: str = "stuck", held: tuple[bool, ...] = (True,) * 6) -> CasingAnswer:
    return CasingAnswer(taken, "low", motions, held, REFERENCE)  # type: ignore[arg-type]


def springs(per_n: float = 0.0, per_lean: float = 0.0, per_turn: float = 0.0) -> Floats:
    """Return a casing on springs at its reference: up and down, leaning about X and Y, turning."""
    return np.diag([per_n, per_n, per_n, per_lean, per_lean, per_turn])


def results(*answers: CasingAnswer, lash_deg: float = 0.0) -> Results:
    moved = CasingMovement(turn_deg=0.0, lean_deg=0.0, movement_mm=0.0, lash_deg=lash_deg)
    return replace(example_results(), casing_answers=answers, casing=moved)


def middle(low: float | None, high: float | None) -> float:
    """Return what a band of 5 % and what a reading may be off by was put about."""
    assert low is not None
    assert high is not None
    return (high + low) / 2.0


def test_30_newton_metres_are_six_kilograms_at_half_a_metre() -> None:
    assert hung_mass_kg(30.0, 500.0) == pytest.approx(6.118, abs=5e-4)
    # on a raked shaft only the part of the weight square to it turns the casing
    assert hung_mass_kg(30.0, 500.0, 26.0) == pytest.approx(6.118 / math.cos(math.radians(26)), abs=1e-3)


@pytest.mark.parametrize("rake", [0.0, 26.0, -10.0])
def test_the_hang_gives_the_couple_one_way_and_the_other(rake: float) -> None:
    hang = Hang(hung_mass_kg(24.0, 400.0, rake), 400.0, 30.0, rake)
    assert hang.couple_nm == pytest.approx(24.0)
    left, right = (hang.wrench(side, (0, 0, 0)) for side in ("left", "right"))
    assert left[5] == pytest.approx(24_000.0)
    assert right[5] == pytest.approx(-24_000.0)
    weight = weight_n(hang.mass_kg)
    assert np.linalg.norm(left[:3]) == pytest.approx(weight)
    # both sides alike: the weight in the middle of the lever
    both = (left + right) / 2.0
    assert both[3] == pytest.approx(30.0 * weight * math.cos(math.radians(rake)))
    assert both[4:] == pytest.approx([0.0, 0.0])


def test_a_casing_that_only_turns_moves_the_gauge_by_turn_times_arm() -> None:
    turn_per_nmm = math.radians(0.1) / 30_000.0
    expected = expected_readings(
        results(
            answer(springs(per_turn=turn_per_nmm)), answer(springs(per_turn=turn_per_nmm), "all slipped")
        ),
        RIGHT,
        Hang(hung_mass_kg(30.0, 500.0), 500.0, 0.0),
    )
    moved = 60.0 * math.radians(0.1)
    assert expected.couple_share.low_mm == pytest.approx((1 - LEAST_BAND) * moved - READ_MM)
    assert expected.couple_share.high_mm == pytest.approx((1 + LEAST_BAND) * moved + READ_MM)
    assert expected.sag == Expected(-READ_MM, READ_MM, READ_MM)
    assert turn_arm_mm(RIGHT) == pytest.approx(60.0)


def test_the_weight_sags_and_tips_the_casing_alike_on_both_sides() -> None:
    hang = Hang(6.0, 500.0, 10.0, 20.0)
    motions = springs(per_n=1e-4, per_lean=2e-8)
    expected = expected_readings(results(answer(motions), answer(motions, "all slipped")), RIGHT, hang)
    down = weight_n(6.0) * math.cos(math.radians(20.0))
    # at the reference down; the lever stands 60 mm before it and tips the casing, and the gauge 30 mm before
    shift = -1e-4 * down
    tip = 2e-8 * down * 60.0
    by_hand = shift - tip * 30.0
    assert middle(expected.sag.low_mm, expected.sag.high_mm) == pytest.approx(by_hand, abs=1e-9)
    # raked, the weight's part along the shaft swings the casing about Y: a gauge that reads Y does not see it
    assert middle(expected.couple_share.low_mm, expected.couple_share.high_mm) == pytest.approx(
        0.0, abs=1e-12
    )


def test_a_gauge_square_to_a_rake_sees_what_the_weight_along_the_shaft_does() -> None:
    sideways = GaugePlace((0.0, 60.0, -20.0), (-1.0, 0.0, 0.0))
    hang = Hang(6.0, 500.0, 10.0, 20.0)
    motions = springs(per_lean=2e-8)
    expected = expected_readings(results(answer(motions), answer(motions, "all slipped")), sideways, hang)
    # left: at x = -500, force -sin(20) W along Z: moment about Y is z Fx - x Fz = -500 sin(20) W; the gauge,
    # 30 mm before the reference, moves by that turn about Y times 30 along X, and reads against it
    about_y = -500.0 * math.sin(math.radians(20.0)) * weight_n(6.0)
    by_hand = -2e-8 * about_y * 30.0
    assert middle(expected.couple_share.low_mm, expected.couple_share.high_mm) == pytest.approx(
        by_hand, abs=1e-9
    )


def test_the_band_runs_from_stuck_to_slipped_and_half_the_lash() -> None:
    hang = Hang(hung_mass_kg(30.0, 500.0), 500.0, 0.0)
    stuck, slipped = springs(per_turn=1e-8), springs(per_turn=3e-8)
    expected = expected_readings(
        results(answer(stuck), answer(slipped, "all slipped"), lash_deg=0.5), RIGHT, hang
    )
    lash = 60.0 * math.radians(0.5)
    assert expected.couple_share.low_mm == pytest.approx(0.95 * 60.0 * 30_000 * 1e-8 - READ_MM)
    assert expected.couple_share.high_mm == pytest.approx(1.05 * 60 * 30_000 * 3e-8 + lash / 2 + READ_MM)
    assert expected.couple_share.held_mm == pytest.approx(1.05 * 60.0 * 30_000 * 1e-8 + READ_MM)
    assert expected.gap.low_mm == 0.0
    assert expected.gap.held_mm == READ_MM
    assert expected.gap.high_mm == pytest.approx(lash + READ_MM)


def test_where_only_friction_holds_there_is_no_upper_end() -> None:
    hang = Hang(6.0, 500.0, 0.0)
    held = (True, True, True, True, True, False)
    expected = expected_readings(
        results(answer(springs(per_turn=1e-8)), answer(springs(), "all slipped", held), lash_deg=math.inf),
        RIGHT,
        hang,
    )
    assert expected.couple_share.high_mm is None
    assert expected.couple_share.held_mm > 0.0
    assert expected.gap.high_mm is None


def test_nothing_solved_and_impossible_hangs_are_sentences() -> None:
    with pytest.raises(ProofError, match="nothing was solved"):
        expected_readings(results(), RIGHT, Hang(6.0, 500.0, 0.0))
    for couple, arm, rake in ((0.0, 500.0, 0.0), (30.0, 0.0, 0.0), (30.0, 500.0, 90.0)):
        with pytest.raises(ProofError, match="give a couple"):
            hung_mass_kg(couple, arm, rake)


def test_a_solved_bracket_answers_in_every_state() -> None:
    solved = solved_once(one_piece(couple_nm=24.0))
    answers = casing_answers(solved)
    assert [a.taken for a in answers] == ["stuck", "all slipped"]
    stuck, slipped = answers
    assert all(slipped.held)
    for one in answers:
        assert np.allclose(one.motions, one.motions.T, rtol=1e-6, atol=1e-9 * np.abs(one.motions).max())
    assert slipped.motions[5, 5] > stuck.motions[5, 5] > 0.0
    # the turn that the analysis itself tells for the couple as measured
    case = next(i for i, c in enumerate(solved.cases) if c.kind == "as measured")
    response = solved.states[0].response.casing @ solved.cases[case].coefficients(24.0)
    assert 24_000.0 * stuck.motions[5, 5] == pytest.approx(response[5])
    expected = expected_readings(
        replace(example_results(), casing_answers=answers), RIGHT, Hang(hung_mass_kg(24, 500, 25), 500, 0, 25)
    )
    assert expected.couple_share.high_mm is not None
    assert 0.0 < expected.couple_share.low_mm + READ_MM < expected.couple_share.high_mm
    assert expected.sag.low_mm < 0.0


@pytest.mark.parametrize(("layout", "stops"), [("side by side", True), ("in line", False)])
def test_straps_answer_as_far_as_their_free_motions_let_them(layout: str, stops: bool) -> None:
    answers = casing_answers(solved_once(straps(layout, column=NO_BEARINGS)))
    slipped = next(a for a in answers if a.taken == "all slipped")
    assert not slipped.held[0]  # both rack sideways once everything slips
    assert slipped.held[5] is stops  # in line, the casing swings about the shaft too
    expected = expected_readings(
        replace(example_results(), casing_answers=answers), RIGHT, Hang(6.0, 500.0, 0.0)
    )
    assert (expected.couple_share.high_mm is not None) is stops

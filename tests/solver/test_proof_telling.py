"""Whether readings can tell, against kinematics by hand; and what is proposed where they cannot."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from geometry.loads import StatedCouple
from solver.proof_places import FAR_END, LOWER_EDGE, RIGHT_EDGE, gauge_places, hang_of, worth_gauging
from solver.proof_readings import READ_MM, GaugePlace, Hang, couple_shares, hung_mass_kg
from solver.proof_telling import most_couple_nm, proposal, telling
from solver.results import CasingAnswer, CasingMovement, Floats, Results
from tests.app.example_results import example_bracket, example_results
from tests.brackets import one_piece

RIGHT = GaugePlace((60.0, 0.0, 0.0), (0.0, 1.0, 0.0))
HANG = Hang(hung_mass_kg(30.0, 500.0), 500.0, 0.0)
BRACKET = example_bracket().but(loads=example_bracket().loads.but(couple=StatedCouple(couple_nm=30.0)))


def turning(
    held: float, slipped: float | None, lash_deg: float = 0.0, lean: float = 0.0, holds_to_nm: float = 200.0
) -> Results:
    """Return results of a casing that turns so many rad under 1 N.mm, held and slipped; and leans."""

    def answer(turn: float, taken: str, *, free: bool) -> CasingAnswer:
        motions: Floats = np.diag([0.0, 0.0, 0.0, lean, 0.0, turn])
        kept = (True, True, True, True, True, not free)
        return CasingAnswer(taken, "low", motions, kept, np.zeros(3))  # type: ignore[arg-type]

    answers = (
        answer(held, "stuck", free=False),
        answer(slipped or 0.0, "all slipped", free=slipped is None),
    )
    moved = CasingMovement(turn_deg=0.0, lean_deg=0.0, movement_mm=0.0, lash_deg=lash_deg)
    return replace(
        example_results(), checks=(), casing_answers=answers, casing=moved, holds_to_nm=holds_to_nm
    )


def a_turn_of(mm: float) -> float:
    """Return rad for 1 N.mm that makes the gauge read so much under 30 N.m."""
    return mm / 60.0 / 30_000.0


def test_the_shares_are_turn_times_arm() -> None:
    shares = couple_shares(turning(a_turn_of(0.1), a_turn_of(0.3), lash_deg=0.5), RIGHT, HANG)
    assert shares.held_mm == pytest.approx((0.1,))
    assert shares.slipped_mm == pytest.approx((0.3,))
    assert shares.half_lash_mm == pytest.approx(60.0 * math.radians(0.25))
    assert couple_shares(turning(a_turn_of(0.1), None), RIGHT, HANG).slipped_mm is None


@pytest.mark.parametrize(
    ("held", "slipped", "lash", "nought", "slip"),
    [
        (0.10, 0.30, 0.0, True, True),
        (0.10, 0.11, 0.0, True, False),
        (0.10, 0.11, 0.1, True, True),  # half the lash is 0.052 mm
        (0.01, 0.01, 0.5, False, True),
        (0.02, None, 0.0, False, True),  # 0.019 after the band, less than a reading may be off by
        (0.022, None, 0.0, True, True),
        (0.01, 0.01, 0.0, False, False),
    ],
)
def test_what_can_be_told(held: float, slipped: float | None, lash: float, nought: bool, slip: bool) -> None:
    loose = None if slipped is None else a_turn_of(slipped)
    found = telling(turning(a_turn_of(held), loose, lash_deg=lash), RIGHT, HANG)
    assert (found.nought, found.slip) == (nought, slip)
    assert bool(found.words) == (not nought or not slip)
    assert ("does not touch reads the same" in found.words) == (not nought)


def test_a_gauge_that_reads_less_tells_as_well() -> None:
    left = GaugePlace((-60.0, 0.0, 0.0), (0.0, 1.0, 0.0))
    assert telling(turning(a_turn_of(0.1), a_turn_of(0.3)), left, HANG).words == ""


def test_a_little_too_little_is_mended_by_more_mass_up_to_the_factored_couple() -> None:
    """0.0125 mm under 30 N.m needs 1.69 times as much for 0.02 mm beyond 5 %: 51 of the 60 N.m allowed."""
    results = turning(a_turn_of(0.0125), None)
    assert most_couple_nm(BRACKET, results) == pytest.approx(60.0)
    said = proposal(BRACKET, results, RIGHT, HANG)
    mass, arm, couple = (float(said.split()[k].strip("(")) for k in (0, 3, 5))
    assert 50.5 < couple < 56.0
    assert mass * 9.80665 * arm / 1000.0 == pytest.approx(couple, abs=0.6)
    assert mass <= 12.0
    heavier = Hang(mass, arm, 0.0)
    assert telling(results, RIGHT, heavier).nought
    assert 0.0125 * heavier.couple_nm / 30.0 * 0.95 > READ_MM


def test_what_it_holds_to_is_never_hung() -> None:
    results = turning(a_turn_of(0.0125), None, holds_to_nm=40.0)
    assert most_couple_nm(BRACKET, results) == pytest.approx(36.0)
    said = proposal(BRACKET, results, RIGHT, HANG)
    assert said.startswith("The same hang with the gauge ")
    far = float(said.split("the gauge ")[1].split()[0])
    # 0.02 / (0.95 x 0.0125) x 60 mm = 101 mm, in steps of a tenth
    assert 101.0 < far < 120.0
    assert telling(results, GaugePlace((far, 0.0, 0.0), RIGHT.along), HANG).nought


def test_more_mass_and_a_pointer_together_where_neither_alone_tells() -> None:
    """0.0015 mm at 60 mm: 0.012 mm at 490 mm, and twice as much couple makes 0.023 of it, beyond 5 %."""
    results = turning(a_turn_of(0.0015), None)
    said = proposal(BRACKET, results, RIGHT, HANG)
    assert "N.m) with the gauge" in said
    couple = float(said.split("(")[1].split()[0])
    far = float(said.split("the gauge ")[1].split()[0])
    assert 0.0015 * couple / 30.0 * far / 60.0 * 0.95 > READ_MM * 0.99
    assert couple <= 60.0
    assert far <= 500.0


def test_where_nothing_tells_it_is_said() -> None:
    assert "No mass and no pointer" in proposal(BRACKET, turning(a_turn_of(1e-4), None), RIGHT, HANG)
    alike = turning(a_turn_of(0.1), a_turn_of(0.1))
    assert proposal(BRACKET, alike, RIGHT, HANG) == "Held and slipped read alike here whatever is hung."
    assert proposal(BRACKET, turning(a_turn_of(0.1), a_turn_of(0.3)), RIGHT, HANG) == ""


def test_a_card_for_every_place_that_shows_more_or_else() -> None:
    bracket = one_piece()
    places = {place.name: place.gauge for place in gauge_places(bracket)}
    assert set(places) == {RIGHT_EDGE, FAR_END, LOWER_EDGE}
    casing = bracket.casing
    assert casing is not None
    low, high = (casing.station_mm + end[2] for end in (casing.envelope.low_mm, casing.envelope.high_mm))
    # a quarter of the block from either end
    assert places[RIGHT_EDGE].at_mm[2] == pytest.approx(high - 0.25 * (high - low))
    assert places[FAR_END].at_mm[2] == pytest.approx(low + 0.25 * (high - low))
    hang = hang_of(bracket, 500.0)
    turn = turning(a_turn_of(0.1), a_turn_of(0.3))
    arms = {name: gauge.at_mm for name, gauge in places.items()}
    wanted = [RIGHT_EDGE]
    if -arms[LOWER_EDGE][1] > 1.25 * arms[RIGHT_EDGE][0]:
        wanted.append(LOWER_EDGE)
    assert [place.name for place in worth_gauging(bracket, turn, hang)] == wanted
    # a casing that swings about the vertical when it is turned moves sideways, each end another way
    swung = turn.casing_answers[0]
    motions = swung.motions.copy()
    motions[0, 5] = 4.0 * a_turn_of(0.1) * abs(arms[RIGHT_EDGE][0])
    both = tuple(replace(a, motions=motions) for a in turn.casing_answers)
    sideways = replace(turn, casing_answers=both)
    assert LOWER_EDGE in [place.name for place in worth_gauging(bracket, sideways, hang)]


def test_the_lightest_hang_is_a_tenth_of_a_kilogram() -> None:
    bracket = one_piece()
    light = bracket.but(loads=bracket.loads.but(couple=StatedCouple(couple_nm=0.2)))
    assert hang_of(light, 1000.0).mass_kg == 0.1

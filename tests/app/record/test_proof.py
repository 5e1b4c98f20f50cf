"""Readings outside their band, or not taken, are open; nothing about a proof is ever a pass."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from app.record.proof import cards_of, couple_nm, open_proofs, proof_lines, proof_words, untold
from app.record.record import Expected, Measured, Proof
from geometry.loads import StatedCouple
from geometry.stiffness_ranges import ALL_LOW
from solver.proof_places import RIGHT_EDGE
from solver.results import CasingAnswer, CasingMovement, Results
from tests.app.example_results import example_results
from tests.app.record.examples import clear_results, good_proof, locked_bracket, settled_record
from tests.brackets import one_piece


def said(proof: Proof, results: Results | None = None) -> str:
    record = settled_record().but(measured=Measured(proof=(proof,)))
    return " | ".join(open_proofs(record, results, locked_bracket()))


def test_readings_are_turned_into_share_sag_and_gap() -> None:
    proof = good_proof(left_mm=0.30, right_mm=-0.10, left_again_mm=0.32, zero_mm=0.01)
    assert proof.share_mm == pytest.approx((0.31 + 0.10) / 2)
    assert proof.sag_mm == pytest.approx((0.31 - 0.10) / 2 - 0.01)
    assert proof.gap_mm == pytest.approx(0.01)
    assert proof.apart_mm == pytest.approx(0.02)


def test_the_hung_couple_by_hand() -> None:
    proof = good_proof(mass_kg=6.118, arm_mm=500.0)
    assert couple_nm(proof, locked_bracket()) == pytest.approx(30.0, abs=0.002)
    raked = locked_bracket().but(rake_deg=60.0)
    assert couple_nm(proof, raked) == pytest.approx(15.0, abs=0.002)


def test_all_inside_says_nothing() -> None:
    assert said(good_proof()) == ""


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        (
            {"left_mm": 0.16, "left_again_mm": 0.16},
            "couple's share 0.120 mm (expected 0.050 to 0.090 mm); outside",
        ),
        ({"right_mm": 0.03}, "outside its band"),
        ({"zero_after_left_mm": 0.05}, "gap at zero 0.050 mm"),
        ({"left_again_mm": 0.10}, "lie 0.040 mm apart"),
        ({"right_mm": None}, "couple's share not read"),
        ({"zero_after_right_mm": None}, "gap at zero not read"),
        ({"mass_kg": None}, "the mass or its arm is blank"),
        ({"mass_kg": 3.0}, "14.7 N.m were hung, less than the couple of 30 N.m"),
        (
            {"left_mm": 0.0, "right_mm": 0.0, "left_again_mm": 0.0, "expected_share": Expected(low_mm=-1)},
            "couple's share 0.000 mm (expected -1.000 mm or more); the gauge read nought: did it touch?",
        ),
        (
            {
                "left_mm": 0.02,
                "right_mm": -0.02,
                "left_again_mm": 0.02,
                "expected_share": Expected(low_mm=-0.01, high_mm=0.05),
            },
            "no more than a reading may be off by: set it further from the shaft, or hang more",
        ),
        ({"expected_share": None}, "nothing is expected: say where the gauge stood"),
        ({"expected_share": Expected(low_mm=0.0)}, "nothing but friction stops it"),
    ],
)
def test_what_is_outside_missing_or_proves_nothing_is_open(changes: dict[str, object], words: str) -> None:
    assert words in said(good_proof(**changes))


def test_a_card_that_is_hardly_begun_is_open_in_every_line() -> None:
    assert said(Proof(where="first")).count("not read") == 3


def results_on_springs(turn_rad_per_nmm: float) -> Results:
    motions = np.diag([0.0, 0.0, 0.0, 0.0, 0.0, turn_rad_per_nmm])
    answers = tuple(
        CasingAnswer(taken, ALL_LOW, motions, (True,) * 6, np.zeros(3))  # type: ignore[arg-type]
        for taken in ("stuck", "all slipped")
    )
    moved = CasingMovement(turn_deg=0.0, lean_deg=0.0, movement_mm=0.0, lash_deg=0.0)
    return replace(clear_results(), casing_answers=answers, casing=moved)


def test_what_is_computed_now_goes_before_the_band_that_came_with_the_record() -> None:
    """A spring of 1e-7 rad/N.mm under 30.4 N.m, seen 60 mm off the axis: 0.18 mm, so 0.07 is too little."""
    placed = good_proof(gauge_at_mm=(60.0, 0.0, 0.0), gauge_along=(0.0, -1.0, 0.0))
    results = results_on_springs(1e-7)
    share = proof_lines(placed, results, locked_bracket())[0]
    assert share.band is not None
    assert share.band.high_mm is not None
    assert abs(share.band.low_mm + share.band.high_mm) / 2 == pytest.approx(0.1824, rel=0.03)
    assert "couple's share 0.070 mm" in said(placed, results)


def test_a_band_that_only_the_record_gives_keeps_the_proof_open() -> None:
    """Ten millimetres in a band of ten: whoever wrote the record wrote the band."""
    anything = Expected(low_mm=-10.0, high_mm=10.0)
    far = good_proof(
        left_mm=9.0, right_mm=-9.0, left_again_mm=9.0,
        expected_share=anything, expected_sag=anything, expected_gap=anything,
    )  # fmt: skip
    words = "what is expected is the record's own word, not computed: say where the gauge touched"
    assert words in said(far, results_on_springs(1e-7))
    placed = far.but(gauge_at_mm=(60.0, 0.0, 0.0), gauge_along=(0.0, 1.0, 0.0))
    assert words not in said(placed, results_on_springs(1e-7))
    assert "outside its band" in said(placed, results_on_springs(1e-7))


def test_a_gauge_without_a_direction_foretells_nothing() -> None:
    placed = good_proof(gauge_at_mm=(60.0, 0.0, 0.0), gauge_along=(0.0, 0.0, 0.0), expected_share=None)
    assert "nothing is expected" in said(placed, results_on_springs(1e-7))


def test_a_proof_is_told_in_a_sentence() -> None:
    words = proof_words(good_proof(), None, locked_bracket())
    assert words.startswith(
        "proof, casing: 30.4 N.m hung; couple's share 0.070 mm (expected 0.050 to 0.090 mm)"
    )


def test_a_reading_of_nought_never_agrees_and_what_can_tell_is_proposed() -> None:
    """A spring of 5e-9 rad/N.mm under 30.4 N.m reads 0.009 mm at 60 mm: nought lies in the band."""
    placed = good_proof(
        gauge_at_mm=(60.0, 0.0, 0.0), gauge_along=(0.0, 1.0, 0.0), left_mm=0.0, right_mm=0.0,
        left_again_mm=0.0, zero_after_left_mm=0.0, zero_after_right_mm=0.0,
    )  # fmt: skip
    results = results_on_springs(5e-9)
    share = proof_lines(placed, results, locked_bracket())[0]
    assert share.band is not None
    assert share.band.low_mm < 0.0 < (share.band.high_mm or 0.0)
    assert not share.inside
    assert share.is_nought
    words = said(placed, results)
    assert "the gauge read nought: did it touch? The same hang with the gauge" in words
    assert "can tell" in words
    untold_here = untold(placed, results, locked_bracket())
    assert untold_here.startswith("casing, hung so: a gauge that does not touch reads the same as what is")
    assert "can tell; held and slipped read alike" in untold_here
    # farther out it does tell, and reads as foretold
    far = placed.but(gauge_at_mm=(300.0, 0.0, 0.0), left_mm=0.045, right_mm=-0.045, left_again_mm=0.045)
    assert "couple's share" not in said(far, results)


def test_there_is_a_card_for_every_place_worth_gauging() -> None:
    bracket = one_piece()
    assert [card.place.name for card in cards_of(bracket, None)] == [RIGHT_EDGE]
    assert cards_of(bracket.but(casing=None), None) == ()
    blank = bracket.but(loads=bracket.loads.but(couple=StatedCouple()))
    assert [card.hang for card in cards_of(blank, None)] == [None]


def test_a_bolt_that_slips_although_it_is_computed_to_hold_is_open() -> None:
    """0.18 mm held and as much slipped, with half of 1 deg of lash at 60 mm: 0.52 mm more."""
    results = results_on_springs(1e-7)
    loose = replace(results.casing, lash_deg=1.0) if results.casing is not None else None
    results = replace(results, casing=loose, bolts=())
    at = {"gauge_at_mm": (60.0, 0.0, 0.0), "gauge_along": (0.0, 1.0, 0.0)}
    held = good_proof(**at, left_mm=0.18, right_mm=-0.18, left_again_mm=0.18)
    assert "couple's share" not in said(held, results)
    slipped = good_proof(**at, left_mm=0.6, right_mm=-0.6, left_again_mm=0.6, zero_after_left_mm=0.9)
    words = said(slipped, results)
    assert "couple's share 0.600 mm" in words
    assert words.count("a bolt has slipped that is computed to hold: look why") == 2
    # where bolts are computed to slip, they may
    slips = replace(example_results().bolts[0], state="slipped")
    assert "slipped that is computed" not in said(slipped, replace(results, bolts=(slips,)))


def test_a_gauge_that_reads_less_as_the_casing_turns_has_its_band_the_other_way() -> None:
    """0.18 mm at 60 mm, read downward, with half of 1 deg of lash: never up."""
    results = results_on_springs(1e-7)
    loose = replace(results.casing, lash_deg=1.0) if results.casing is not None else None
    results = replace(results, casing=loose, bolts=())
    at = {"gauge_at_mm": (-60.0, 0.0, 0.0), "gauge_along": (0.0, 1.0, 0.0)}
    held = good_proof(**at, left_mm=-0.18, right_mm=0.18, left_again_mm=-0.18)
    assert "couple's share" not in said(held, results)
    slipped = good_proof(**at, left_mm=-0.6, right_mm=0.6, left_again_mm=-0.6)
    assert "a bolt has slipped that is computed to hold" in said(slipped, results)
    band = proof_lines(slipped, results, locked_bracket())[0].band
    assert band is not None
    assert band.low_mm == pytest.approx(-0.1824 * 1.05 - 60.0 * math.radians(0.5) - 0.02, abs=0.001)
    wrong_way = good_proof(**at, left_mm=0.18, right_mm=-0.18, left_again_mm=0.18)
    assert "outside its band" in said(wrong_way, results) or "slipped" in said(wrong_way, results)
    assert (band.high_mm or 0.0) < 0.0

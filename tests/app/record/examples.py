"""A bracket, its record and results for tests of the record; invented, and nothing is analysed."""

from __future__ import annotations

from dataclasses import replace

from app.record.check_list import PROOF_LINE, new_record
from app.record.profile import Profile
from app.record.record import Expected, Measured, MeasuredThickness, Proof, Record
from geometry.bracket import Bracket
from solver.results import Check, Results, Verdict
from tests.app.example_results import example_bracket, example_results

PROFILE = Profile(name="a profile for a test", certifier="R. Inventley (invented)")


def locked_bracket() -> Bracket:
    """Return a bracket whose one bolt is tightened and locked."""
    bracket = example_bracket()
    return bracket.with_bolt(bracket.bolts[0].but(tightening_nm=22.0, locking="thread lock"))


def clear_results(verdict: Verdict = "pass", **changes: object) -> Results:
    """Return results without any finding."""
    return replace(example_results(verdict), findings=(), **changes)  # type: ignore[arg-type]


def good_proof(**changes: object) -> Proof:
    """Return a proof with every reading in its band, of 30.4 N.m."""
    return Proof(
        where="casing",
        mass_kg=6.2,
        arm_mm=500.0,
        left_mm=0.06,
        right_mm=-0.08,
        left_again_mm=0.06,
        zero_after_left_mm=0.01,
        zero_after_right_mm=0.0,
        expected_share=Expected(low_mm=0.05, high_mm=0.09),
        expected_sag=Expected(low_mm=-0.02, high_mm=0.0),
        expected_gap=Expected(low_mm=0.0, high_mm=0.02),
    ).but(**changes)


def settled_record(bracket: Bracket | None = None, profile: Profile = PROFILE) -> Record:
    """Return a record with nothing open: every line met, and the proof hung."""
    record = new_record(bracket or locked_bracket(), "x.bracket.json", profile, "2031-04-30")
    assert any(item.words == PROOF_LINE for item in record.check_list)
    lines = tuple(item.but(state="met") for item in record.check_list)
    return record.but(check_list=lines, measured=measured())


def measured(**changes: object) -> Measured:
    """Return what was measured: the one plate as thick as drawn, and a good proof."""
    plate = locked_bracket().plates[0]
    read = MeasuredThickness(plate=plate.name, thickness_mm=plate.thickness_mm)
    return Measured(thicknesses=(read,), proof=(good_proof(),)).but(**changes)


def check(name: str, used: float, kind: str = "strength") -> Check:
    """Return a check of that name and used share."""
    return Check(name, used, 1.0, "", 0.0, "none", "somewhere", kind=kind)  # type: ignore[arg-type]

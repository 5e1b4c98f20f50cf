"""The mounting's own stiffness beside the donor's, by hand; and a pull at the bar judged as built."""

from __future__ import annotations

import math

import pytest

from app.record.as_built import as_built
from app.record.record import BarPull, DonorHang, Measured
from app.record.stiffness import stiffness_lines
from tests.app.editing.test_bar_pull import BAR, bends_mm
from tests.app.record.examples import good_proof, locked_bracket, settled_record

DONOR = DonorHang(
    where="donor's column, invented",
    mass_kg=6.118,
    arm_mm=500.0,
    rake_deg=0.0,
    gauge_arm_mm=60.0,
    left_mm=0.20,
    after_left_mm=0.02,
    right_mm=-0.20,
    after_right_mm=-0.02,
)
OWN = good_proof(
    mass_kg=6.118, gauge_at_mm=(60.0, 0.0, 0.0), gauge_along=(0.0, 1.0, 0.0), left_mm=0.1, left_again_mm=0.1,
    right_mm=-0.12, zero_after_left_mm=0.01, zero_after_right_mm=-0.01,
)  # fmt: skip


def lines(**measured: object) -> list[str]:
    record = settled_record().but(measured=Measured(**measured))  # type: ignore[arg-type]
    return [line.words for line in stiffness_lines(record, locked_bracket())]


def test_30_newton_metres_over_the_turn_by_hand() -> None:
    """Donor: 0.20 less half of 0.04 is 0.18 mm at 60 mm, 174.5 N.m/deg; own: 0.11 less 0.01, 314."""
    record = settled_record().but(measured=Measured(donor=DONOR, proof=(OWN,)))
    donor, own = stiffness_lines(record, locked_bracket())
    assert donor.found is not None
    assert own.found is not None
    assert donor.found.nm_per_deg == pytest.approx(30 / math.degrees(0.18 / 60), rel=1e-3)
    assert own.found.nm_per_deg == pytest.approx(30 / math.degrees(0.10 / 60), rel=1e-3)
    assert own.beside.startswith("1.8 times as stiff as the donor's, measured")
    assert donor.words.startswith(
        "the donor's own mounting (donor's column, invented): 175 N.m/deg (157 to 196"
    )


def test_a_raked_donor_has_less_couple() -> None:
    record = settled_record().but(measured=Measured(donor=DONOR.but(rake_deg=60.0)))
    (donor,) = stiffness_lines(record, locked_bracket())
    assert donor.found is not None
    assert donor.found.nm_per_deg == pytest.approx(15 / math.degrees(0.18 / 60), rel=1e-3)


def test_what_is_blank_or_read_as_nought_is_told() -> None:
    assert lines() == []
    (said,) = lines(donor=DonorHang(mass_kg=6.0))
    assert "not read whole: arm, rake of its shaft, the gauge's distance from the shaft, left" in said
    nought = DONOR.but(left_mm=0.0, right_mm=0.0, after_left_mm=0.0, after_right_mm=0.0)
    (said,) = lines(donor=nought)
    assert "no more than it can be read to" in said
    said = lines(donor=DONOR, proof=(OWN.but(gauge_at_mm=None),))[1]
    assert "the gauge's place blank" in said


def test_a_pull_at_the_bar_is_judged_beside_what_was_drawn() -> None:
    bracket = locked_bracket().but(dash_bar=BAR)
    pull = BarPull(pull_n=600.0, middle_mm=bends_mm(600.0, 300.0), from_end_mm=0.0, to_end_mm=0.0, where="us")
    record = settled_record(bracket).but(measured=Measured(bar_pull=pull))
    built = as_built(bracket, record)
    assert built.bracket.dash_bar is not None
    assert [end.kind for end in built.bracket.dash_bar.ends] == ["stiffness", "stiffness"]
    (said,) = built.differences
    assert "read by us" in said
    assert said.endswith("drawn bolted flange and bolted flange")
    half = as_built(bracket, record.but(measured=Measured(bar_pull=pull.but(to_end_mm=None))))
    assert half.bracket == bracket
    assert half.misfits == ("the pull at the dash bar is not read whole: pull, middle and both ends",)
    none = as_built(locked_bracket().but(dash_bar=None), record)
    assert "there is no dash bar to measure" in none.misfits[0]

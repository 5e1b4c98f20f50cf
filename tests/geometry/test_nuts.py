"""Nuts: one table of heights for findings and parts to buy; what locking ones take of a torque."""

from __future__ import annotations

import pytest

from geometry.bolt_tables import BOLT_SIZES, BoltSize, bolt_grade, bolt_size
from geometry.fixing import AtBoss, AtDashBar
from geometry.nuts import most_prevailing_nm, nut_height_mm, prevailing_nm
from solver.tightening import table_tightening_nm
from tests.brackets import one_piece


@pytest.mark.parametrize("size", BOLT_SIZES, ids=lambda size: size.name)
def test_a_locking_nut_is_higher_than_a_plain_one_and_both_near_the_diameter(size: BoltSize) -> None:
    bolt = one_piece().bolts[0]
    plain = nut_height_mm(size, bolt.but(locking=None))
    locking = nut_height_mm(size, bolt.but(locking="locking nut"))
    assert 0.8 * size.diameter_mm < plain < locking < 1.45 * size.diameter_mm


def test_m8_as_in_iso_4032_and_iso_7040() -> None:
    """6.8 and 9.5 mm at most: ISO 4032 and ISO 7040, from memory, to be verified."""
    size = next(size for size in BOLT_SIZES if size.name == "M8")
    bolt = one_piece().bolts[0]
    assert nut_height_mm(size, bolt.but(locking="thread lock")) == 6.8
    assert nut_height_mm(size, bolt.but(locking="Locking nut, new")) == 9.5


@pytest.mark.parametrize(
    ("size", "grade", "most"),
    [("M6", "8.8", 3.0), ("M8", "8.8", 6.0), ("M8", "10.9", 8.0), ("M10", "8.8", 10.5)],
)
def test_what_a_new_locking_nut_may_take(size: str, grade: str, most: float) -> None:
    """ISO 2320, first fitting, classes 8 and 10 (from memory, to be verified)."""
    bolt = one_piece().bolts[0].but(size=size, grade=grade, joins=AtDashBar(), locking="Nylon locking nut")
    assert most_prevailing_nm(bolt) == prevailing_nm(bolt) == most
    assert prevailing_nm(bolt.but(prevailing_nm=1.5)) == 1.5


@pytest.mark.parametrize("locking", ["thread lock", "castle nut and split pin", "", None])
def test_what_turns_freely_takes_nothing(locking: str | None) -> None:
    bolt = one_piece().bolts[0].but(joins=AtDashBar(), locking=locking)
    assert prevailing_nm(bolt) == 0.0


@pytest.mark.parametrize(
    "locking",
    ["Nylon insert", "prevailing torque type", "self-locking, all metal", "nyl insert", "all-metal"],
)
def test_a_locking_nut_need_not_be_called_a_nut(locking: str) -> None:
    bolt = one_piece().bolt("4").but(locking=locking, prevailing_nm=None)
    assert most_prevailing_nm(bolt) == 6.0
    assert nut_height_mm(bolt_size("M8"), bolt) == 9.5


def test_a_bolt_in_a_boss_and_a_size_nobody_knows_have_no_such_nut() -> None:
    bolt = one_piece().bolts[0].but(joins=AtDashBar(), locking="locking nut")
    assert most_prevailing_nm(bolt.but(joins=AtBoss(boss="a"))) == 0.0
    assert most_prevailing_nm(bolt.but(size="M9")) == 0.0


@pytest.mark.parametrize("size", BOLT_SIZES, ids=lambda size: size.name)
def test_every_size_has_one_and_is_tightened_to_more(size: BoltSize) -> None:
    bolt = one_piece().bolts[0].but(size=size.name, grade="8.8", joins=AtDashBar(), locking="locking nut")
    assert 0.0 < most_prevailing_nm(bolt) < 0.5 * table_tightening_nm(size, bolt_grade("8.8"))

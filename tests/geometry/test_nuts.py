"""Nuts: one table of heights for findings and parts to buy; what locking ones take of a torque."""

from __future__ import annotations

from itertools import pairwise
from typing import Final

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


ISO_2320: Final = {
    "8.8": {"M5": 1.6, "M6": 3.0, "M8": 6.0, "M10": 10.5, "M12": 15.5, "M14": 24.0, "M16": 32.0},
    "10.9": {"M5": 2.1, "M6": 4.0, "M8": 8.0, "M10": 14.0, "M12": 21.0, "M14": 31.0, "M16": 42.0},
}
"""N.m at the first fitting, classes 8 and 10 (from memory, to be verified)."""
IFI_100_107: Final = {"1/4-20": 30, "5/16-18": 60, "3/8-16": 80, "7/16-14": 100, "1/2-13": 150}
"""lbf.in at the first fitting (from memory, to be verified)."""
NM_PER_LBF_IN: Final = 0.112985


def may_take_nm(size: str, grade: str) -> float:
    """Return the most that a new nylon locking nut may take."""
    bolt = one_piece().bolts[0].but(size=size, grade=grade, joins=AtDashBar(), locking="Nylon locking nut")
    assert prevailing_nm(bolt.but(prevailing_nm=1.5)) == 1.5
    assert most_prevailing_nm(bolt) == prevailing_nm(bolt)
    return most_prevailing_nm(bolt)


@pytest.mark.parametrize("grade", ISO_2320)
def test_what_a_new_locking_nut_may_take(grade: str) -> None:
    for size, most in ISO_2320[grade].items():
        assert may_take_nm(size, grade) == most
        assert may_take_nm(size, "12.9" if grade == "10.9" else "5.6") == most


def test_what_a_new_inch_one_may_take() -> None:
    for size, lbf_in in IFI_100_107.items():
        assert may_take_nm(size, "grade 5") == pytest.approx(lbf_in * NM_PER_LBF_IN, rel=0.01)


@pytest.mark.parametrize("grade", ["8.8", "10.9"])
def test_wider_and_stronger_ones_take_more(grade: str) -> None:
    """Class 10 takes about a third more than class 8, at every size (ISO 2320, from memory)."""
    coarse = [f"M{d}" for d in (5, 6, 8, 10, 12, 14, 16)]
    assert all(may_take_nm(one, grade) < may_take_nm(next_, grade) for one, next_ in pairwise(coarse))
    assert all(1.25 < may_take_nm(size, "10.9") / may_take_nm(size, "8.8") < 1.4 for size in coarse)


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

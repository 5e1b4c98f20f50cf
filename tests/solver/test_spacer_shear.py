"""A spacer is a packing: the bolt through it bears less shear."""

from __future__ import annotations

import pytest

from geometry.bracket import Bracket
from geometry.fixing import Spacer
from solver.bolt_checks import bolt_checks
from solver.evaluation import loaded
from solver.results import Check
from solver.verdict import failures
from tests.brackets import STIFF_BEARINGS, boss, casing, solved_once, straps

LONG_MM = 24.0
COUPLE_NM = 100.0


def _checks(bracket: Bracket) -> dict[str, Check]:
    whole = solved_once(bracket, 20.0)
    return {c.name: c for c in bolt_checks(whole, loaded(whole.states, whole.cases, COUPLE_NM))}


def _straps(spacer_mm: float) -> Bracket:
    """Return two straps held to the casing by M5 4.6 through spacers, the bosses as much farther back."""
    bracket = straps("side by side", size="M5", grade="4.6", tightening_nm=2.5, hole_mm=5.5)
    bracket = bracket.but(column=STIFF_BEARINGS)
    spacer = Spacer(outer_mm=20, inner_mm=5.5, length_mm=spacer_mm)
    bosses = [boss(f"c{i}", (x, 0, -spacer_mm), thread="M5") for i, x in ((1, -40.0), (2, 40.0))]
    bolts = tuple(b.but(spacer=spacer) if b.name.startswith("c") else b for b in bracket.bolts)
    return bracket.but(bolts=bolts, casing=casing(bosses))


def test_shear_through_a_spacer_is_held_against_what_the_packing_leaves() -> None:
    long = _checks(_straps(LONG_MM))
    thin = _checks(_straps(1.0))
    left = 9 * 5 / (8 * 5 + 3 * LONG_MM)
    assert long["bolt shear"].where.startswith("bolt c")
    assert long["bolt shear"].allowable == pytest.approx(left * thin["bolt shear"].allowable)
    assert "beta_p 0.4 through its spacer" in long["bolt shear"].note
    assert "beta_p" not in thin["bolt shear"].note
    assert any("bolt shear uses" in said for said in failures([long["bolt shear"]], ()))

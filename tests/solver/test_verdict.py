"""Every branch of the verdict, and their order: worst first."""

from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from geometry.finding import Finding
from geometry.loads import Limits
from solver.results import Check, FreeMotion, FrictionShare
from solver.verdict import failures, verdict_of

LIMITS = Limits()
FINE = Check("stress, plate", 50.0, 100.0, "MPa", 0.02, "a source", "a place", "a case")
OVER = replace(FINE, name="slip", demand=101.0)
CLOSE = replace(FINE, demand=82.0)
WIDE = replace(FINE, demand=95.0, band=0.15)
DRIVEN = FreeMotion("the casing swings", ("couple +",), True, {"casing": np.ones(6)})
IDLE = replace(DRIVEN, driven_by=())
PLATE_ALONE = replace(DRIVEN, words="plate can turn", moves_casing=False)
LEANS_ON_FRICTION = FrictionShare(0.6, 10.0, 4.0)
BLANK = Finding("blank-couple", "doubt", "loads", {"source": "stated", "missing": "couple"})
BLANK_COLUMN = Finding("blank-column", "doubt", "column")
RULE = Finding(
    "bend-too-tight",
    "rule",
    "plate foot, fold line 1",
    {"radius_mm": 1, "least_mm": 3, "material": "S275", "thickness_mm": 3, "source": "a table"},
)


def verdict(*checks: Check, **given: object) -> tuple[str, tuple[str, ...]]:
    usual: dict[str, Any] = {"motions": (), "share": None, "findings": (), "solved": True, "refined": True}
    rest = usual | given
    return verdict_of(
        checks,
        rest["motions"],
        rest["share"],
        rest["findings"],
        LIMITS,
        solved=rest["solved"],
        refined=rest["refined"],
    )


def test_pass_only_if_nothing_speaks_against_it() -> None:
    word, reasons = verdict(FINE)
    assert word == "pass"
    assert "80%" in reasons[0]


def test_fail_above_the_limit_at_the_bands_upper_end() -> None:
    assert verdict(OVER)[0] == "fail"
    # 99 % with a band of 2 % ends above it.
    word, reasons = verdict(replace(FINE, demand=99.0))
    assert word == "fail"
    assert "band of 2% included" in reasons[0]
    assert verdict(replace(FINE, demand=97.0))[0] == "marginal"


def test_fail_by_a_free_motion_that_is_driven_even_if_friction_holds_it() -> None:
    word, reasons = verdict(FINE, motions=(DRIVEN,))
    assert word == "fail"
    assert "driven by couple +" in reasons[0]


def test_fail_goes_before_no_verdict_and_before_marginal() -> None:
    assert verdict(OVER, WIDE, CLOSE, findings=(BLANK, RULE), motions=(IDLE,))[0] == "fail"


def test_the_gravest_failure_comes_first() -> None:
    _, reasons = verdict(OVER, replace(OVER, name="turn", demand=300.0), motions=(DRIVEN,))
    assert [r.split(" ")[0] for r in reasons] == ["the", "turn", "slip"]


@pytest.mark.parametrize("finding", [BLANK, BLANK_COLUMN])
def test_no_verdict_while_an_input_is_blank(finding: Finding) -> None:
    word, reasons = verdict(FINE, findings=(finding,))
    assert word == "no verdict"
    assert reasons[0]


def test_no_fail_while_it_is_not_known_what_carries_the_load() -> None:
    word, reasons = verdict(OVER, findings=(BLANK_COLUMN,))
    assert word == "no verdict"
    assert any("slip uses" in r for r in reasons)


def test_no_verdict_where_a_wide_band_straddles_the_limit() -> None:
    word, reasons = verdict(WIDE)
    assert word == "no verdict"
    assert "cannot settle" in reasons[0]
    # A narrow band there is a fail, a wide one well clear of the limit decides.
    assert verdict(replace(WIDE, band=0.06))[0] == "fail"
    assert verdict(replace(WIDE, demand=200.0))[0] == "fail"
    assert verdict(replace(WIDE, demand=40.0))[0] == "pass"


@pytest.mark.parametrize("check", [FINE, OVER, CLOSE])
def test_pencil_carries_no_verdict(check: Check) -> None:
    assert verdict(check, refined=False)[0] == "no verdict"


def test_no_verdict_if_it_could_not_be_analysed() -> None:
    assert verdict(solved=False, refined=False)[0] == "no verdict"
    # But nothing to solve since nothing holds the casing at all is a fail.
    assert verdict(motions=(DRIVEN,), solved=False, refined=True)[0] == "fail"


@pytest.mark.parametrize(
    "given",
    [
        {"motions": (IDLE,)},
        {"motions": (PLATE_ALONE,)},
        {"share": LEANS_ON_FRICTION},
        {"findings": (RULE,)},
    ],
)
def test_marginal(given: dict[str, object]) -> None:
    word, reasons = verdict(FINE, **given)
    assert word == "marginal"
    assert len(reasons) == 1


def test_marginal_above_eighty_per_cent() -> None:
    assert verdict(CLOSE)[0] == "marginal"
    # 79 % with its band is above too; 78 % is not.
    assert verdict(replace(FINE, demand=79.0))[0] == "marginal"
    assert verdict(replace(FINE, demand=78.0))[0] == "pass"


def test_a_share_above_its_limit_is_marginal_never_a_fail() -> None:
    share = replace(OVER, kind="share", note="no radius here")
    word, reasons = verdict(share)
    assert word == "marginal"
    assert "no radius here" in reasons[0]
    assert verdict(replace(share, demand=90.0))[0] == "pass"


def test_half_on_friction_is_still_allowed() -> None:
    assert verdict(FINE, share=FrictionShare(0.5, 10.0, 5.0))[0] == "pass"


def test_nothing_left_to_hold_is_a_failure() -> None:
    assert verdict(replace(FINE, allowable=0.0))[0] == "fail"
    assert "nothing holds it" in failures([replace(FINE, allowable=0.0)], [])[0]


def test_a_demand_that_is_no_number_never_passes() -> None:
    word, reasons = verdict(replace(FINE, demand=float("nan")))
    assert word == "no verdict"
    assert "no number" in reasons[0]


def test_what_is_a_hair_past_a_limit_is_told_with_digits_enough_to_see_it() -> None:
    over = verdict(replace(FINE, demand=100.3, band=0.0))
    assert over[0] == "fail"
    assert "uses 100.3% of its allowable" in over[1][0]
    close = verdict(replace(FINE, demand=80.2, band=0.0))
    assert close[0] == "marginal"
    assert "uses 80.2% of its allowable" in close[1][0]
    within = verdict(replace(FINE, demand=79.96, band=0.0))
    assert within[0] == "pass"
    assert "nearest is stress, plate, 79.96% " in within[1][0]
    shared = verdict(replace(FINE, band=0.0), share=FrictionShare(0.502, 10.0, 4.98))
    assert "50.2% of the resistance" in shared[1][0]
    assert "uses 150% of its allowable" in verdict(replace(FINE, demand=150.0, band=0.0))[1][0]

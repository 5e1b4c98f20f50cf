"""What lash adds to the checks of movement, and to which of them."""

from __future__ import annotations

import math

import numpy as np
import pytest

from solver.evaluation import Loaded, loaded
from solver.movement_checks import movement_checks
from solver.results import Check
from solver.solved import Solved
from tests.brackets import meshed, one_piece, solved_on

BRACKET = one_piece(folded=True)
LASH_DEG = 0.3


@pytest.fixture(scope="module")
def whole() -> tuple[Solved, Loaded]:
    solved = solved_on(BRACKET, meshed(BRACKET, 20.0))
    return solved, loaded(solved.states, solved.cases, 30.0)


def by_name(checks: list[Check]) -> dict[str, Check]:
    return {check.name: check for check in checks}


def test_lash_adds_to_turn_and_to_movement_at_the_farthest_corner_and_is_told(
    whole: tuple[Solved, Loaded],
) -> None:
    held = by_name(movement_checks(*whole, 0.0))
    loose = by_name(movement_checks(*whole, LASH_DEG, "bolt 1 slips under the couple"))
    assert BRACKET.casing is not None
    envelope = BRACKET.casing.envelope
    corner_mm = max(
        math.hypot(x, y)
        for x in (envelope.low_mm[0], envelope.high_mm[0])
        for y in (envelope.low_mm[1], envelope.high_mm[1])
    )
    lash_mm = math.radians(LASH_DEG) * corner_mm
    for name, more, told in (
        ("turn", LASH_DEG, "of which lash 0.3 deg: bolt 1 slips under the couple"),
        ("movement", lash_mm, f"of which lash {lash_mm:.3g} mm"),
        ("movement with a pull", lash_mm, f"of which lash {lash_mm:.3g} mm"),
    ):
        assert loose[name].demand == pytest.approx(held[name].demand + more, rel=1e-12)
        assert (held[name].note, loose[name].note) == ("", told)
        assert loose[name].case == f"{held[name].case}, and lash"
    # Nothing leans by lash, and what has slipped already has used it up.
    for name in ("lean", "movement with a pull, slipped"):
        assert loose[name].demand == held[name].demand
        assert loose[name].note == held[name].note
        assert "lash" not in loose[name].case


def test_what_only_friction_keeps_from_moving_is_a_share_and_says_so(whole: tuple[Solved, Loaded]) -> None:
    checks = by_name(movement_checks(*whole, 0.0))
    slipped = checks["movement with a pull, slipped"]
    assert slipped.kind == "share"
    assert slipped.note != ""
    assert {check.kind for name, check in checks.items() if name != slipped.name} == {"movement"}


def test_lash_without_end_is_told_in_words(whole: tuple[Solved, Loaded]) -> None:
    endless = by_name(movement_checks(*whole, np.inf, "bolt 1 slips"))
    assert endless["turn"].note == "of which lash without end: bolt 1 slips"
    assert not np.isfinite(endless["turn"].demand)

"""Friction in holes wider than usual: EN 1993-1-8 3.9 counts k_s of it."""

from __future__ import annotations

import numpy as np
import pytest

from geometry.bracket import Bracket
from geometry.placing import place_bolts
from geometry.plate import Hole, Slot
from solver.bolt_checks import bolt_checks
from solver.clamped_bolt import clamped_bolts
from solver.connections import slip_demand_n
from solver.evaluation import loaded
from solver.solved import Solved
from tests.brackets import one_piece, solved_once

K_S = 0.85
"""EN 1993-1-8 table 3.6, oversize holes (from memory, to be verified)."""


def bored(hole_mm: float) -> Bracket:
    """Return a bracket of M8 bolts whose holes are so wide; ISO 273 has 9 mm for medium and 10 for coarse."""
    bracket = one_piece()
    openings = tuple(
        o.but(diameter_mm=hole_mm) if isinstance(o, Hole) and o.name != "shaft" else o
        for o in bracket.plates[0].openings
    )
    return bracket.but(plates=(bracket.plates[0].but(openings=openings),))


@pytest.fixture(scope="module")
def coarse() -> Solved:
    return solved_once(bored(10.0), 20.0)


def test_friction_holds_what_the_rule_by_itself_says(coarse: Solved) -> None:
    load = loaded(coarse.states, coarse.cases, 30.0)
    _, holds = slip_demand_n(load.forces, coarse.bolts, coarse.bracket.limits.slip_factor)
    for row, name in enumerate(load.forces.bolts):
        bolt = coarse.bolts[name]
        assert bolt.preload_low_n is not None
        assert bolt.friction is not None
        for column, pull in enumerate(load.forces.pull_n[row].tolist()):
            # EN 1993-1-8 3.9 by hand, a pressing pull counting as none
            by_hand = K_S * bolt.friction * max(bolt.preload_low_n - 0.8 * max(pull, 0.0), 0.0)
            assert holds[row, column] == pytest.approx(by_hand, rel=1e-12)


def test_it_is_said_beside_the_check(coarse: Solved, flat: Solved) -> None:
    """A hole of the medium series counts in full."""
    for solved, said in ((coarse, True), (flat, False)):
        checks = bolt_checks(solved, loaded(solved.states, solved.cases, 30.0))
        slip = next(c for c in checks if c.name == "slip")
        assert ("k_s 0.85" in slip.note) == said
        assert np.isfinite(slip.used)


def test_a_slot_counts_as_a_long_one_along_itself() -> None:
    """0.63 of the friction, EN 1993-1-8 table 3.6 (from memory); a finding refuses it beforehand."""
    bracket = one_piece()
    plate = bracket.plates[0]
    slot = Slot(name="4", centre_mm=plate.opening("4").centre_mm, length_mm=20, width_mm=9)
    slotted = bracket.with_plate(plate.with_opening(slot))
    bolts = clamped_bolts(slotted, place_bolts(slotted))
    assert (bolts["4"].slip_share, bolts["5"].slip_share) == (0.63, 1.0)

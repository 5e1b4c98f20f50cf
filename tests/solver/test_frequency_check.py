"""The natural frequency decides a verdict where an engine is given, and only there."""

from __future__ import annotations

import math

from geometry.loads import Engine
from solver.analyse import analyse
from solver.frequency import slowest_swing
from solver.kept_plates import KeptPlates
from solver.solved import Solved
from tests.brackets import one_piece


def test_an_engine_that_fires_near_the_natural_frequency_fails_and_a_slow_one_does_not() -> None:
    bracket, kept = one_piece(), KeptPlates()
    told = analyse(bracket, refine=False, kept=kept)
    assert told.swing is not None
    assert not [check for check in told.checks if check.name == "natural frequency"]
    near = Engine(cylinders=8, idle_rpm=min(3000.0, 60.0 * told.swing.hz / 4.0))
    for engine, over in ((near, True), (Engine(cylinders=2, idle_rpm=600), False)):
        results = analyse(bracket.but(loads=bracket.loads.but(engine=engine)), refine=False, kept=kept)
        check = next(check for check in results.checks if check.name == "natural frequency")
        assert check.allowable == told.swing.hz
        assert (check.used_upper > 1.0) is over
    assert bracket.but(loads=bracket.loads.but(engine=near)).input_hash() != bracket.input_hash()


def test_firing_frequency() -> None:
    """A four-stroke fires once in two turns (common practice): 4 cylinders at 900 rpm, 30 a second."""
    assert Engine(cylinders=4, idle_rpm=900).firing_hz == 30.0
    assert Engine(cylinders=1, idle_rpm=900, strokes=2).firing_hz == 15.0


def test_a_swing_is_named_by_what_moves_the_casings_corners_most(flat: Solved, side_by_side: Solved) -> None:
    """A turn moves the block's farthest corner by half its diagonal at most (kinematics of a rigid body)."""
    for solved, words, freedom in (
        (flat, "the casing moves along the shaft", 2),
        (side_by_side, "the casing nods", 3),
    ):
        swing = slowest_swing(solved.bracket, solved.states[0].structure)
        assert swing is not None
        casing = solved.bracket.casing
        assert casing is not None
        half_diagonal = math.dist(casing.envelope.low_mm, casing.envelope.high_mm) / 2.0
        moved = [abs(v) * (half_diagonal if i > 2 else 1.0) for i, v in enumerate(swing.casing.tolist())]
        assert moved.index(max(moved)) == freedom
        assert swing.words == words

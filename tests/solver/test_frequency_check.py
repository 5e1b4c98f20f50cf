"""The natural frequency decides a verdict where an engine is given, and only there."""

from __future__ import annotations

from geometry.loads import Engine
from solver.analyse import analyse
from solver.kept_plates import KeptPlates
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

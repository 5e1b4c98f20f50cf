"""Each bolt out in turn: what is used most then, as sure as the whole bracket's checks are."""

from __future__ import annotations

import math

from solver.lost_bolts import LostBolt, UsedCheck, one_bolt_lost


def test_the_worst_is_the_one_whose_upper_end_is_highest() -> None:
    lost = LostBolt("2", (UsedCheck("stress", "plate", 0.60), UsedCheck("slip", "bolt 1", 0.59)), "")
    (told,) = one_bolt_lost([lost], {"stress": 0.1, "slip": 0.32})
    assert (told.bolt, told.worst_check, told.worst_used) == ("2", "slip, bolt 1", 0.59)
    assert math.isclose(told.used_upper, 0.59 * 1.32)


def test_a_check_that_the_whole_bracket_has_not_is_as_unsure_as_any() -> None:
    lost = LostBolt("2", (UsedCheck("opening", "bolt 3", 0.5),), "")
    (told,) = one_bolt_lost([lost], {"stress": 0.1, "slip": 0.3})
    assert told.band == 0.3


def test_where_nothing_holds_what_the_bolt_held_all_is_used_and_more() -> None:
    (told,) = one_bolt_lost([LostBolt("2", (), "nothing holds what the bolt held")], {"slip": 0.3})
    assert told.used_upper == math.inf
    assert told.free_motion == "nothing holds what the bolt held"

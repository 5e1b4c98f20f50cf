"""Which connection and load case a check of bolts tells."""

from __future__ import annotations

import numpy as np

from solver.bolt_checks import _used, bolt_checks, slip_is_asked
from solver.connections import slip_demand_n
from solver.evaluation import loaded
from solver.solved import Solved, with_inputs


def test_where_nothing_holds_anywhere_the_most_that_is_asked_is_told(flat: Solved) -> None:
    loose = flat.bracket.but(bolts=tuple(b.but(preload_n=(0.0, 0.0)) for b in flat.bracket.bolts))
    whole = with_inputs(flat, loose)
    load = loaded(whole.states, whole.cases, 30.0)
    slip = next(c for c in bolt_checks(whole, load) if c.name == "slip")
    asked, _ = slip_demand_n(load.forces, whole.bolts, loose.limits.slip_factor)
    assert slip.used == np.inf
    assert slip.demand == np.max(asked[slip_is_asked(whole, load)])


def test_what_is_asked_of_nothing_is_past_all_limits_and_nothing_asked_is_within_them() -> None:
    """A share is demand over allowable; where that has no limit it is told, and never taken for a figure."""
    demand = np.array([[0.0, 1.0, 3.0], [0.0, 2.0, np.nan]])
    allowable = np.array([[0.0, 0.0, 4.0], [5.0, np.nan, 1.0]])
    used = _used(demand, allowable)
    assert np.array_equal(used, [[0.0, np.inf, 0.75], [0.0, np.nan, np.nan]], equal_nan=True)

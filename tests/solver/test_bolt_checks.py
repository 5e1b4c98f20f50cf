"""Which connection and load case a check of bolts tells."""

from __future__ import annotations

import numpy as np

from solver.bolt_checks import bolt_checks, slip_is_asked
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

"""Which connection and load case a check of bolts tells."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

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


def test_an_m8_of_8_8_is_held_to_its_published_strengths(flat: Solved) -> None:
    """14.05 kN in shear, 21.08 kN in tension, and F_v/F_vRd + F_t/(1.4 F_tRd): EN 1993-1-8 table 3.4."""
    load = loaded(flat.states, flat.cases, 30.0)
    checks = {c.name: c for c in bolt_checks(flat, load)}
    assert checks["bolt shear"].allowable == pytest.approx(14_050.0, rel=1e-3)
    assert checks["bolt tension"].allowable == pytest.approx(21_080.0, rel=1e-3)
    blank = with_inputs(flat, flat.bracket.but(bolts=tuple(b.but(grade=None) for b in flat.bracket.bolts)))
    told = {c.name for c in bolt_checks(blank, load) if not np.isnan(c.used)}
    assert not told & {"bolt shear", "bolt tension", "bolt shear and tension"}


def test_slip_is_asked_while_friction_holds_and_not_of_what_bears_on_its_hole(flat: Solved) -> None:
    """EN 1993-1-8 3.4.1: a joint of category A takes its shear by bearing, one of B or C by friction."""
    load = loaded(flat.states, flat.cases, 30.0)
    asked = slip_is_asked(flat, load)
    states = [c.taken for c in load.columns]
    assert set(states) == {"stuck", "all slipped"}
    for column, taken in enumerate(states):
        assert asked[:, column].all() == asked[:, column].any() == (taken == "stuck")
    first = load.forces.bolts[0]
    pinned = slip_is_asked(replace(flat, slipped=frozenset([first])), load)
    assert not pinned[0].any()
    assert np.array_equal(pinned[1:], asked[1:])

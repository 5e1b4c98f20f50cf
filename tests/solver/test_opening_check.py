"""Every bolt that was tightened is asked whether its connection opens, against the low end of its preload."""

from __future__ import annotations

import numpy as np
import pytest

from solver.bolt_checks import bolt_checks
from solver.evaluation import loaded
from solver.solved import Solved


def test_opening_is_judged_against_the_low_preload(flat: Solved) -> None:
    """Allowable is the low end, used is demand over it, and a larger couple asks for more."""
    load = loaded(flat.states, flat.cases, 30.0)
    checks = [check for check in bolt_checks(flat, load) if check.name.startswith("opening")]
    assert checks
    for check in checks:
        assert check.allowable in [bolt.preload_low_n for bolt in flat.bolts.values()]
        assert np.isfinite(check.used)
        assert check.used == pytest.approx(check.demand / check.allowable)
    twice = loaded(flat.states, flat.cases, 60.0)
    more = [check for check in bolt_checks(flat, twice) if check.name.startswith("opening")]
    assert max(c.used for c in more) > max(c.used for c in checks) > 0.0

"""Findings about the life of the bracket."""

from __future__ import annotations

import pytest

from tests.geometry.finding_case import Case, params, put

CASES = [
    Case(
        "fatigue-no-curve",
        "rule",
        put("plates", 0, "material", to="6061-T6"),
        "plate main",
        ("no published curve here for how aluminium bears reversals", "use steel"),
        alone=False,
    ),
    Case(
        "fatigue-fewer",
        "note",
        put("loads", "fatigue", to={"full_cycles": 1000}),
        "loads, fatigue",
        ("1000 full reversals", "the usual 200000", "say why"),
    ),
    Case(
        "fatigue-fewer",
        "note",
        put(
            "loads",
            "fatigue",
            to={"spectrum": [{"torque_nm": 200, "count": 10}, {"torque_nm": 5, "count": 90}]},
        ),
        "loads, fatigue",
        ("100 full reversals", "the usual 200000", "say why"),
    ),
    Case(
        "fatigue-spectrum-mild",
        "note",
        put("loads", "fatigue", to={"spectrum": [{"torque_nm": 5, "count": 1_000_000}]}),
        "loads, fatigue",
        ("no couple of the spectrum reaches", "check it"),
    ),
]


@pytest.mark.parametrize("case", params(CASES))
def test_findings(case: Case) -> None:
    case.check()

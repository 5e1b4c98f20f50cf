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
            to={"spectrum": [{"torque_nm": 30, "count": 10}, {"torque_nm": 5, "count": 90}]},
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
    Case(
        "fatigue-spectrum-hard",
        "doubt",
        put(
            "loads",
            "fatigue",
            to={"spectrum": [{"torque_nm": 90, "count": 2000}, {"torque_nm": 10, "count": 500_000}]},
        ),
        "loads, fatigue",
        ("90 N.m of the spectrum", "more than the 30 N.m", "hold it to the largest couple"),
    ),
]


@pytest.mark.parametrize("case", params(CASES))
def test_findings(case: Case) -> None:
    case.check()

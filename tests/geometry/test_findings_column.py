"""Findings about what else holds the column on the far side of a shaft joint.

A universal joint hands on torque and a force through its cross, and no moment that bends its plane of bend
more: what holds the shaft beyond it holds another piece (kinematics of the joint, own reasoning).
"""

from __future__ import annotations

from collections.abc import Callable

import pytest

from tests.geometry.finding_case import Case, Data, both, findings_with, params, put

MOUNT = {
    "held_by": "donor mount",
    "mount": {
        "name": "dash",
        "station_mm": 300,
        "sideways_n_per_mm": [2000, 8000],
        "along_n_per_mm": [2000, 8000],
    },
}


def joint(station_mm: float) -> Callable[[Data], object]:
    return put("shaft_joints", to=[{"name": "cross", "station_mm": station_mm, "angle_deg": 0}])


def measured(station_mm: float) -> Callable[[Data], object]:
    places = [[0, 0, 420], [0, 0, station_mm], [0, -100, station_mm - 300]]
    return put("installation", to={"shaft": {"places_mm": places, "joints": [{"name": "cross"}]}})


def bearing(station_mm: float) -> Callable[[Data], object]:
    return put("column", "bearings", 0, "station_mm", to=station_mm)


CASES = [
    Case(
        "bearing-beyond-joint",
        "doubt",
        joint(200),
        "bearing upper",
        ("station is 300 mm", "shaft joint cross at 200 mm", "bends freely", "list what does"),
    ),
    Case(
        "bearing-beyond-joint",
        "doubt",
        both(put("column", to=MOUNT), joint(200)),
        "column mount dash",
        ("shaft joint cross at 200 mm",),
    ),
    Case(
        "bearing-beyond-joint",
        "doubt",
        both(bearing(-220), measured(-190)),
        "bearing upper",
        ("station is -220 mm", "shaft joint cross at -190 mm"),
    ),
]


@pytest.mark.parametrize("case", params(CASES))
def test_what_holds_another_piece_of_the_shaft_is_told(case: Case) -> None:
    case.check()


@pytest.mark.parametrize(
    "make",
    [
        joint(320),
        joint(-200),
        both(bearing(-180), joint(-200)),
        measured(-200),
        both(put("column", to={"held_by": "nothing"}), joint(200)),
    ],
)
def test_a_joint_on_the_far_side_of_the_bearing_takes_nothing_from_it(
    make: Callable[[Data], object],
) -> None:
    assert findings_with(make) == ()

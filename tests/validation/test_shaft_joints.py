"""Universal joints in a row: the ripple of their speed against closed forms and an integrated mechanism."""

from __future__ import annotations

import math

import numpy as np
import pytest

from geometry.installation import JointInLine, ShaftLine
from geometry.shaft_line import bent_joints
from solver.around.ripple import ahead_deg, chain_map, equivalent_angle_deg, speed_extremes, speed_ratio
from solver.around.shaft_joints import ripple_of
from tests.validation.reference import agrees

SINGLE = "single universal joint, cos b and 1/cos b (published, Seherr-Thoss and others, from memory)"
PAIR = "two universal joints, own independent calculation (closed form)"
SPACE = "two forks and a cross moved in space (own independent calculation)"


def test_single_joint_at_30_degrees() -> None:
    low, high = speed_extremes(chain_map([30.0], []))
    agrees(low, 0.866, 0.001, source=SINGLE, name="30 deg, slowest over the input")
    agrees(high, 1.155, 0.001, source=SINGLE, name="30 deg, fastest over the input")


@pytest.mark.qualitative
def test_a_joint_that_is_straight_has_no_plane_to_be_turned_from() -> None:
    """Two pieces in one line span no plane: the turn is nought and no blank, before a bend and after one."""
    line = ShaftLine(places_mm=((0, 0, 0), (0, 0, 100), (0, 0, 200), (50, 0, 300), (100, 0, 400)))
    joints = bent_joints(line)
    assert [joint.angle_deg for joint in joints] == pytest.approx([0.0, math.degrees(math.atan(0.5)), 0.0])
    assert [joint.plane_turn_deg for joint in joints] == [0.0, 0.0, 0.0]


def test_two_joints_in_phase_and_a_quarter_turn_out() -> None:
    in_phase = equivalent_angle_deg(chain_map([30.0, 20.0], [0.0]))
    agrees(in_phase, 22.8, 0.003, source=PAIR, name="30 and 20 deg in phase, equivalent angle, deg")
    out = equivalent_angle_deg(chain_map([30.0, 20.0], [90.0]))
    agrees(out, 35.5, 0.003, source=PAIR, name="30 and 20 deg, one yoke 90 deg out, equivalent angle, deg")


def _by_forks(places: np.ndarray, phases_deg: list[float], steps: int) -> np.ndarray:
    """Return the far end's angle (rad) over one turn, from nothing but crosses whose arms stay square."""
    pieces = np.diff(places, axis=0)
    pieces /= np.linalg.norm(pieces, axis=1)[:, None]
    turns = np.linspace(0.0, 2.0 * math.pi, steps)
    seed = np.cross(pieces[0], [0.3, 0.5, 0.8])
    seed /= np.linalg.norm(seed)
    arms = np.array([math.cos(t) * seed + math.sin(t) * np.cross(pieces[0], seed) for t in turns])
    for joint in range(len(pieces) - 1):
        # the driven fork's arm is square to the driving one and to its own shaft
        arms = np.cross(arms, pieces[joint + 1])
        arms /= np.linalg.norm(arms, axis=1)[:, None]
        if joint < len(phases_deg):
            p, axis = math.radians(phases_deg[joint]), pieces[joint + 1]
            arms = math.cos(p) * arms + math.sin(p) * np.cross(axis, arms)
    one = arms[0]
    other = np.cross(pieces[-1], one)
    return np.unwrap(np.arctan2(arms @ other, arms @ one))


@pytest.mark.parametrize("phase_deg", [0.0, 25.0, -70.0])
def test_places_in_space_against_forks_and_crosses(phase_deg: float) -> None:
    places = np.array([[0.0, 0.0, 400.0], [0.0, 0.0, 0.0], [90.0, -60.0, -250.0], [20.0, -260.0, -520.0]])
    line = ShaftLine(
        places_mm=tuple(tuple(p) for p in places),
        joints=(JointInLine(name="upper"), JointInLine(name="lower", phase_deg=phase_deg)),
    )
    ripple = ripple_of(line)
    assert ripple is not None
    angle = _by_forks(places, [phase_deg], 20001)
    speed = np.gradient(angle, 2.0 * math.pi / 20000)
    name = f"three pieces in space, phase {phase_deg:g} deg"
    agrees(ripple.low, float(speed.min()), 0.001, source=SPACE, name=f"{name}, slowest")
    agrees(ripple.high, float(speed.max()), 0.001, source=SPACE, name=f"{name}, fastest")


def test_angles_of_measured_places() -> None:
    places = (
        (0.0, 0.0, 100.0),
        (0.0, 0.0, 0.0),
        (0.0, -100.0, -100.0 * math.sqrt(3.0)),
        (0.0, -100.0, -400.0),
    )
    angles = [joint.angle_deg for joint in bent_joints(ShaftLine(places_mm=places))]
    assert angles[0] is not None
    assert angles[1] is not None
    agrees(
        angles[0], 30.0, 1e-6, source="plane trigonometry (closed form)", name="angle of the upper joint, deg"
    )
    agrees(
        angles[1], 30.0, 1e-6, source="plane trigonometry (closed form)", name="angle of the lower joint, deg"
    )


def test_ratio_over_one_turn_is_the_slope_of_the_lead() -> None:
    turned = np.linspace(0.0, 360.0, 3601)
    whole = chain_map([35.0, 22.0, 15.0], [40.0, 10.0])
    slope = 1.0 + np.gradient(ahead_deg(whole, turned), turned)
    low, high = speed_extremes(whole)
    ratio = speed_ratio(whole, turned)
    agrees(float(slope[1:-1].min()), low, 0.001, source=PAIR, name="three joints, slope of the lead, least")
    agrees(float(ratio.max()), high, 0.001, source=PAIR, name="three joints, ratio over a turn, greatest")

"""Load cases against statics and facts of the trade."""

import numpy as np
import pytest
import shapely

from geometry.casing import Boss, Casing, Envelope, ShaftJoint, Wheel
from geometry.loads import ExtraCase, LoadCell, Loads, MotorTorque, StatedCouple, TorqueMeters
from solver.bolt_group import elastic_group
from solver.load_cases import LoadCase, down, load_cases
from solver.side_couple import side_couple_corners
from tests.brackets import one_piece
from tests.validation.reference import agrees, lies_between

STATICS = "statics (closed form)"
TRADE = "fact of the trade (common practice)"
KGF = 9.80665


def named(cases: tuple[LoadCase, ...], name: str) -> LoadCase:
    return next(case for case in cases if case.name == name)


def test_a_unit_pushes_about_100_kgf_at_its_mounting() -> None:
    """35 N.m at 35 mm and 50 N.m at 50 mm: about 100 kgf where one bolt bears it all."""
    for couple, arm in ((35.0, 35.0), (50.0, 50.0)):
        forces = elastic_group([(arm, 0.0), (-arm, 0.0)], couple_nmm=1000 * couple).forces_n
        # Two bolts share it; the one named figure is the couple over the arm.
        figure = 2 * np.linalg.norm(forces[0]) / KGF
        lies_between(figure, 95, 104.5, source=TRADE, name=f"{couple:g} N.m at {arm:g} mm, kgf")


def test_the_casings_reaction_is_output_less_input() -> None:
    couple = TorqueMeters(output_nm=38.0, input_nm=4.0)
    agrees(couple.value_nm or 0.0, 34.0, 1e-12, source=TRADE, name="output 38 less input 4, N.m")
    cases = load_cases(one_piece().but(loads=Loads(couple=couple)))
    agrees(
        couple.value_nm * named(cases, "couple +").per_couple[5],
        1.5 * 34_000,
        1e-12,
        source="factor 1.5 on a measured couple (common practice)",
        name="measured couple with its factor, N.mm",
    )


def test_other_sources_of_the_couple() -> None:
    cell = LoadCell(force_n=-250.0, arm_mm=120.0)
    agrees(cell.value_nm or 0.0, 30.0, 1e-12, source=STATICS, name="load cell 250 N at 120 mm, N.m")
    motor = MotorTorque(motor_nm=2.0, ratio=15.0, efficiency=0.8)
    agrees(
        motor.value_nm or 0.0, 30.0, 1e-12, source=STATICS, name="2 N.m x 15, efficiency never lowers, N.m"
    )
    back = motor.but(back_driving=True)
    agrees(back.value_nm or 0.0, 37.5, 1e-12, source=STATICS, name="the same back-driving, N.m")
    unstated = MotorTorque(motor_nm=2.0, ratio=15.0, back_driving=True)
    agrees(unstated.value_nm or 0.0, 30.0, 1e-12, source=STATICS, name="back-driving without losses, N.m")


@pytest.mark.qualitative
def test_the_couple_reverses_and_bears_its_factor() -> None:
    cases = load_cases(one_piece())
    forth, back = named(cases, "couple +"), named(cases, "couple -")
    assert np.array_equal(forth.per_couple, -back.per_couple)
    assert np.array_equal(forth.rest, back.rest)
    # Stated, so twice; N.m to N.mm.
    assert forth.per_couple.tolist() == [0, 0, 0, 0, 0, 2000, 0, 0, 0]


def test_shaft_joint_side_couple() -> None:
    """T tan(angle), square to the shaft."""
    bracket = one_piece().but(
        shaft_joints=(ShaftJoint(name="lower", station_mm=-150, angle_deg=30, plane_deg=90),)
    )
    source = "secondary couple of a universal joint, T tan a (from memory, to be verified)"
    published = 2000 * np.tan(np.pi / 6)
    cases = [case for case in load_cases(bracket) if case.name.startswith("couple +, shaft joint lower way")]
    across = np.array([case.per_couple[3:5] for case in cases])
    # It bends toward Y: the moment's axis is in the plane of the bend, so along Y too.
    agrees(float(across[:, 1].max()), published, 1e-9, source=source, name="side couple at 30 deg, N.mm")
    half = published / 2.0
    agrees(float(across[:, 0].max()), half, 1e-9, source=source, name="square to the bend at 30 deg, N.mm")


def _by_cross(bend: float, plane: float) -> np.ndarray:
    """Moments square to a shaft along Z, over its torque, by the arms of the cross in space."""
    along, toward = np.array([0.0, 0.0, 1.0]), np.array([np.cos(plane), np.sin(plane), 0.0])
    beside = np.cross(along, toward)
    other = np.cos(bend) * along + np.sin(bend) * toward
    turns = np.linspace(0.0, 2.0 * np.pi, 361)
    arms = np.cos(turns)[:, None] * toward + np.sin(turns)[:, None] * beside
    normals = np.cross(arms, np.cross(other, arms))
    return np.asarray((normals / (normals @ along)[:, None])[:, :2])


@pytest.mark.qualitative
@pytest.mark.parametrize(
    "joints", [((30.0, 0.0),), ((30.0, 40.0), (20.0, 220.0)), ((25.0, 10.0), (25.0, 80.0))]
)
def test_side_couples_of_joints_lie_within_the_corners(joints: tuple[tuple[float, float], ...]) -> None:
    """Whatever the forks' angles: forks and crosses in space (own independent calculation)."""
    corners = shapely.MultiPoint(side_couple_corners(joints).tolist()).convex_hull
    circles = [_by_cross(*np.radians(joint)) for joint in joints]
    every = circles[0]
    for circle in circles[1:]:
        every = (every[:, None] + circle[None, ::10]).reshape(-1, 2)
    both = shapely.MultiPoint(np.vstack([every, -every]).tolist()).convex_hull
    assert corners.buffer(1e-9).covers(both)
    assert both.area < corners.area < 1.08 * both.area


@pytest.mark.parametrize(("rake", "along_y", "along_z"), [(0, -1, 0), (30, -0.8660254, -0.5), (90, 0, -1)])
def test_rake_turns_gravity(rake: float, along_y: float, along_z: float) -> None:
    """A shaft that rises toward the driver: weight pulls down, and back along the shaft."""
    gravity = down(one_piece().but(rake_deg=rake))
    agrees(gravity[1], along_y, 1e-6, source=STATICS, name=f"gravity along Y at rake {rake:g}", scale=1.0)
    agrees(gravity[2], along_z, 1e-6, source=STATICS, name=f"gravity along Z at rake {rake:g}", scale=1.0)


def test_weight_acts_at_the_mass_centre_of_a_clocked_casing() -> None:
    """5 kg, 80 mm to the side before it is clocked a quarter turn: then above the shaft."""
    casing = Casing(
        bosses=(Boss(name="1", at_mm=(36, 0, 0), thread="M8", face_diameter_mm=20),),
        envelope=Envelope(low_mm=(-50, -50, -120), high_mm=(50, 50, 0)),
        station_mm=50,
        clocking_deg=90,
        mass_kg=5,
        mass_centre_mm=(80, 0, -60),
    )
    bracket = one_piece().but(casing=casing, rake_deg=0)
    cases = load_cases(bracket)
    weight = 5 * KGF
    sideways = named(cases, "weight 3 g X").rest
    agrees(sideways[0], 3 * weight, 1e-9, source=STATICS, name="3 g of 5 kg, N")
    agrees(sideways[5], -3 * weight * 80, 1e-9, source=STATICS, name="its moment about the shaft, N.mm")
    agrees(sideways[4], -3 * weight * 60, 1e-9, source=STATICS, name="its moment about Y, N.mm")
    hanging = named(cases, "couple +").rest
    agrees(hanging[1], -weight, 1e-9, source=STATICS, name="weight beside the couple, N")
    agrees(
        hanging[5], 0.0, 1e-9, source=STATICS, name="moment of a weight above the shaft, N.mm", scale=weight
    )


def test_pull_at_the_wheels_station() -> None:
    bracket = one_piece(mass_kg=0.0)
    case = named(load_cases(bracket), "couple +, pull right")
    agrees(case.rest[0], 300, 1e-12, source="pull of 300 N (common practice)", name="pull, N")
    agrees(case.rest[4], 300 * 410, 1e-12, source=STATICS, name="moment of a pull at 410 mm, N.mm")


@pytest.mark.parametrize(
    ("side", "about_x", "about_y"),
    [("right", 0.0, -1.0), ("left", 0.0, 1.0), ("top", 1.0, 0.0), ("bottom", -1.0, 0.0)],
)
def test_a_pull_along_the_shaft_is_a_hand_at_the_rim(side: str, about_x: float, about_y: float) -> None:
    """300 N at 190 mm from the axis, r x F."""
    bracket = one_piece(mass_kg=0.0).but(wheel=Wheel(diameter_mm=380.0, station_mm=410.0))
    cases = load_cases(bracket)
    out, pushed = named(cases, f"couple +, pull out at {side}"), named(cases, f"couple -, pull in at {side}")
    agrees(out.rest[2], 300, 1e-12, source="pull of 300 N (common practice)", name="pull along the shaft, N")
    moment = 300.0 * 190.0
    for axis, share in ((3, about_x), (4, about_y)):
        agrees(
            out.rest[axis],
            share * moment,
            1e-9,
            source=STATICS,
            name=f"moment about {'XY'[axis - 3]} of a hand at the rim's {side}, N.mm",
            scale=moment,
        )
    assert np.allclose(pushed.rest[:6], -out.rest[:6])


@pytest.mark.qualitative
def test_an_extra_case_acts_both_ways() -> None:
    extra = ExtraCase(name="kerb", couple_nm=10, force_n=(0, 100, 0), at_mm=(50, 0, 20))
    loads = Loads(couple=StatedCouple(couple_nm=30), extra=(extra,))
    cases = load_cases(one_piece(mass_kg=0.0).but(loads=loads))
    listed, reversed_ = named(cases, "kerb, as listed"), named(cases, "kerb, reversed")
    assert np.allclose(listed.rest[:6], [0, 100, 0, -2000, 0, 15_000])
    assert np.allclose(reversed_.rest[:6], -listed.rest[:6])
    assert not listed.per_couple.any()

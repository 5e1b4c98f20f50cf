"""EN 1993-1-8 tables 3.3 and 3.4 and clause 3.9 (published formulas); figures by independent calculation."""

import pytest

from geometry.bolt_tables import bolt_grade, bolt_size
from geometry.findings_holes import EDGE_SHARE, PITCH_SHARE
from solver.joint_rules import (
    bearing_allowable_n,
    combined_used,
    pull_through_allowable_n,
    shear_allowable_n,
    single_row_bearing_n,
    tension_allowable_n,
)
from tests.validation.reference import agrees

TABLE_3_3 = "EN 1993-1-8 table 3.3 (published)"
TABLE_3_4 = "EN 1993-1-8 table 3.4 (closed form)"
PUBLISHED_3_4 = "EN 1993-1-8 table 3.4 (published)"


@pytest.mark.parametrize(
    ("name", "shear_kn", "tension_kn"),
    [("M6", 7.72, 11.58), ("M8", 14.05, 21.08), ("M10", 22.27, 33.41), ("M12", 32.37, 48.56)],
)
def test_shear_and_tension_8_8(name: str, shear_kn: float, tension_kn: float) -> None:
    # The figures start from stress areas printed to three figures.
    size, grade = bolt_size(name), bolt_grade("8.8")
    shear = shear_allowable_n(grade.alpha_v, grade.design_tensile_mpa, size.stress_area_mm2) / 1000.0
    tension = tension_allowable_n(grade.design_tensile_mpa, size.stress_area_mm2) / 1000.0
    agrees(shear, shear_kn, 0.002, source=TABLE_3_4, name=f"shear through the thread {name} 8.8, kN")
    agrees(tension, tension_kn, 0.002, source=TABLE_3_4, name=f"tension {name} 8.8, kN")


def test_shear_factor_of_10_9() -> None:
    agrees(bolt_grade("8.8").alpha_v, 0.6, 0.0, source=PUBLISHED_3_4, name="alpha_v 8.8")
    agrees(bolt_grade("10.9").alpha_v, 0.5, 0.0, source=PUBLISHED_3_4, name="alpha_v 10.9")


def test_bearing() -> None:
    borne = bearing_allowable_n(800, 410, 10, 6, 11, e1_mm=20, e2_mm=20)
    agrees(borne / 1000.0, 29.82, 0.001, source=TABLE_3_4, name="bearing M10 in 6 mm S275, kN")


def test_combined() -> None:
    size, grade = bolt_size("M10"), bolt_grade("8.8")
    shear = 8000 / shear_allowable_n(grade.alpha_v, grade.design_tensile_mpa, size.stress_area_mm2)
    tension = 12000 / tension_allowable_n(grade.design_tensile_mpa, size.stress_area_mm2)
    used = float(combined_used(shear, tension))
    agrees(used, 0.6158, 0.001, source=TABLE_3_4, name="M10 8.8, 8 kN shear with 12 kN tension, used")


def test_pull_through() -> None:
    borne = pull_through_allowable_n(17.95, 3, 360)
    agrees(borne / 1000.0, 29.23, 0.001, source=TABLE_3_4, name="pull-through M10, 3 mm S235, kN")


def test_least_distances() -> None:
    agrees(10 * EDGE_SHARE, 12, 1e-12, source=TABLE_3_3, name="least e1 and e2 at d0 10, mm")
    agrees(10 * PITCH_SHARE, 24, 1e-12, source=TABLE_3_3, name="least p2 at d0 10, mm")


def test_single_row_in_a_lap_joint() -> None:
    source = "EN 1993-1-8 3.6.1(10) (from memory, to be verified)"
    expected = 1.5 * 410 * 10 * 6 / 1.25
    agrees(
        single_row_bearing_n(410, 10, 6), expected, 1e-12, source=source, name="bearing of a single row, N"
    )


def test_pitch_lowers_bearing() -> None:
    close = bearing_allowable_n(800, 410, 10, 6, 11, e1_mm=40, e2_mm=40, p1_mm=24.2, p2_mm=50)
    expected = (24.2 / 33 - 0.25) * 2.5 * 410 * 10 * 6 / 1.25
    agrees(close, expected, 1e-6, source=TABLE_3_4, name="bearing at least pitch, N")

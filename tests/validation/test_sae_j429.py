"""SAE J429: inch bolts. Stress areas and grade 5 published; grade 8 from memory, to be verified."""

import pytest

from geometry.bolt_tables import bolt_grade, bolt_size
from geometry.units import convert
from tests.validation.reference import agrees

SOURCE = "SAE J429 (published)"
AREA_IN2 = {"1/4-20": 0.0318, "5/16-18": 0.0524, "3/8-16": 0.0775, "7/16-14": 0.1063, "1/2-13": 0.1419}
GRADES_KSI = {
    "grade 5": (85, 120, SOURCE),
    "grade 8": (120, 150, "SAE J429 (from memory, to be verified)"),
}


@pytest.mark.parametrize(("name", "area_in2"), AREA_IN2.items())
def test_stress_area(name: str, area_in2: float) -> None:
    computed = convert(bolt_size(name).stress_area_mm2, "mm2", "in2")
    # Printed to four decimals: half a unit of the last is 0.16 % of the smallest.
    agrees(computed, area_in2, 0.0016, source=SOURCE, name=f"stress area {name}, in2")


@pytest.mark.parametrize(("name", "row"), GRADES_KSI.items())
def test_strengths(name: str, row: tuple[float, float, str]) -> None:
    proof_ksi, tensile_ksi, source = row
    grade = bolt_grade(name)
    agrees(convert(grade.proof_mpa, "MPa", "ksi"), proof_ksi, 1e-6, source=source, name=f"proof {name}, ksi")
    agrees(
        convert(grade.tensile_mpa, "MPa", "ksi"),
        tensile_ksi,
        1e-6,
        source=source,
        name=f"tensile {name}, ksi",
    )

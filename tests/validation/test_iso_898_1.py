"""ISO 898-1:2013 (published): strengths and proof loads; the stress area's own formula for fine pitches."""

import math

import pytest

from geometry.bolt_tables import bolt_grade, bolt_size
from tests.validation.reference import agrees

SOURCE = "ISO 898-1:2013 (published)"
CLOSED_FORM = "pi/4 (d - 0.9382 P)^2 (closed form)"

# Printed to three figures, so half a unit of the last is up to 0.4 %.
STRESS_AREA_MM2 = {"M5": 14.2, "M6": 20.1, "M8": 36.6, "M10": 58.0, "M12": 84.3, "M14": 115.0, "M16": 157.0}
FINE_AREA_MM2 = {"M8x1": 39.17, "M10x1.25": 61.2, "M12x1.25": 92.1, "M14x1.5": 124.5, "M16x1.5": 167.2}
PROOF_KN = {
    "M5": (8.23, 11.8, 13.8),
    "M6": (11.6, 16.7, 19.5),
    "M8": (21.2, 30.4, 35.5),
    "M10": (33.7, 48.1, 56.3),
    "M12": (48.9, 70.0, 81.8),
    "M14": (66.7, 95.5, 112.0),
    "M16": (91.0, 130.0, 152.0),
}
STRENGTHS_MPA = {"8.8": (800, 640, 580), "10.9": (1040, 940, 830), "12.9": (1220, 1100, 970)}


@pytest.mark.parametrize(("name", "area_mm2"), STRESS_AREA_MM2.items())
def test_stress_area(name: str, area_mm2: float) -> None:
    agrees(bolt_size(name).stress_area_mm2, area_mm2, 0.004, source=SOURCE, name=f"stress area {name}, mm2")


@pytest.mark.parametrize(("name", "area_mm2"), FINE_AREA_MM2.items())
def test_fine_pitch_stress_area(name: str, area_mm2: float) -> None:
    agrees(bolt_size(name).stress_area_mm2, area_mm2, 0.001, source=CLOSED_FORM, name=f"A_s {name}, mm2")


@pytest.mark.parametrize("name", PROOF_KN)
@pytest.mark.parametrize(("column", "grade"), list(enumerate(STRENGTHS_MPA)))
def test_proof_load(name: str, column: int, grade: str) -> None:
    proof_kn = bolt_grade(grade).proof_mpa * bolt_size(name).stress_area_mm2 / 1000.0
    agrees(proof_kn, PROOF_KN[name][column], 0.007, source=SOURCE, name=f"proof load {name} {grade}, kN")


@pytest.mark.parametrize(("name", "strengths"), STRENGTHS_MPA.items())
def test_strengths(name: str, strengths: tuple[float, float, float]) -> None:
    grade = bolt_grade(name)
    agrees(grade.tensile_mpa, strengths[0], 0.0, source=SOURCE, name=f"tensile strength {name}, MPa")
    agrees(grade.yield_mpa, strengths[1], 0.0, source=SOURCE, name=f"Rp0.2 {name}, MPa")
    agrees(grade.proof_mpa, strengths[2], 0.0, source=SOURCE, name=f"proof stress {name}, MPa")


def test_stress_diameter_gives_the_stress_area() -> None:
    """The standard defines A_s through the mean of pitch and root diameter."""
    size = bolt_size("M10")
    agrees(
        math.pi / 4.0 * size.stress_diameter_mm**2,
        58.0,
        0.001,
        source=SOURCE,
        name="A_s M10 from d2 and d3, mm2",
    )

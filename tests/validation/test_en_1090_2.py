"""EN 1090-2:2008 table 18 (published) with EN 1993-1-8 3.9: slip."""

import pytest

from geometry.bolt_tables import FACE_FRICTION, bolt_grade, bolt_size
from solver.joint_rules import slip_holds_n
from tests.validation.reference import agrees

SOURCE = "EN 1090-2:2008 table 18 (published)"
CLOSED_FORM = "EN 1993-1-8 3.9 (closed form)"
GAMMA_M3 = 1.25
"""Of EN 1993-1-8; the program has it in what is asked (`limits.slip_factor`)."""

# M20 is outside the program's tables: stress area printed in ISO 898-1.
M20_10_9_N = 0.7 * 1000.0 * 245.0


@pytest.mark.parametrize(("word", "friction"), [("A", 0.5), ("B", 0.4), ("C", 0.3), ("D", 0.2)])
def test_slip_classes(word: str, friction: float) -> None:
    agrees(FACE_FRICTION[word][1], friction, 0.0, source=SOURCE, name=f"friction of class {word}")


def test_two_faces() -> None:
    held = 2.0 * float(slip_holds_n(M20_10_9_N, 0.4)) / GAMMA_M3
    agrees(held / 1000.0, 109.76, 0.0005, source=CLOSED_FORM, name="M20 10.9, mu 0.4, n 2, kN")


def test_with_tension() -> None:
    held = float(slip_holds_n(M20_10_9_N, 0.4, 50_000)) / GAMMA_M3
    agrees(held / 1000.0, 42.08, 0.0005, source=CLOSED_FORM, name="M20 10.9 with F_t 50, kN")


def test_m10() -> None:
    size, grade = bolt_size("M10"), bolt_grade("8.8")
    preload = 0.7 * grade.design_tensile_mpa * size.stress_area_mm2
    agrees(preload / 1000.0, 32.5, 0.002, source=CLOSED_FORM, name="0.7 f_ub A_s M10 8.8, kN")
    held = float(slip_holds_n(preload, 0.2)) / GAMMA_M3
    agrees(held / 1000.0, 5.20, 0.001, source=CLOSED_FORM, name="M10 8.8, mu 0.2, n 1, kN")

"""EN 1090-2:2008 table 18 (published) with EN 1993-1-8 3.9: slip."""

import math

import pytest

from geometry.bolt_tables import bolt_grade, bolt_size
from solver.joint_rules import PRELOAD_FACTOR, SLIP_CLASSES, slip, standard_preload_n
from tests.validation.reference import agrees

pytestmark = pytest.mark.reference

SOURCE = "EN 1090-2:2008 table 18 (published)"
CLOSED_FORM = "EN 1993-1-8 3.9 (closed form)"

# M20 is outside the program's tables: stress area printed in ISO 898-1.
M20_10_9_N = PRELOAD_FACTOR * 1000.0 * 245.0


@pytest.mark.parametrize(("word", "friction"), [("A", 0.5), ("B", 0.4), ("C", 0.3), ("D", 0.2)])
def test_slip_classes(word: str, friction: float) -> None:
    agrees(SLIP_CLASSES[word], friction, 0.0, source=SOURCE, name=f"friction of class {word}")


def test_two_faces() -> None:
    check = slip(1, preload_n=M20_10_9_N, friction=0.4, faces=2)
    agrees(check.allowable / 1000.0, 109.76, 0.0005, source=CLOSED_FORM, name="M20 10.9, mu 0.4, n 2, kN")


def test_with_tension() -> None:
    check = slip(1, preload_n=M20_10_9_N, friction=0.4, tension_n=50_000)
    agrees(check.allowable / 1000.0, 42.08, 0.0005, source=CLOSED_FORM, name="M20 10.9 with F_t 50, kN")


def test_m10() -> None:
    preload = standard_preload_n(bolt_size("M10"), bolt_grade("8.8"))
    check = slip(1, preload_n=preload, friction=0.2)
    agrees(check.allowable / 1000.0, 5.20, 0.001, source=CLOSED_FORM, name="M10 8.8, mu 0.2, n 1, kN")
    assert math.isclose(check.demand, 1.0)

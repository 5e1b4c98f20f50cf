"""DIN 6935 (published): deduction v and k; other rows by independent calculation."""

import pytest

from geometry.bend_allowance import bend_allowance, din_k, opening_angle_deg, turned_angle_deg
from tests.validation.reference import agrees

SOURCE = "DIN 6935 (published)"
CLOSED_FORM = "DIN 6935 formula (closed form)"
# opening angle, r, s, v
ROWS = [(90, 3, 3, 5.756), (90, 1.5, 2, 3.721), (90, 4, 3, 6.038), (120, 5, 4, 3.694), (135, 3, 3, 1.849)]


def test_worked_example_with_its_rounded_k() -> None:
    fold = bend_allowance(turned_angle_deg(60), 6, 5, k=0.7 / 2)
    agrees(fold.deduction_mm, 5.77, 0.001, source=SOURCE, name="deduction beta 60, r 6, s 5, k 0.7, mm")
    agrees(fold.flat_length_mm(16, 21), 16 + 21 - 5.77, 0.001, source=SOURCE, name="flat length 16 + 21, mm")


def test_worked_example_k() -> None:
    # The book rounds 0.6896 to 0.7.
    agrees(din_k(6, 5), 0.7, 0.016, source=SOURCE, name="k at r 6, s 5")


@pytest.mark.parametrize(("beta_deg", "r_mm", "s_mm", "deduction_mm"), ROWS)
def test_deduction(beta_deg: float, r_mm: float, s_mm: float, deduction_mm: float) -> None:
    fold = bend_allowance(turned_angle_deg(beta_deg), r_mm, s_mm)
    name = f"deduction beta {beta_deg}, r {r_mm}, s {s_mm}, mm"
    agrees(fold.deduction_mm, deduction_mm, 3e-4, source=CLOSED_FORM, name=name)


def test_k_is_one_above_five() -> None:
    agrees(din_k(5.01, 1), 1.0, 0.0, source=SOURCE, name="k above r/s 5")
    agrees(din_k(1, 1), 0.65, 0.0, source=SOURCE, name="k at r/s 1")


def test_opening_angle_of_a_square_corner() -> None:
    agrees(opening_angle_deg(90), 90, 0.0, source=SOURCE, name="opening angle of a square corner, deg")

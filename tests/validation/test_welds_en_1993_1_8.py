"""Fillet welds, EN 1993-1-8 4.5.3: a tee by the directional and by the simplified method."""

from __future__ import annotations

import pytest

from geometry.materials import material
from solver.weld_throat import (
    correlation_factor,
    equivalent_mpa,
    on_throat,
    simplified_equivalent_mpa,
    throat_strength_mpa,
)
from tests.brackets import WEIGHTLESS_STEEL
from tests.validation.reference import agrees

SOURCE = "EN 1993-1-8 4.5.3, worked by an independent calculation (published)"
TABLE = "EN 1993-1-8 table 4.1 (published)"

THROAT_MM, LENGTH_MM = 5.0, 100.0
ACROSS_N, ALONG_N = 100_000.0, 60_000.0
"""S235 tee with a weld on either side; both forces are shared by the two."""


def test_directional_method() -> None:
    line = (ALONG_N / (2 * LENGTH_MM), ACROSS_N / (2 * LENGTH_MM), 0.0)
    allowed, _ = throat_strength_mpa(material("S235"), 10.0)
    stress = float(equivalent_mpa(*on_throat(*line, THROAT_MM)))
    agrees(stress / allowed, 0.4875, 1e-3, source=SOURCE, name="tee 2 x a5, directional, used")


def test_simplified_method() -> None:
    line = (ALONG_N / (2 * LENGTH_MM), ACROSS_N / (2 * LENGTH_MM), 0.0)
    allowed, _ = throat_strength_mpa(material("S235"), 10.0)
    stress = float(simplified_equivalent_mpa(*line, THROAT_MM))
    agrees(stress / allowed, 0.5611, 1e-3, source=SOURCE, name="tee 2 x a5, simplified, used")


@pytest.mark.parametrize(("steel", "published"), [("S235", 0.80), ("S275", 0.85), ("S355", 0.90)])
def test_correlation_factor(steel: str, published: float) -> None:
    factor = correlation_factor(material(steel), 6.0)
    agrees(factor, published, 1e-9, source=TABLE, name=f"beta_w of {steel}")
    assert correlation_factor(material(steel), 2.0) == factor


@pytest.mark.qualitative
def test_a_steel_of_ones_own_gains_nothing_by_its_name() -> None:
    own = WEIGHTLESS_STEEL.but(name="S235", yield_mpa=450, tensile_mpa=600)
    other = own.but(name="plough steel")
    mine, same = (throat_strength_mpa(material(m.name, (m,)), 6.0) for m in (own, other))
    assert mine == same
    assert mine[0] == pytest.approx(600.0 / 1.25)


@pytest.mark.qualitative
def test_weaker_weld_metal_governs() -> None:
    steel = material("S355")
    whole, less = throat_strength_mpa(steel, 6.0), throat_strength_mpa(steel, 6.0, 400.0)
    assert less[0] < whole[0]
    assert less[1] < whole[1]
    assert throat_strength_mpa(steel, 6.0, 600.0) == whole

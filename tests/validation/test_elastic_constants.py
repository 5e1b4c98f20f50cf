"""Elastic constants as the Eurocodes give them (from memory, to be verified)."""

import pytest

from geometry.materials import material
from tests.validation.reference import agrees

SOURCE = "EN 1993-1-1, EN 1993-1-4, EN 1999-1-1 (from memory, to be verified)"


@pytest.mark.parametrize(
    ("name", "modulus_mpa", "poisson"),
    [("S235", 210_000, 0.3), ("A36", 210_000, 0.3), ("1.4301", 200_000, 0.3), ("6061-T6", 70_000, 0.33)],
)
def test_constants(name: str, modulus_mpa: float, poisson: float) -> None:
    metal = material(name)
    agrees(metal.elastic_modulus_mpa, modulus_mpa, 0.0, source=SOURCE, name=f"E {name}, MPa")
    agrees(metal.poisson, poisson, 0.0, source=SOURCE, name=f"nu {name}")

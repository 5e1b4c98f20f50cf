"""ASTM A36 (published)."""

from geometry.materials import material
from tests.validation.reference import agrees

SOURCE = "ASTM A36 (published)"


def test_strength() -> None:
    metal = material("A36")
    computed = metal.yield_mpa(6), metal.tensile_mpa(6)
    assert computed[0] is not None
    assert computed[1] is not None
    agrees(computed[0], 250, 0.0, source=SOURCE, name="yield A36, MPa")
    agrees(computed[1], 400, 0.0, source=SOURCE, name="tensile A36, MPa")

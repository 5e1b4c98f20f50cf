"""EN 10088-2: 1.4301 stainless sheet (from memory, to be verified)."""

from geometry.materials import material
from tests.validation.reference import agrees

SOURCE = "EN 10088-2 (from memory, to be verified)"


def test_strength() -> None:
    metal = material("1.4301")
    computed = metal.yield_mpa(4), metal.tensile_mpa(4)
    assert computed[0] is not None
    assert computed[1] is not None
    agrees(computed[0], 210, 0.0, source=SOURCE, name="0.2 % proof stress 1.4301, MPa")
    agrees(computed[1], 520, 0.0, source=SOURCE, name="tensile 1.4301, MPa")

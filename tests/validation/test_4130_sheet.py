"""4130 normalised sheet (published): its strength steps down above 0.187 in."""

import pytest

from geometry.materials import material
from geometry.units import convert
from tests.validation.reference import agrees

SOURCE = "4130 normalised sheet (published)"


@pytest.mark.parametrize(
    ("thickness_in", "yield_ksi", "tensile_ksi"), [(0.125, 75, 95), (0.187, 75, 95), (0.25, 70, 90)]
)
def test_strength(thickness_in: float, yield_ksi: float, tensile_ksi: float) -> None:
    metal = material("4130 normalised")
    computed = metal.yield_mpa(thickness_in * 25.4), metal.tensile_mpa(thickness_in * 25.4)
    assert computed[0] is not None
    assert computed[1] is not None
    at = f"4130 at {thickness_in} in, ksi"
    agrees(convert(computed[0], "MPa", "ksi"), yield_ksi, 1e-6, source=SOURCE, name=f"yield {at}")
    agrees(convert(computed[1], "MPa", "ksi"), tensile_ksi, 1e-6, source=SOURCE, name=f"tensile {at}")

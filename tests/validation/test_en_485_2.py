"""EN 485-2: aluminium sheet. 5083-H111 and 5052-H32 published, 6061-T6 from memory, to be verified."""

import pytest

from geometry.materials import material
from tests.validation.reference import agrees

SOURCE = "EN 485-2 (published)"
MEMORY = "EN 485-2 (from memory, to be verified)"
STRENGTH_MPA = {
    "5083-H111": (125, 275, SOURCE),
    "5052-H32": (130, 210, SOURCE),
    "6061-T6": (240, 290, MEMORY),
}
RADIUS_MULTIPLE = {"5083-H111": {1.5: 1, 3: 1, 6: 1.5}, "5052-H32": {1.5: 1, 3: 1.5, 6: 1.5}}


@pytest.mark.parametrize("name", STRENGTH_MPA)
@pytest.mark.parametrize("thickness_mm", [1, 3, 6.3])
def test_strength(name: str, thickness_mm: float) -> None:
    yield_mpa, tensile_mpa, source = STRENGTH_MPA[name]
    metal = material(name)
    computed = metal.yield_mpa(thickness_mm), metal.tensile_mpa(thickness_mm)
    assert computed[0] is not None
    assert computed[1] is not None
    agrees(computed[0], yield_mpa, 0.0, source=source, name=f"yield {name} {thickness_mm} mm, MPa")
    agrees(computed[1], tensile_mpa, 0.0, source=source, name=f"tensile {name} {thickness_mm} mm, MPa")


@pytest.mark.parametrize("name", RADIUS_MULTIPLE)
def test_least_inside_radius(name: str) -> None:
    """The published 5083 row is temper O, which the standard gives together with H111."""
    for thickness_mm, multiple in RADIUS_MULTIPLE[name].items():
        computed = material(name).least_inside_radius_mm(thickness_mm)
        assert computed is not None
        agrees(
            computed / thickness_mm,
            multiple,
            0.0,
            source=SOURCE,
            name=f"least radius / t {name} {thickness_mm} mm",
        )
